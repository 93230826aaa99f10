"""A second, independent computation of a season's sizing, to compare the engine with.

Writes engine.json beside itself. Not needed to run the tests.

Made with Python 3.11, numpy 2.4.6, scipy 1.17.1, pandas 2.3.3, pvlib 0.16.1, fluids 1.3.1, pyet 1.5.0:
    pip install numpy scipy pandas pvlib fluids pyet && python engine.py

What comes from where: hourly and tilted radiation arithmetic pvlib.irradiance (haydavies, aoi), single diode
pvlib.pvsystem (calcparams_desoto, i_from_v, singlediode), cell temperature pvlib.temperature.faiman, friction factor
fluids.friction.Clamond (the Colebrook equation to machine precision), evapotranspiration pyet.pm_fao56, roots
scipy.optimize.elementwise.find_root. Daily diffuse, r_t, r_d, day types: Duffie & Beckman, 4th ed., sections 2.9-2.13.
"""
import json
import pathlib

import numpy as np
import pandas as pd
import pvlib
import pyet
from fluids.friction import Clamond
from scipy.optimize.elementwise import find_root

HERE = pathlib.Path(__file__).parent
MEAN_DAY = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344]
MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
PROBABILITIES = np.arange(10) / 10 + 0.05
STEPS = (np.arange(96) + 0.5) / 4  # solar hours
GSC = 1367.0
RHO, MU, G = 997.0, 0.89e-3, 9.80665
HEIGHT = {"mixed_vegetables": 0.4, "tomato": 0.6, "onion": 0.4, "cabbage": 0.4, "maize": 2.0, "lettuce": 0.3, "potato": 0.6, "groundnut": 0.4}
KC = {"mixed_vegetables": 1.05, "tomato": 1.15, "onion": 1.05, "cabbage": 1.05, "maize": 1.20, "lettuce": 1.00, "potato": 1.15, "groundnut": 1.15}
EFFICIENCY = {"furrow": 0.60, "hose": 0.70, "sprinkler": 0.75, "drip": 0.90, "tape": 0.90}
OUTLET_M = {"furrow": 0.0, "hose": 0.0, "drip": 2.0, "tape": 8.0, "sprinkler": 15.0}
BORES = [19, 25, 32, 38, 50, 63, 75, 100]
WIRES = {1.5: (12.1, 15), 2.5: (7.41, 21), 4: (4.61, 28), 6: (3.08, 36), 10: (1.83, 50), 16: (1.15, 66)}
BREAKERS = [6, 10, 13, 16, 20, 25, 32, 40, 50, 63]


# ---- sun and sky -------------------------------------------------------------------------------------------------

def declination(n):
    return np.radians(23.45 * np.sin(2 * np.pi * (284 + n) / 365))


def sunset(lat, dec):
    return np.arccos(np.clip(-np.tan(lat) * np.tan(dec), -1, 1))


def extraterrestrial_normal(n):
    return GSC * (1 + 0.033 * np.cos(2 * np.pi * n / 365))


def h0_kwh(lat, n):
    dec = declination(n)
    ws = sunset(lat, dec)
    return 24 / np.pi * extraterrestrial_normal(n) * (np.cos(lat) * np.cos(dec) * np.sin(ws) + ws * np.sin(lat) * np.sin(dec)) / 1000


def sun_position(lat, dec, hour):
    """Zenith and azimuth (from north over east) in degrees at a solar hour."""
    w = np.radians(15 * (np.asarray(hour) - 12))
    east, north = -np.cos(dec) * np.sin(w), np.cos(lat) * np.sin(dec) - np.sin(lat) * np.cos(dec) * np.cos(w)
    up = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(w)
    return np.degrees(np.arccos(np.clip(up, -1, 1))), np.degrees(np.arctan2(east, north)) % 360


def day_clearness(kt):
    """Clearness of the ten equally likely day types of a month."""
    kmin, kmax = 0.05, 0.6313 + 0.267 * kt - 11.9 * (kt - 0.75) ** 8
    xi = (kmax - kmin) / (kmax - kt)
    gamma = -1.498 + (1.184 * xi - 27.182 * np.exp(-1.5 * xi)) / (kmax - kmin)
    return np.log((1 - PROBABILITIES) * np.exp(gamma * kmin) + PROBABILITIES * np.exp(gamma * kmax)) / gamma


