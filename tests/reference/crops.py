"""The lines of FAO-56 (1998) tables 11, 12 and 22 for the crops known, as a public library holds them.

Writes crops.json beside itself. Not needed to run the tests.

Made with Python 3.11, pyfao56 1.4.3:
    pip install pyfao56 && python crops.py

That library puts the middle of a range in place of it; a line that a table lacks is null. Each crop is named with its row of
table 11 (with the total, as a crop has several), of table 12 and of table 22.
"""
import json
import pathlib

from pyfao56.tools.tables import FAO56Tables

HERE = pathlib.Path(__file__).parent
ROWS = {
    "tomato": (("tomato", 135, "arid region"), "tomato", "tomato"),
    "onion": (("onion dry", 150, None), "onions dry", "onions dry"),
    "green_onion": (("onion green", 70, None), "onions green", "onoins green"),
    "cabbage": (("crucifers", 80, None), "cabbage", "cabbage"),
    "carrot": (("carrots", 100, None), "carrots", "carrots"),
    "pepper": (("sweet peppers bell", 125, None), "sweet peppers bell", "sweet peppers bell"),
    "eggplant": (("eggplant", 130, "arid region"), "eggplant", "eggplant"),
    "lettuce": (("lettuce", 100, "arid region"), "lettuce", "lettuce"),
    "spinach": (("spinach", 65, None), "spinach", "spinach"),
    "cucumber": (("cucumber", 105, None), "cucumber fresh market", "cucumber fresh market"),
    "watermelon": (("water melons", 110, None), "watermelon", "watermelon"),
    "sweet_melon": (("sweet melons", 120, None), "sweet melons", "sweet melons"),
    "pumpkin": (("pumpkin winter squash", 100, None), "pumpkin winter squash", "pumpkin winter squash"),
    "squash": (("squash zucchini", 100, None), "squash zucchini", "squash zucchini"),
    "green_bean": (("beans green", 90, None), "beans green", "beans green"),
    "dry_bean": (("beans dry", 110, None), "beans dry pulses", "beans dry pulses"),
    "groundnut": (("groundnut", 130, None), "groundnut peanut", "groundnut peanut"),
    "soybean": (("soybeans", 85, None), "soybeans", "soybeans"),
    "maize": (("maize grain", 125, None), "maize field grain corn harvested wet", "maize field grain corn"),
    "sweet_maize": (("maize sweet", 80, None), "maize sweet corn fresh", "maize sweet corn"),
    "sorghum": (("sorghum", 130, None), "sorghum grain", "sorghum grain"),
    "millet": (("millet", 105, None), "millet", "millet"),
    "potato": (("potato", 125, None), "potato", "potato"),
    "sweet_potato": (("sweet potato", 125, None), "sweet potato", "sweet potato"),
    "cassava": (("cassava year 1", 210, None), "cassava year 1", "cassava year 1"),
    "cassava_second_year": (("cassava year 2", 360, None), "cassava year 2", "cassava year 2"),
    "banana": (("banana first year", 390, None), "banana first year", "banana first year"),
    "banana_second_year": (("banana second year", 365, None), "banana second year", "banana second year"),
    "sugar_cane": (("sugarcane virgin", 405, None), "sugarcane", "sugarcane"),
    "pineapple": (("pineapple", 790, None), "pineapple with grass cover", "pineapple"),
    "broccoli": (("broccoli", 135, None), "broccoli", "broccoli"),
    "cauliflower": (("cauliflower", 140, None), "cauliflower", "cauliflower"),
    "celery": (("celery", 180, None), "celery", "celery"),
    "turnip": (None, "turnip rutabaga", "turnip rutabaga"),
    "strawberry": (None, "strawberries", "strawberries"),
    "coffee": (None, "coffee with weeds", "coffee"),
    "citrus": (None, "citrus active ground cover or weeds 70% canopy", "citrus 70% canopy"),
    "avocado": (None, "avocado no ground cover", "avocado"),
    "alfalfa": (None, "alfalfa hay averaged cutting effects", "alfalfa for hay"),
}


def number(text):
    return float(text) if text else None


def row_of(table, name, total=None, region=None):
    rows = table[table["Crop"] == name]
    if total is not None:
        rows = rows[rows["Total"] == str(total)]
    if region is not None:
        rows = rows[rows["Region"].str.contains(region)]
    if rows.empty:
        raise SystemExit(f"no row {name} {total} {region} among {sorted(set(table['Crop']))}")
    return rows.iloc[0]


def main():
    tables = FAO56Tables()
    lines = []
    for crop, (eleven, twelve, twenty_two) in ROWS.items():
        days = None
        if eleven:
            row = row_of(tables.table11, *eleven)
            days = [number(row[part]) for part in ("Lini", "Ldev", "Lmid", "Llate")]
        kc = row_of(tables.table12, twelve)
        root = row_of(tables.table22, twenty_two)
        lines.append(json.dumps({
            "name": crop, "days": days, "kc": [number(kc[part]) for part in ("Kcmini", "Kcmmid", "Kcmend")],
            "height_m": number(kc["hmax"]), "root_m": [number(root["Zrmax1"]), number(root["Zrmax2"])], "depletion": number(root["pbase"]),
        }))
    (HERE / "crops.json").write_text("[\n" + ",\n".join(lines) + "\n]\n")


if __name__ == "__main__":
    main()
