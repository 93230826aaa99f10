"""Clear and hazy light on panels at moments of the clock, by pvlib: to compare what a bucket test is judged against.

Writes moments.json beside itself. Not needed to run the tests.

Made with Python 3.11, pandas 2.3.3, pvlib 0.16.1:
    pip install pandas pvlib && python moments.py
"""
import json
import pathlib

import numpy as np
import pandas as pd
import pvlib

PLACES = [  # latitude, longitude, altitude
    (-8.0, 35.0, 1200.0), (12.3714, -1.5197, 305.0), (-33.5, 149.0, 400.0), (27.7, 85.3, 1400.0), (0.5, -77.0, 2800.0),
]
MOMENTS = ["2024-03-20 %02d:30", "2025-06-21 %02d:00", "2026-09-10 %02d:15", "2027-12-21 %02d:45"]
PLANES = [(0.0, 0.0), (20.0, 0.0), (20.0, 180.0), (45.0, 75.0), (45.0, 280.0)]  # tilt, azimuth from north over east


def main():
    rows = []
    for lat, lon, alt in PLACES:
        for moment in MOMENTS:
            for local in (9, 12, 15):
                at = pd.DatetimeIndex([pd.Timestamp(moment % local, tz="UTC") - pd.Timedelta(hours=round(lon / 15))])
                sun = pvlib.solarposition.spa_python(at, lat, lon, altitude=alt, delta_t=None)
                zenith, azimuth = float(sun["zenith"].iloc[0]), float(sun["azimuth"].iloc[0])
                if zenith > 75:
                    continue
                ghi = float(pvlib.clearsky.haurwitz(pd.Series([zenith]))["ghi"].iloc[0])
                dhi = float(pvlib.irradiance.erbs(ghi, zenith, at)["dhi"].iloc[0])
                extra = float(pvlib.irradiance.get_extra_radiation(at).iloc[0])
                for hazy in (False, True):
                    beam = (ghi - dhi) * (0.5 if hazy else 1.0)
                    dni = beam / np.cos(np.radians(zenith))
                    light = [
                        float(pvlib.irradiance.get_total_irradiance(
                            tilt, facing, zenith, azimuth, dni, dhi + beam, dhi, dni_extra=extra, albedo=0.2,
                            model="haydavies")["poa_global"])
                        for tilt, facing in PLANES
                    ]
                    rows.append(dict(lat=lat, lon=lon, alt=alt, at=at[0].isoformat(), zenith=zenith, azimuth=azimuth,
                                     ghi=ghi, hazy=hazy, light=[round(x, 4) for x in light]))
    rows = [{k: (round(v, 6) if isinstance(v, float) else v) for k, v in row.items()} for row in rows]
    text = json.dumps({"planes": PLANES, "rows": rows}, indent=None, separators=(",", ":")).replace("},{", "},\n{")
    pathlib.Path(__file__).with_name("moments.json").write_text(text + "\n")


if __name__ == "__main__":
    main()