def daily_diffuse_fraction(k, ws):
    if np.degrees(ws) <= 81.4:
        return np.where(k < 0.715, 1 - 0.2727 * k + 2.4495 * k**2 - 11.9514 * k**3 + 9.3879 * k**4, 0.143)
    return np.where(k < 0.722, 1 + 0.2832 * k - 2.5557 * k**2 + 0.8448 * k**3, 0.175)


def ratios(ws, hour):
    """r_t and r_d as densities, whatever their sum."""
    w = np.radians(15 * (np.asarray(hour) - 12))
    up = np.where(np.abs(w) < ws, np.cos(w) - np.cos(ws), 0.0)
    a = 0.409 + 0.5016 * np.sin(ws - np.pi / 3)
    b = 0.6609 - 0.4767 * np.sin(ws - np.pi / 3)
    return (a + b * np.cos(w)) * up, up


def stance_at(stance, lat_deg, dec, hour):
    """Tilt and azimuth at each hour."""
    hour = np.asarray(hour)
    if stance["kind"] == "flat":
        return np.zeros_like(hour), np.zeros_like(hour)
    if stance["kind"] == "fixed":
        return np.full_like(hour, stance["tilt_deg"]), np.full_like(hour, 180.0 if lat_deg > 0 else 0.0)
    faced = np.where(hour < 10, 8.5, np.where(hour < 14, 12.0, 15.5))
    zenith, azimuth = sun_position(np.radians(lat_deg), dec, faced)
    return np.minimum(zenith, stance["tilt_deg"]), azimuth


def plane(ghi, dhi, zenith, azimuth, tilt, surface_azimuth, extra):
    """Hay-Davies on the tilted plane, W/m2."""
    cosz = np.cos(np.radians(zenith))
    dni = (ghi - dhi) / np.maximum(cosz, np.cos(np.radians(89)))
    sky = pvlib.irradiance.haydavies(tilt, surface_azimuth, dhi, dni, extra, zenith, azimuth)
    beam = dni * np.maximum(np.cos(np.radians(pvlib.irradiance.aoi(tilt, surface_azimuth, zenith, azimuth))), 0)
    ground = pvlib.irradiance.get_ground_diffuse(tilt, ghi, albedo=0.2)
    return np.where(cosz < 0.01, 0.0, beam + sky + ground)


def month_sky(lat_deg, month, weather, stance):
    """In-plane irradiance and cell temperature: ten day types by 96 steps, and at the ten solar noons."""
    n = MEAN_DAY[month - 1]
    lat, dec = np.radians(lat_deg), declination(n)
    ws, h0, extra = sunset(lat, dec), h0_kwh(lat, n), extraterrestrial_normal(n)
    kt = np.clip(weather["h"] / h0, 0.2, 0.75)
    k = day_clearness(kt)
    h = k * h0
    hd = h * daily_diffuse_fraction(k, ws)
    rt, rd = ratios(ws, STEPS)
    total_t, total_d = rt.sum() * 0.25, rd.sum() * 0.25

    def at(hours):
        rt, rd = ratios(ws, hours)
        ghi = 1000 * np.outer(h, rt / total_t)
        dhi = np.minimum(1000 * np.outer(hd, rd / total_d), ghi)
        zenith, azimuth = sun_position(lat, dec, hours)
        tilt, facing = stance_at(stance, lat_deg, dec, hours)
        # No more beam than the air lets through (Meinel & Meinel 1976); what is cut becomes diffuse.
        mass = pvlib.atmosphere.get_relative_airmass(np.minimum(zenith, 90.0), model="kastenyoung1989")
        most = extra * np.where(zenith < 90, 0.7 ** (mass**0.678) * np.cos(np.radians(zenith)), 0.0)
        dhi = np.maximum(dhi, ghi - most)
        poa = plane(ghi, dhi, zenith, azimuth, tilt, facing, extra)
        air = (weather["t_max"] + weather["t_min"]) / 2 + (weather["t_max"] - weather["t_min"]) / 2 * np.cos(2 * np.pi * (hours - 15) / 24)
        cell = pvlib.temperature.faiman(poa, air, weather["u2"], u0=25.0, u1=6.84)
        return poa, cell

    poa, cell = at(STEPS)
    noon_poa, noon_cell = at(np.array([12.0]))
    return {"poa": poa, "cell": cell, "noon_poa": noon_poa[:, 0], "noon_cell": noon_cell[:, 0], "kt": kt}


