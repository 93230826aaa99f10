//! A place written in the forms in which it is read.

use serde_json::Value;

use crate::sizing::Place;

/// The keys of a month, in the order in which they are written.
const MONTH_KEYS: [&str; 7] = ["h_kwh_m2_day", "sunshine_h", "t_min_c", "t_max_c", "rh_percent", "u2_m_s", "rain_mm"];

/// A place file in JSON.
pub fn json(place: &Place) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(place).map(|text| text + "\n")
}

/// A table of twelve lines in CSV, the rest of the place in lines of `# key: value` before it.
pub fn csv(place: &Place) -> Result<String, serde_json::Error> {
    let value = serde_json::to_value(place)?;
    let mut text = String::new();
    for (key, value) in value.as_object().into_iter().flatten().filter(|(key, _)| *key != "months") {
        let written = match value {
            // A line ends where the text breaks.
            Value::String(text) => text.split_whitespace().collect::<Vec<_>>().join(" "),
            Value::Array(months) => months.iter().map(Value::to_string).collect::<Vec<_>>().join(" "),
            other => other.to_string(),
        };
        text += &format!("# {key}: {written}\n");
    }
    let months = value["months"].as_array().cloned().unwrap_or_default();
    let keys: Vec<&str> = MONTH_KEYS.into_iter().filter(|key| months.iter().any(|month| !month[key].is_null())).collect();
    text += &format!("month,{}\n", keys.join(","));
    for (number, month) in (1..).zip(&months) {
        let cell = |key: &&str| if month[key].is_null() { String::new() } else { month[key].to_string() };
        text += &format!("{number},{}\n", keys.iter().map(cell).collect::<Vec<_>>().join(","));
    }
    Ok(text)
}
