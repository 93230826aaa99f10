"""Grids of values from well-kept libraries, one physical model each, to compare the engine with.

Writes grids.json beside itself. Not needed to run the tests.

Made with Python 3.11, numpy 2.4.6, scipy 1.17.1, pandas 2.3.3, pvlib 0.16.1, fluids 1.3.1, pyet 1.5.0:
    pip install numpy scipy pandas pvlib fluids pyet && python grids.py

The meeting points are found the long way: scipy.optimize.brentq in speed, and within it brentq in flow, over pvlib's
single diode and fluids' Colebrook.
"""
import itertools
import json
import pathlib

import numpy as np
import pandas as pd
import pvlib
import pyet
from fluids.friction import Clamond
from scipy.optimize import brentq

from engine import HERE, HIGH, HIGHER, LARGE, LARGE_24, MIDDLE, SMALL, TINY, Panel, Pump, friction_factor, pump


def significant(x, digits=10):
    return float(f"{float(x):.{digits}g}")


def poa():
    """zenith, azimuth (north 0, east 90), tilt, plane azimuth, global, diffuse, extraterrestrial normal -> in-plane W/m2."""
    rows = []
    light = [(950.0, 120.0), (600.0, 300.0), (150.0, 150.0)]
    for z, az, tilt, facing, (ghi, dhi) in itertools.product(
        [3.0, 25.0, 48.0, 70.0, 86.0, 88.5], [20.0, 95.0, 181.0, 275.0], [0.0, 12.0, 45.0, 80.0], [0.0, 100.0, 180.0], light
    ):
        # As much light as the sun's height lets through.
        ghi, dhi = ghi * np.cos(np.radians(z)), dhi * np.cos(np.radians(z))
        extra = 1367 * (1 + 0.033 * np.cos(2 * np.pi * (z + az) / 365))
        dni = (ghi - dhi) / np.cos(np.radians(z))
        total = pvlib.irradiance.get_total_irradiance(
            tilt, facing, z, az, dni, ghi, dhi, dni_extra=extra, albedo=0.2, model="haydavies"
        )["poa_global"]
        rows.append([z, az, tilt, facing, significant(ghi), significant(dhi), significant(extra), significant(total)])
    return rows[::3]


def diode():
    """panel watts, cells, irradiance, cell degC, volts -> A; then the greatest power and the open-circuit voltage."""
    points, peaks = [], []
    for watts, cells in [(50, 36), (80, 36), (150, 36), (300, 60), (330, 60), (380, 72)]:
        panel = Panel(watts, cells)
        for g, t in itertools.product([30.0, 200.0, 800.0, 1100.0], [-5.0, 25.0, 70.0]):
            il, i0, rs, rsh, a = panel.parameters(g, t, health=1.0)
            whole = pvlib.pvsystem.singlediode(il, i0, rs, rsh, a)
            peaks.append([watts, cells, g, t, significant(whole["p_mp"]), significant(whole["v_oc"])])
            for share in [0.0, 0.55, 0.8, 0.97]:
                v = significant(share * whole["v_oc"], 6)
                points.append([watts, cells, g, t, v, significant(pvlib.pvsystem.i_from_v(v, il, i0, rs, rsh, a, method="brentq"))])
    return points, peaks


def friction():
    """Reynolds number, relative roughness -> Darcy friction factor by Colebrook."""
    return [[re, ed, significant(Clamond(re, ed))] for re, ed in itertools.product(
        [4e3, 6e3, 1e4, 3e4, 1e5, 5e5, 3e6, 1e8], [0.0, 1e-6, 1.4e-4, 3.7e-4, 2e-3, 8e-3, 5e-2])]


def eto():
    """lat, day of year, altitude, t_min, t_max, vapour kPa, wind, radiation MJ -> ETo mm/day."""
    rows = []
    random = np.random.default_rng(7)
    while len(rows) < 120:
        lat, day, z = random.uniform(-55, 55), int(random.integers(1, 366)), random.uniform(0, 3000)
        t_min = random.uniform(2, 26)
        t_max = t_min + random.uniform(3, 16)
        wind, rh, share = random.uniform(0.3, 6), random.uniform(20, 95), random.uniform(0.3, 0.74)
        index = pd.DatetimeIndex([pd.Timestamp("2022-12-31") + pd.Timedelta(days=day)])
        series = lambda x: pd.Series([float(x)], index=index)
        ra = float(np.asarray(pyet.extraterrestrial_r(index, np.radians(lat))).ravel()[0])
        es = float(pyet.calc_es(tmax=t_max, tmin=t_min))
        lat, z, t_min, t_max, wind, rs, ea = (significant(x, 5) for x in (lat, z, t_min, t_max, wind, share * ra, rh / 100 * es))
        if ra < 8 or ea >= float(pyet.calc_e0(t_max)):
            continue
        value = pyet.pm_fao56(series((t_min + t_max) / 2), series(wind), rs=series(rs), tmax=series(t_max), tmin=series(t_min),
                              elevation=z, lat=np.radians(lat), ea=series(ea))
        rows.append([lat, day, z, t_min, t_max, ea, wind, rs, significant(value.iloc[0], 7)])
    return rows