# ---- panels ------------------------------------------------------------------------------------------------------

class Panel:
    def __init__(self, watts, cells=None):
        self.watts = watts
        self.cells = cells or next((c for most, c in [(220, 36), (330, 60), (400, 72), (440, 54), (500, 60)] if watts <= most), 72)
        self.voc = 0.615 * self.cells
        self.isc = watts / (0.461 * self.cells)
        self.rs = 0.0863 * self.voc / self.isc
        self.rsh = 80 * self.voc / self.isc
        self.a = 0.975 * self.cells * 1.380649e-23 * 298.15 / 1.602176634e-19
        m = np.array([[1, -np.expm1(self.isc * self.rs / self.a)], [1, -np.expm1(self.voc / self.a)]])
        self.il, self.i0 = np.linalg.solve(m, [self.isc + self.isc * self.rs / self.rsh, self.voc / self.rsh])

    def parameters(self, poa, cell, health=0.90):
        return pvlib.pvsystem.calcparams_desoto(
            poa * health, cell, 0.0005 * self.isc, self.a, self.il, self.i0, self.rsh, self.rs, EgRef=1.121, dEgdT=-0.0002677
        )


def split(panel, count, label_v):
    """Series and parallel counts of one pump's panels, whose wiring is not told: any series count, the rest left over."""
    series = min(range(1, count + 1), key=lambda s: (abs(s * 0.492 * panel.cells - 1.4 * label_v), s))
    return series, count // series


# ---- pump and pipe -----------------------------------------------------------------------------------------------

class Pump:
    def __init__(self, label):
        self.label_v, self.electronics = label["label_v"], label["electronics"]
        self.vr = self.label_v if self.electronics else self.label_v * 13.6 / 12
        q_label, h_label = label["flow_l_h"] / 3.6e6, label["head_m"]
        x = (-1.5 + np.sqrt(2.25 + 3)) / 1.5
        hydraulic = RHO * G * q_label * h_label * x * (1 - 0.75 * x - 0.25 * x * x)
        efficiency = min(0.45, 0.42 * (hydraulic / 92) ** 0.40)
        self.ir = label["amps"] if label["amps"] else hydraulic / (efficiency * self.vr)
        self.q0, self.h0 = 0.85 * q_label, 0.85 * h_label
        self.brush = 0.0 if self.electronics else 1.0
        self.r = 0.12 * self.vr / self.ir
        self.e = self.vr - self.brush - self.ir * self.r

    def current(self, n, q):
        return self.ir * (0.08 + 0.92 * (0.45 * n**2 + 0.55 * n * q / self.q0))

    def voltage(self, n, i):
        return self.brush + i * self.r + self.e * n


def friction_factor(re, ed):
    if re < 2300:
        return 64 / re
    if re > 4000:
        return Clamond(re, ed)
    return np.interp(re, [2300, 4000], [64 / 2300, Clamond(4000.0, ed)])


class Pipe:
    def __init__(self, length, bore_mm, roughness_mm=0.007, k=3.0):
        self.length, self.d, self.ed, self.k = length, bore_mm / 1000, roughness_mm / bore_mm, k

    def loss(self, q):
        q = np.asarray(q, float)
        v = q / (np.pi * self.d**2 / 4)
        f = np.vectorize(lambda re: friction_factor(re, self.ed) if re > 1e-9 else 0.0, otypes=[float])(RHO * v * self.d / MU)
        return (f * self.length / self.d + self.k + 1) * v**2 / (2 * G)


