//! A table of twelve lines.
//!
//! ```text
//! # name: Kito
//! # lat_deg: -8.0
//! # season_months: 6 7 8 9 10
//! month,h_kwh_m2_day,t_min_c,t_max_c,rh_percent,u2_m_s,rain_mm
//! 1,5.3,17,27,78,1.6,180
//! ```
//! Lines of `# key: value` may come first, with the keys of a place file; an empty cell is a value not given.

use serde_json::{Map, Value, json};

use super::{Given, Imported, PlaceFileError, form, from_value, refused};
use crate::atlas::nearest::zone_h;

/// Whether a text is such a table: its first line that is not `#` names the months' column.
pub(super) fn is_table(text: &str) -> bool {
    let head = text.lines().map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'));
    head.is_some_and(|head| head.starts_with("month,"))
}

/// Reads a table; what is told beside it goes before its own lines.
pub(super) fn read(text: &str, given: &Given) -> Result<Imported, PlaceFileError> {
    let mut head = Map::new();
    for line in text.lines().filter_map(|line| line.trim_start().strip_prefix('#')) {
        let Some((key, value)) = line.split_once(':') else { continue };
        head.insert(key.trim().to_owned(), head_value(key.trim(), value.trim()));
    }
    let taken = tell(&mut head, given);
    let name = head.get("name").and_then(Value::as_str).unwrap_or("?").to_owned();
    head.insert("months".to_owned(), Value::Array(months(text, &name)?));
    Ok(Imported { climate: from_value(Value::Object(head))?, taken })
}

/// A value as the place file has it: text, a number, yes or no, a list of months.
fn head_value(key: &str, value: &str) -> Value {
    match key {
        "name" | "source" => json!(value),
        "season_months" => value
            .split([' ', ','])
            .filter(|month| !month.is_empty())
            .map(|month| serde_json::from_str(month).unwrap_or_else(|_| json!(month)))
            .collect(),
        // What is no number and no truth value is named by the place file's own check.
        _ => serde_json::from_str(value).unwrap_or_else(|_| json!(value)),
    }
}

/// Puts what is told in; clocks that nobody told about follow the longitude.
pub(super) fn tell(head: &mut Map<String, Value>, given: &Given) -> Vec<String> {
    if let Some(name) = &given.name {
        head.insert("name".to_owned(), json!(name));
    }
    for (key, value) in [
        ("lat_deg", given.lat_deg),
        ("lon_deg", given.lon_deg),
        ("alt_m", given.alt_m),
        ("utc_offset_h", given.utc_offset_h),
    ] {
        if let Some(value) = value {
            head.insert(key.to_owned(), json!(value));
        }
    }
    let mut taken = Vec::new();
    let lon_deg = head.get("lon_deg").and_then(Value::as_f64).filter(|lon_deg| lon_deg.is_finite());
    if let (false, Some(lon_deg)) = (head.contains_key("utc_offset_h"), lon_deg) {
        let hours = zone_h(lon_deg);
        head.insert("utc_offset_h".to_owned(), json!(hours));
        taken.push(format!("utc_offset_h {hours} from the longitude; give --utc-offset where clocks differ"));
    }
    taken
}

fn months(text: &str, place: &str) -> Result<Vec<Value>, PlaceFileError> {
    let body: String = text
        .lines()
        .filter(|line| !line.trim().is_empty() && !line.trim_start().starts_with('#'))
        .flat_map(|line| [line, "\n"])
        .collect();
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(body.as_bytes());
    let unreadable = |error: csv::Error| form(&error.to_string());
    let keys = reader.headers().map_err(unreadable)?.clone();
    let month_column = keys.iter().position(|key| key == "month").ok_or_else(|| {
        refused(place, None, "month", "there is no such column; begin the table with a line of keys, month first")
    })?;
    let mut months: Vec<Option<Value>> = vec![None; 12];
    for row in reader.records() {
        let row = row.map_err(unreadable)?;
        let number = row.get(month_column).unwrap_or_default();
        let index = number
            .parse()
            .ok()
            .filter(|month| (1..=12).contains(month))
            .ok_or_else(|| refused(place, None, "month", &format!("{number:?} is no month; give 1 to 12")))?;
        let mut month = Map::new();
        for (key, cell) in keys.iter().zip(&row).filter(|(key, cell)| *key != "month" && !cell.is_empty()) {
            let value: f64 =
                cell.parse().ok().filter(|value: &f64| value.is_finite()).ok_or_else(|| {
                    refused(place, Some(index), key, &format!("{cell:?} is no number; write it like 5.3"))
                })?;
            month.insert(key.to_owned(), json!(value));
        }
        if months[index - 1].replace(Value::Object(month)).is_some() {
            return Err(refused(place, Some(index), "month", "it is there twice; keep one line"));
        }
    }
    let missing = months.iter().position(Option::is_none);
    match missing {
        Some(index) => Err(refused(place, Some(index + 1), "month", "it is missing; give twelve lines")),
        None => Ok(months.into_iter().flatten().collect()),
    }
}
