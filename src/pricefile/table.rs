//! A price list as one table for a spreadsheet: `part`, `which`, `price`, and beside a pump what its label says. A part
//! without sizes leaves `which` empty; the currency stands in `which`.

use serde_json::{Map, Value, json};

use super::{Fault, PriceFileError, not_a_list};
use crate::table::defused;

const HEAD: [&str; 9] = ["part", "which", "price", "label_v", "flow_l_h", "head_m", "amps", "electronics", "life_h"];

/// Parts that hold something for each of several names.
const TABLES: [&str; 6] = ["panel", "pipe_per_m", "cable_per_m", "breaker", "pump", "petrol"];

/// Whether a text begins as such a table does.
pub(super) fn is_table(text: &str) -> bool {
    text.lines().next().is_some_and(|head| head.to_lowercase().replace([' ', '"'], "").starts_with("part,which,price"))
}

/// Reads the table as plain values.
pub(super) fn read(text: &str) -> Result<Map<String, Value>, PriceFileError> {
    let unreadable = |error: csv::Error| not_a_list(&error.to_string());
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).from_reader(text.as_bytes());
    let head: Vec<String> = reader.headers().map_err(unreadable)?.iter().map(str::to_lowercase).collect();
    let (mut values, mut classes, mut faults) = (Map::new(), Vec::new(), Vec::new());
    for (line, row) in (2..).zip(reader.records()) {
        let row = row.map_err(unreadable)?;
        let cell = |name: &str| {
            let at = head.iter().position(|own| own == name);
            at.and_then(|at| row.get(at)).unwrap_or_default()
        };
        let (part, which, price) = (cell("part"), cell("which"), cell("price"));
        if part.is_empty() {
            continue;
        }
        if part == "pump" && !cell("label_v").is_empty() {
            classes.push(class(which, cell));
        }
        if part == "currency" {
            values.insert(part.to_owned(), json!(which));
        } else if price.is_empty() {
            // A part or a class without a price.
        } else if TABLES.contains(&part) {
            let table = values.entry(part).or_insert_with(|| json!({}));
            if table.get(which).is_some() {
                let sentence = format!("line {line} says it again; leave one of the two out");
                faults.push(Fault { key: format!("{part}.{which}"), sentence });
            }
            table[which] = json!(price);
        } else {
            values.insert(part.to_owned(), json!(price));
        }
    }
    if !classes.is_empty() {
        values.insert("class".to_owned(), Value::Array(classes));
    }
    if faults.is_empty() { Ok(values) } else { Err(PriceFileError(faults)) }
}

fn class<'r>(name: &str, cell: impl Fn(&str) -> &'r str) -> Value {
    // What is no number is left as it is written; the checks say so.
    let number = |key: &str| cell(key).parse::<f64>().map_or_else(|_| json!(cell(key)), |number| json!(number));
    let mut row = json!({ "name": name });
    for key in ["label_v", "flow_l_h", "head_m", "life_h"] {
        row[key] = number(key);
    }
    if !cell("amps").is_empty() {
        row["amps"] = number("amps");
    }
    row["electronics"] = match cell("electronics").to_lowercase().as_str() {
        "yes" | "true" | "1" => json!(true),
        "no" | "false" | "0" | "" => json!(false),
        other => json!(other),
    };
    row
}

/// Writes plain values as the table.
pub(super) fn write(values: &Map<String, Value>) -> Result<String, String> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut line = |cells: [String; 9]| {
        // A currency and a class are called as somebody typed them.
        let cells = cells.map(|cell| defused(&cell).into_owned());
        writer.write_record(cells).map_err(|error| error.to_string())
    };
    let text = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    let short = |part: &str, which: &str, price: String| {
        let mut cells: [String; 9] = Default::default();
        [cells[0], cells[1], cells[2]] = [part.to_owned(), which.to_owned(), price];
        cells
    };
    line(HEAD.map(str::to_owned))?;
    let classes = values.get("class").and_then(Value::as_array).cloned().unwrap_or_default();
    let listed = |name: &str| classes.iter().any(|class| class["name"] == name);
    for (part, value) in values.iter().filter(|(part, _)| *part != "class") {
        match value {
            Value::Object(table) => {
                for (which, price) in table.iter().filter(|(which, _)| part != "pump" || !listed(which)) {
                    line(short(part, which, text(price)))?;
                }
            }
            other if part == "currency" => line(short(part, &text(other), String::new()))?,
            other => line(short(part, "", text(other)))?,
        }
    }
    for class in &classes {
        let name = text(&class["name"]);
        let price = values.get("pump").and_then(|pumps| pumps.get(&name)).map(text).unwrap_or_default();
        let mut cells = short("pump", &name, price);
        for (cell, key) in cells.iter_mut().zip(HEAD).skip(3) {
            *cell = match &class[key] {
                Value::Null => String::new(),
                Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
                Value::Number(number) => number.as_f64().unwrap_or_default().to_string(),
                other => text(other),
            };
        }
        line(cells)?;
    }
    let bytes = writer.into_inner().map_err(|error| error.to_string())?;
    String::from_utf8(bytes).map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    use super::super::{Form, PriceFile, csv, parse_file, toml};
    use crate::demo::PRICES_TOML;
    use crate::sizing::parts::pump_class::starting_classes;

    fn whole() -> PriceFile {
        let prices = parse_file(PRICES_TOML, Form::Toml).unwrap().prices;
        PriceFile { prices, classes: Some(starting_classes()) }
    }

    #[test]
    fn what_is_written_is_read_back_in_every_form() {
        let file = whole();
        for (text, form) in [(csv(&file).unwrap(), Form::Csv), (toml(&file).unwrap(), Form::Toml)] {
            assert_eq!(Form::of(&text), form, "{text}");
            assert_eq!(parse_file(&text, form).unwrap(), file, "{text}");
        }
        let prices_only = PriceFile { classes: None, ..file };
        assert_eq!(parse_file(&csv(&prices_only).unwrap(), Form::Csv).unwrap(), prices_only);
    }

    #[test]
    fn the_list_in_the_readme_is_one() {
        let readme = include_str!("../../README.md");
        let list = readme.split("```toml\n").find(|text| text.starts_with("currency")).unwrap();
        let file = parse_file(list.split("```").next().unwrap(), Form::Toml).unwrap();
        assert_eq!(file.classes.unwrap(), starting_classes()[1..2]);
        assert_eq!(file.prices.pump["small"].to_string(), "22");
    }

    #[test]
    fn every_wrong_key_is_named_at_once() {
        let text = "part,which,price,label_v,flow_l_h,head_m,amps,electronics,life_h\n\
                    currency,,\npanel,50,cheap\npanel,x,3\npipe_per_m,19,-1\nwell,,4\npetrol,pump,180\n\
                    pump,Big One,20,12,90,8,,perhaps,20\npump,big,20,3,90,8,,no,20\n";
        let faults = parse_file(text, Form::Csv).unwrap_err().0;
        let keys: Vec<&str> = faults.iter().map(|fault| fault.key.as_str()).collect();
        for key in [
            "currency",
            "panel.50",
            "panel.x",
            "pipe_per_m.19",
            "well",
            "petrol.fuel_per_l",
            "class Big One",
            "class big.label_v",
            "class big.flow_l_h",
            "class big.life_h",
            "pump.Big One",
        ] {
            assert!(keys.contains(&key), "{key} in {faults:?}");
        }
    }
}