class Set:
    """One pump with its pipe, its cable and its share of the array."""

    def __init__(self, panel, series, parallel_share, pump, pipe, static_m, cable_ohm):
        self.panel, self.series, self.parallel, self.pump, self.pipe = panel, series, parallel_share, pump, pipe
        self.static, self.cable = static_m, cable_ohm

    def speed_at(self, q):
        """Speed at which pump and pipe agree on q: the positive root of h0 n^2 - 0.75 h0 x n - 0.25 h0 x^2 - H = 0."""
        p = self.pump
        x, head = q / p.q0, self.static + self.pipe.loss(q)
        b, c = -0.75 * p.h0 * x, -(0.25 * p.h0 * x * x + head)
        return (-b + np.sqrt(b * b - 4 * p.h0 * c)) / (2 * p.h0)

    def meet(self, poa, cell):
        """Speed, flow (m3/s), pump current and voltage for arrays of irradiance and cell temperature."""
        poa, cell = np.asarray(poa, float), np.asarray(cell, float)
        shape, lit = poa.shape, poa.ravel() > 0
        il, i0, rs, rsh, a = self.panel.parameters(np.where(lit, poa.ravel(), 1.0), cell.ravel())
        pump = self.pump
        peak = pvlib.pvsystem.singlediode(il, i0, rs, rsh, a)
        limit = 0.95 * peak["p_mp"] * self.series * self.parallel
        roof = np.minimum(1.0, peak["v_mp"] * self.series / pump.vr) if pump.electronics else None
        n_start = float(self.speed_at(np.array(0.0)))

        def spare(n, q, il, i0, a, rsh, limit):
            n = np.asarray(n, float) + np.zeros_like(il)
            i = pump.current(n, q)
            if pump.electronics:
                return limit - (pump.voltage(n, i) * i + i * i * self.cable)
            # Above 1.2 Voc the answer's sign is long settled; the library's exponentials stay finite.
            v = np.minimum(pump.voltage(n, i) + i * self.cable, 1.2 * self.panel.voc * self.series)
            return self.parallel * pvlib.pvsystem.i_from_v(v / self.series, il, i0, self.panel.rs, rsh, a) - i

        args = (il, i0, a, rsh, limit)
        starts = (spare(n_start, 0.0, *args) > 0) & lit
        turns = (spare(0.0, 0.0, *args) > 0) & lit
        n, q = np.zeros(il.shape), np.zeros(il.shape)
        some = turns & ~starts
        if some.any():
            n[some] = find_root(lambda n, *a: spare(n, 0.0, *a), (0.0, n_start), args=tuple(x[some] for x in args)).x
        if starts.any():
            if pump.electronics:
                # The roof is n = 1, or what the array's voltage there allows: such a pump does not raise it.
                starts = starts & (roof > n_start)
                top = np.zeros(il.shape)
                if starts.any():
                    top[starts] = find_root(self.speed_gap, (0.0, 3 * pump.q0), args=(roof[starts],)).x
                full = spare(np.where(starts, roof, 0.0), top, *args) >= 0
                n[starts & full], q[starts & full] = roof[starts & full], top[starts & full]
                starts = starts & ~full
                n_cap = float(top.max())
            else:
                n_cap = 6 * pump.q0
            if starts.any():
                q[starts] = find_root(lambda q, *a: spare(self.speed_at(q), q, *a), (0.0, n_cap), args=tuple(x[starts] for x in args)).x
                n[starts] = self.speed_at(q[starts])
        i = np.where(n > 0, pump.current(n, q), 0.0)
        v = np.where(n > 0, pump.voltage(n, i), 0.0)
        return [z.reshape(shape) for z in (n, q, i, v)]

    def speed_gap(self, q, n):
        return self.speed_at(q) - n


# ---- crop --------------------------------------------------------------------------------------------------------

