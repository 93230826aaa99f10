"""Medians of the crystalline modules of the California Energy Commission's table, which the engine's generic panel is fitted to.

Writes modules.json beside itself. Not needed to run the tests.

Made with Python 3.11, numpy 2.4.6, pandas 2.3.3, pvlib 0.16.1 (which ships the table):
    pip install numpy pandas pvlib && python modules.py
"""
import json
import pathlib

import pvlib

table = pvlib.pvsystem.retrieve_sam("CECMod").T
table = table[table["Technology"].isin(["Mono-c-Si", "Multi-c-Si"])]
number = lambda name: table[name].astype(float)
cells, isc, voc, imp, vmp = (number(name) for name in ["N_s", "I_sc_ref", "V_oc_ref", "I_mp_ref", "V_mp_ref"])
watts = imp * vmp
kelvin = 298.15
thermal_v = 1.380649e-23 * kelvin / 1.602176634e-19
quantities = {
    "working_v_per_cell": vmp / cells,
    "open_circuit_v_per_cell": voc / cells,
    "watts_per_cell_amp": watts / (cells * isc),
    "ideality": number("a_ref") / (cells * thermal_v),
    "series_share": number("R_s") * isc / voc,
    "shunt_share": number("R_sh_ref") * isc / voc,
    "isc_percent_per_k": 100 * number("alpha_sc") / isc,
    "voc_percent_per_k": 100 * number("beta_oc") / voc,
    "power_percent_per_k": number("gamma_r"),
}
rows = {
    name: {"median": float(f"{values.median():.4g}"), "p10": float(f"{values.quantile(0.1):.4g}"), "p90": float(f"{values.quantile(0.9):.4g}")}
    for name, values in quantities.items()
}
text = json.dumps({"modules": len(table), **rows}, indent=1)
(pathlib.Path(__file__).parent / "modules.json").write_text(text + "\n")