def meeting():
    """Circuits, each in several lights: in-plane W/m2, cell degC -> speed, litres a minute, amps."""
    circuits = [
        (LARGE, 80, 1, 5.0, 5.0, 40.0, 63.0, 0.04), (LARGE, 100, 1, 4.0, 2.0, 25.0, 38.0, 0.0), (LARGE, 150, 1, 8.0, 1.0, 10.0, 100.0, 0.02),
        (TINY, 50, 1, 1.0, 1.5, 15.0, 25.0, 0.2), (SMALL, 60, 1, 2.5, 3.0, 20.0, 32.0, 0.1), (MIDDLE, 120, 1, 2.0, 0.0, 50.0, 50.0, 0.05),
        (pump(12, 7500, 5.5), 120, 1, 2.0, 4.0, 50.0, 50.0, 0.05), (LARGE_24, 150, 2, 2.0, 6.0, 80.0, 75.0, 0.08),
        (LARGE_24, 300, 1, 2.0, 4.0, 45.0, 63.0, 0.3), (HIGH, 100, 2, 2.0, 16.0, 100.0, 25.0, 0.15), (HIGH, 320, 1, 1.0, 5.0, 60.0, 32.0, 0.0),
        (HIGHER, 380, 2, 2.0, 25.0, 120.0, 38.0, 0.1),
    ]
    rows = []
    for label, watts, series, parallel, static, length, bore, cable in circuits:
        unit, panel = Pump(label), Panel(watts)
        area, d = np.pi * (bore / 1000) ** 2 / 4, bore / 1000

        def head(q):
            v = q / area
            re = 997.0 * v * d / 0.89e-3
            return static + ((friction_factor(re, 0.007 / bore) * length / d + 4) * v * v / (2 * 9.80665) if re > 1e-9 else 0.0)

        def flow(n):
            spare = lambda q: unit.h0 * (n * n - 0.75 * n * q / unit.q0 - 0.25 * (q / unit.q0) ** 2) - head(q)
            return brentq(spare, 0.0, n * unit.q0, xtol=1e-15, rtol=1e-14) if n > 0 and spare(0.0) > 0 else 0.0

        points = []
        for g, t in [(40.0, 20.0), (150.0, 5.0), (300.0, 30.0), (420.0, 40.0), (560.0, 35.0), (700.0, 50.0), (850.0, 60.0), (1000.0, 62.0), (1150.0, 45.0)]:
            il, i0, rs, rsh, a = panel.parameters(g, t)
            if unit.electronics:
                limit = 0.95 * series * parallel * float(pvlib.pvsystem.singlediode(il, i0, rs, rsh, a)["p_mp"])

                def spare(n):
                    i = unit.current(n, flow(n))
                    return limit - i * (unit.voltage(n, i) + i * cable)
                top = 1.0
            else:
                voc = float(pvlib.pvsystem.singlediode(il, i0, rs, rsh, a)["v_oc"])
                top = (voc * series - unit.brush) / unit.e

                def spare(n):
                    i = unit.current(n, flow(n))
                    v = unit.voltage(n, i) + i * cable
                    if v > 1.1 * voc * series:
                        return -i
                    return parallel * float(pvlib.pvsystem.i_from_v(v / series, il, i0, rs, rsh, a)) - i
            if spare(0.0) <= 0:
                n = 0.0
            elif spare(top) >= 0:
                n = top
            else:
                n = brentq(spare, 0.0, top, xtol=1e-12)
            q = flow(n)
            points.append([g, t, significant(n, 8), significant(q * 60000, 8), significant(unit.current(n, q), 8)])
        rows.append({"pump": label, "watts": watts, "series": series, "parallel": parallel, "static_m": static,
                     "pipe_m": length, "bore_mm": bore, "cable_ohm": cable, "points": points})
    return rows


def main():
    points, peaks = diode()
    grids = {"poa": poa(), "diode": points, "peaks": peaks, "friction": friction(), "eto": eto(), "meeting": meeting()}
    lines = [f'"{name}":' + json.dumps(rows, separators=(",", ":")) for name, rows in grids.items()]
    (HERE / "grids.json").write_text("{" + ",\n".join(lines) + "}\n")


if __name__ == "__main__":
    main()