def fill_weather(place):
    """The twelve months with their gaps filled; radiation in kWh/m2/day, ETo in mm/day."""
    lat = np.radians(place["lat_deg"])
    filled = []
    for m, given in enumerate(place["months"]):
        index = pd.DatetimeIndex([pd.Timestamp("2022-12-31") + pd.Timedelta(days=MEAN_DAY[m])])
        series = lambda x: pd.Series([float(x)], index=index)
        ra = pyet.extraterrestrial_r(index, lat)
        ra_value = float(np.asarray(ra).ravel()[0])
        t_min, t_max = given["t_min_c"], given["t_max_c"]
        rso = (0.75 + 2e-5 * place["alt_m"]) * ra_value
        if given.get("h_kwh_m2_day") is not None:
            rs = given["h_kwh_m2_day"] * 3.6
        elif given.get("sunshine_h") is not None:
            daylight = float(np.asarray(pyet.daylight_hours(index, lat)).ravel()[0])
            rs = (0.25 + 0.50 * given["sunshine_h"] / daylight) * ra_value
        else:
            rs = min((0.19 if place.get("coastal") else 0.16) * np.sqrt(t_max - t_min) * ra_value, rso)
        u2 = given.get("u2_m_s")
        u2 = 2.0 if u2 is None else u2
        kwargs = {} if given.get("rh_percent") is None else {"rh": series(given["rh_percent"])}
        eto = pyet.pm_fao56(
            series((t_min + t_max) / 2), series(u2), rs=series(rs), tmax=series(t_max), tmin=series(t_min),
            elevation=place["alt_m"], lat=lat, **kwargs,
        )
        ea = float(pyet.calc_e0(t_min)) if given.get("rh_percent") is None else given["rh_percent"] / 100 * float(pyet.calc_es(tmax=t_max, tmin=t_min))
        filled.append({"h": rs / 3.6, "t_min": t_min, "t_max": t_max, "u2": u2, "rain": given.get("rain_mm") or 0.0, "eto": float(eto.iloc[0]), "rh_min": 100 * ea / float(pyet.calc_e0(t_max))})
    return filled


def need(crop, watering, weather, month):
    p = weather["rain"]
    effective = p * (125 - 0.2 * p) / 125 if p <= 250 else 125 + 0.1 * p
    kc = KC[crop] + (0.04 * (np.clip(weather["u2"], 1, 6) - 2) - 0.004 * (np.clip(weather["rh_min"], 20, 80) - 45)) * (HEIGHT[crop] / 3) ** 0.3
    return max((kc * weather["eto"] - effective / MONTH_DAYS[month - 1]) / EFFICIENCY[watering], 0.0)


# ---- the season --------------------------------------------------------------------------------------------------

def answer(place, sheet):
    weather = fill_weather(place)
    season = place["season_months"]
    watering, crop = sheet.get("watering", "furrow"), sheet.get("crop", "mixed_vegetables")
    needs = [need(crop, watering, w, m) for m, w in enumerate(weather, 1)]
    kind = sheet.get("stance", "flat")
    tilt = sheet.get("tilt_deg")
    if kind == "fixed" and tilt is None:
        tilt = max(abs(place["lat_deg"]), 10.0)
    if kind == "turned" and tilt is None:
        tilt = 45.0
    stance = {"kind": kind, "tilt_deg": tilt}
    skies = [month_sky(place["lat_deg"], m, w, stance) for m, w in enumerate(weather, 1)]
    pump, count = Pump(sheet["pump"]), sheet.get("pump_count", 1)
    panel = Panel(sheet["panel_w"])
    series, parallel = split(panel, sheet["panel_count"] // count, pump.label_v)
    lift = lambda m: sheet.get("low_m", sheet["lift_m"]) if m in season else sheet["lift_m"]
    cap = sheet["well_l_h"] / 3.6e6 if sheet.get("well_l_h") else np.inf

    def built(m, bore, cable):
        return Set(panel, series, parallel, pump, Pipe(sheet["pipe_m"], bore), lift(m) + OUTLET_M[watering], cable)

    def bright(m, bore, cable):
        unit = built(m, bore, cable)
        n, q, i, v = (float(z) for z in unit.meet(skies[m - 1]["noon_poa"][7], skies[m - 1]["noon_cell"][7]))
        return {"speed": n, "q": q, "pump_a": i, "pump_v": v, "loss": float(unit.pipe.loss(q))}

    thirsty = max(season, key=lambda m: needs[m - 1])
    bore = sheet.get("bore_mm")
    if bore is None:
        bore = next((b for b in BORES if bright(thirsty, b, 0.0)["loss"] <= max(0.5, 0.1 * lift(thirsty))), BORES[-1])

    def months(cable):
        rows = []
        for m in range(1, 13):
            n, q, i, v = built(m, bore, cable).meet(skies[m - 1]["poa"], skies[m - 1]["cell"])
            total = np.minimum(q * count, cap)
            days = np.sort(total.sum(axis=1) * 900)
            water = days.mean()
            rows.append({
                "month": m, "sun_kwh_m2_day": weather[m - 1]["h"], "panel_kwh_m2_day": skies[m - 1]["poa"].sum(axis=1).mean() / 4000,
                "water_m3_day": water, "poor_day_m3": float(np.interp(0.2, PROBABILITIES, days)),
                "pumping_hours": (q > 0).sum(axis=1).mean() / 4, "eto_mm_day": weather[m - 1]["eto"], "need_l_m2_day": needs[m - 1],
                "area_m2": water * 1000 / needs[m - 1] if needs[m - 1] > 0 else None,
            })
        return rows

    def design(rows):
        if sheet.get("month"):
            return sheet["month"]
        return min((m for m in season if rows[m - 1]["area_m2"] is not None), key=lambda m: rows[m - 1]["area_m2"], default=season[0])

    share_isc = panel.isc * parallel
    metres = sheet.get("wire_m", 10.0)
    ohm = lambda size: 2 * metres * WIRES[size][0] / 1000 * (1 + 0.00393 * 30)
    allowed = 0.05 if pump.label_v <= 12 else 0.03
    size = sheet.get("wire_mm2")
    if size is None:
        noon = bright(design(months(0.0)), bore, 0.0)
        fits = lambda s: noon["pump_a"] * ohm(s) <= allowed * noon["pump_v"] and WIRES[s][1] > 1.25 * share_isc
        size = next((s for s in WIRES if fits(s)), 16)
    rows = months(ohm(size))
    month = design(rows)
    noon = bright(month, bore, ohm(size))
    asked = [sheet["month"]] if sheet.get("month") else []
    hardest = max(bright(m, bore, ohm(size))["pump_v"] for m in [*season, *asked])
    area, garden = rows[month - 1]["area_m2"], sheet.get("garden_m2")
    verdict = None
    if garden:
        verdict = "enough" if area is None or area >= 1.1 * garden else "tight" if area >= 0.9 * garden else "short"
    return {
        "bore_mm": bore, "design_month": month, "verdict": verdict, "series": series, "parallel": parallel,
        "over_driven": bool(not pump.electronics and hardest > 1.25 * pump.vr), "unfit": bool(not pump.electronics and hardest > 1.5 * pump.vr),
        "wire": {
            "size_mm2": size, "drop_percent": 100 * noon["pump_a"] * ohm(size) / noon["pump_v"] if noon["pump_v"] else 0.0,
            "breaker_a": next((b for b in BREAKERS if b >= 1.25 * share_isc), None),
        },
        "bright_noon": {
            "flow_l_min": min(noon["q"] * count, cap) * 60000, "head_m": lift(month) + OUTLET_M[watering] + noon["loss"],
            "pipe_loss_m": noon["loss"], "pump_v": noon["pump_v"], "pump_a": noon["pump_a"], "speed": noon["speed"],
        },
        "months": rows,
    }


# ---- cases -------------------------------------------------------------------------------------------------------

def places():
    kito = json.loads((HERE / "../../src/demo/kito.json").read_text())
    month = lambda **k: k
    # Invented places; values plausible for their latitude.
    north = {
        "name": "Dry north", "lat_deg": 13.0, "lon_deg": -2.0, "alt_m": 300, "utc_offset_h": 0, "season_months": [11, 12, 1, 2, 3, 4],
        "months": [month(sunshine_h=s, t_min_c=a, t_max_c=b, rain_mm=r) for s, a, b, r in [
            (9.0, 16, 32, 0), (9.2, 19, 35, 0), (8.8, 23, 38, 5), (8.5, 26, 39, 20), (8.7, 26, 38, 60), (8.3, 24, 35, 110),
            (7.2, 23, 32, 190), (6.5, 22, 31, 260), (7.4, 22, 32, 140), (8.9, 23, 35, 35), (9.3, 19, 35, 1), (9.1, 16, 32, 0)]],
    }
    coast = {
        "name": "Southern coast", "lat_deg": -25.0, "lon_deg": 33.0, "alt_m": 10, "utc_offset_h": 2, "coastal": True,
        "season_months": [4, 5, 6, 7, 8, 9], "months": [month(t_min_c=a, t_max_c=b, rh_percent=h, rain_mm=r) for a, b, h, r in [
            (22, 30, 72, 150), (22, 30, 73, 130), (21, 29.5, 72, 100), (19, 28, 71, 60), (16, 26, 70, 30), (13.5, 25, 69, 20),
            (13, 24.5, 68, 15), (14.5, 25.5, 68, 15), (17, 26.5, 69, 30), (18.5, 27, 70, 55), (20, 28, 71, 90), (21.5, 29.5, 71, 110)]],
    }
    wet = {
        "name": "Wet hills", "lat_deg": 27.5, "lon_deg": 85.0, "alt_m": 1900, "utc_offset_h": 5.75, "season_months": [3, 4, 5],
        "months": [month(h_kwh_m2_day=h, t_min_c=a, t_max_c=b, u2_m_s=u, rain_mm=r) for h, a, b, u, r in [
            (3.9, 2, 17, 0.8, 15), (4.7, 4, 20, 1.0, 20), (5.6, 8, 25, 1.3, 30), (6.2, 12, 28, 1.5, 55), (6.1, 16, 29, 1.4, 120),
            (5.2, 19, 29, 1.2, 270), (4.3, 20, 28, 1.0, 370), (4.4, 20, 28, 0.9, 340), (4.4, 18, 28, 0.8, 200), (4.8, 13, 26, 0.8, 60),
            (4.4, 7, 22, 0.7, 8), (3.8, 3, 18, 0.7, 12)]],
    }
    far = {
        "name": "Far north", "lat_deg": 47.0, "lon_deg": 20.0, "alt_m": 120, "utc_offset_h": 1, "season_months": [5, 6, 7, 8, 9],
        "months": [month(h_kwh_m2_day=h, t_min_c=a, t_max_c=b, rh_percent=rh, u2_m_s=u, rain_mm=r) for h, a, b, rh, u, r in [
            (1.1, -4, 2, 84, 2.4, 32), (1.9, -3, 5, 80, 2.6, 30), (3.2, 1, 11, 72, 2.9, 33), (4.6, 6, 17, 66, 2.8, 42), (5.7, 11, 22, 66, 2.5, 60),
            (6.2, 14, 26, 66, 2.3, 65), (6.3, 15.5, 28, 63, 2.2, 60), (5.5, 15, 27.5, 64, 2.0, 55), (4.0, 11, 23, 70, 2.1, 45), (2.5, 6, 16, 77, 2.1, 40),
            (1.3, 2, 8, 84, 2.3, 48), (0.9, -2, 3, 86, 2.3, 42)]],
    }
    return {p["name"]: p for p in (kito, north, coast, wet, far)}


def pump(volts, flow, head, amps=None, electronics=False):
    return {"label_v": volts, "flow_l_h": flow, "head_m": head, "amps": amps, "electronics": electronics}


TINY, SMALL, MIDDLE, LARGE = pump(12, 2000, 3.5, 3), pump(12, 4500, 4.5, 6), pump(12, 7500, 5.5, 9), pump(12, 14000, 7.5, 15)
LARGE_24, HIGH, HIGHER = pump(24, 14000, 7.5, 7.5), pump(24, 3000, 25, 12, True), pump(48, 6000, 40, 15, True)

CASES = [
    ("plain", "Kito", dict(lift_m=5, pipe_m=40, panel_count=5, panel_w=80, garden_m2=1500, pump=LARGE)),
    ("bore stated, turned", "Kito", dict(lift_m=4, pipe_m=25, bore_mm=50, panel_count=4, panel_w=100, stance="turned", pump=LARGE)),
    ("low water, drip, tomato", "Kito", dict(lift_m=3, low_m=4.5, pipe_m=60, panel_count=6, panel_w=100, watering="drip", crop="tomato", garden_m2=3000, pump=LARGE)),
    ("fixed stance and tilt, month asked", "Kito", dict(lift_m=2.5, pipe_m=30, panel_count=2, panel_w=80, stance="fixed", tilt_deg=15, month=6, crop="cabbage", garden_m2=700, pump=SMALL)),
    ("tiny pump, amps not printed", "Kito", dict(lift_m=1.5, pipe_m=15, panel_count=1, panel_w=50, pump=pump(12, 2000, 3.5), garden_m2=300)),
    ("middle pump, amps not printed, hose", "Kito", dict(lift_m=3, pipe_m=50, panel_count=2, panel_w=120, watering="hose", pump=pump(12, 7500, 5.5))),
    ("24 V, strings of 36", "Kito", dict(lift_m=5, pipe_m=80, panel_count=4, panel_w=150, pump=LARGE_24, garden_m2=4000)),
    ("24 V, 60 cells", "Kito", dict(lift_m=5, pipe_m=45, panel_count=2, panel_w=300, pump=LARGE_24, wire_m=25, crop="onion")),
    ("electronics 24 V", "Kito", dict(lift_m=16, pipe_m=100, panel_count=4, panel_w=100, pump=HIGH, watering="drip", garden_m2=1000)),
    ("electronics 48 V, 72 cells", "Kito", dict(lift_m=25, pipe_m=120, bore_mm=38, panel_count=4, panel_w=380, pump=HIGHER, stance="turned", tilt_deg=30)),
    ("two pumps", "Kito", dict(lift_m=4, pipe_m=40, panel_count=8, panel_w=100, pump=LARGE, pump_count=2, garden_m2=8000)),
    ("two pumps, uneven share", "Kito", dict(lift_m=2, pipe_m=20, panel_count=5, panel_w=60, pump=SMALL, pump_count=2)),
    ("well", "Kito", dict(lift_m=4, pipe_m=30, panel_count=5, panel_w=100, pump=LARGE, well_l_h=4000, garden_m2=1200)),
    ("over-driven", "Kito", dict(lift_m=1, pipe_m=20, panel_count=8, panel_w=120, pump=SMALL, wire_mm2=6)),
    ("month outside the season", "Kito", dict(lift_m=3, low_m=5, pipe_m=30, panel_count=4, panel_w=100, month=4, pump=LARGE)),
    ("thin pipe, thin wire", "Kito", dict(lift_m=5, pipe_m=100, bore_mm=32, panel_count=5, panel_w=80, wire_m=20, wire_mm2=2.5, pump=LARGE)),
    ("sunshine only", "Dry north", dict(lift_m=6, pipe_m=30, panel_count=4, panel_w=150, pump=LARGE, crop="onion", garden_m2=2500)),
    ("sunshine only, fixed by latitude", "Dry north", dict(lift_m=3, pipe_m=50, panel_count=3, panel_w=80, stance="fixed", pump=MIDDLE, crop="lettuce")),
    ("temperatures only, coast", "Southern coast", dict(lift_m=4, pipe_m=40, panel_count=5, panel_w=100, stance="turned", pump=LARGE, crop="potato")),
    ("temperatures only, sprinkler", "Southern coast", dict(lift_m=6, pipe_m=60, panel_count=6, panel_w=100, pump=HIGH, watering="sprinkler", stance="fixed", tilt_deg=30)),
    ("no humidity", "Wet hills", dict(lift_m=3, pipe_m=35, panel_count=3, panel_w=100, pump=MIDDLE, garden_m2=1400)),
    ("no humidity, 24 V, turned", "Wet hills", dict(lift_m=4, low_m=6, pipe_m=200, panel_count=6, panel_w=100, stance="turned", pump=LARGE_24, crop="maize")),
    ("far north, fixed", "Far north", dict(lift_m=4, pipe_m=40, panel_count=5, panel_w=100, stance="fixed", tilt_deg=35, pump=LARGE, garden_m2=4000)),
    ("far north, turned, groundnut", "Far north", dict(lift_m=10, pipe_m=60, panel_count=3, panel_w=320, stance="turned", pump=HIGH, crop="groundnut", garden_m2=2000)),
]


def rounded(value):
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, list):
        return [rounded(v) for v in value]
    if isinstance(value, (bool, str)) or value is None:
        return value
    return float(f"{float(value):.7g}") if not isinstance(value, (int, np.integer)) else int(value)


def main():
    where = places()
    cases = [{"name": name, "place": place, "sheet": sheet, "answer": answer(where[place], sheet)} for name, place, sheet in CASES]
    text = json.dumps({"places": list(where.values()), "cases": rounded(cases)}, separators=(",", ":"))
    (HERE / "engine.json").write_text(text.replace('{"name"', '\n{"name"') + "\n")


if __name__ == "__main__":
    main()
