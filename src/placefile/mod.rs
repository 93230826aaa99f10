//! A place file as a checked place; what is wrong is named with its place, month and key.
//!
//! Four forms are read: JSON and TOML with the keys of a place, a table of twelve lines in CSV ([`table`]), and the
//! monthly climatology of a point that NASA POWER gives in CSV ([`power`]). [`export`] writes the first and the third.

pub mod export;
mod power;
mod table;

use std::path::Path;

use serde_json::Value;

use crate::sizing::weather::place::PlaceProblem;
use crate::sizing::{Climate, Place, PlaceError, SizingError};

/// A place file that was not taken: the key that is wrong, and a sentence that says what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{sentence}")]
pub struct PlaceFileError {
    pub code: &'static str,
    pub key: String,
    pub sentence: String,
}

/// What is told beside a file, and goes before what the file says.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Given {
    pub name: Option<String>,
    pub lat_deg: Option<f64>,
    pub lon_deg: Option<f64>,
    pub alt_m: Option<f64>,
    pub utc_offset_h: Option<f64>,
}

/// A place read, and what was taken from where.
#[derive(Debug, Clone)]
pub struct Imported {
    pub climate: Climate,
    pub taken: Vec<String>,
}

/// Reads and checks the place in a file.
pub fn read(path: &Path) -> Result<Climate, PlaceFileError> {
    import(path, &Given::default()).map(|imported| imported.climate)
}

/// The same, with what is told beside it: the ending says whether it is CSV or TOML, anything else is JSON.
pub fn import(path: &Path, given: &Given) -> Result<Imported, PlaceFileError> {
    let file = path.display();
    let text = std::fs::read_to_string(path).map_err(|error| PlaceFileError {
        code: "unreadable",
        key: "place".to_owned(),
        sentence: format!("{file} cannot be read ({}); name a place file", error.kind()),
    })?;
    let ends_in = |ending: &str| path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    // Spreadsheets put a byte-order mark first.
    let text = text.trim_start_matches('\u{feff}');
    let imported = if power::is_power(text) {
        power::read(text, given)
    } else if ends_in("csv") {
        table::read(text, given)
    } else if *given == Given::default() {
        parse(text, ends_in("toml")).map(|climate| Imported { climate, taken: Vec::new() })
    } else {
        Err(PlaceFileError {
            code: "unknown",
            key: "place".to_owned(),
            sentence: "a JSON or TOML place file says its own name and where it lies; leave the options out".to_owned(),
        })
    };
    imported.map_err(|error| PlaceFileError { sentence: format!("{file}: {}", error.sentence), ..error })
}

/// Checks the text of a place file whose name is not known: a table, JSON, or TOML.
pub fn parse_any(text: &str) -> Result<Climate, PlaceFileError> {
    let text = text.trim_start_matches('\u{feff}').trim();
    if power::is_power(text) {
        power::read(text, &Given::default()).map(|imported| imported.climate)
    } else if table::is_table(text) {
        table::read(text, &Given::default()).map(|imported| imported.climate)
    } else {
        parse(text, !text.starts_with('{'))
    }
}

/// Checks the text of a place file.
pub fn parse(text: &str, is_toml: bool) -> Result<Climate, PlaceFileError> {
    // Read as plain values first, so that a key that is missing or unknown can be said with its place and its month.
    let value: Value = if is_toml {
        toml::from_str(text).map_err(|error| form(error.message()))?
    } else {
        serde_json::from_str(text).map_err(|error| form(&error.to_string()))?
    };
    from_value(value)
}

/// Checks a place that was read as plain values.
fn from_value(value: Value) -> Result<Climate, PlaceFileError> {
    let name = value.get("name").and_then(Value::as_str).unwrap_or("?").to_owned();
    if let Some(months) = value.get("months").and_then(Value::as_array) {
        for (month, value) in (1..).zip(months) {
            if let Err(error) = serde_json::from_value::<crate::sizing::weather::place::MonthClimate>(value.clone()) {
                return Err(keyed(&format!("{name}, month {month}"), &error.to_string()));
            }
        }
    }
    let place: Place = serde_json::from_value(value).map_err(|error| keyed(&name, &error.to_string()))?;
    check(place)
}

/// Checks a place that was read from elsewhere.
pub fn check(place: Place) -> Result<Climate, PlaceFileError> {
    Climate::new(place).map_err(|error| sentence(&error))
}

fn form(what: &str) -> PlaceFileError {
    PlaceFileError {
        code: "bad_form",
        key: "place".to_owned(),
        sentence: format!("not a place file ({what}); write it as JSON or TOML with the keys of the README"),
    }
}

/// Serde names the key between back-quotes: "unknown field `x`", "missing field `y`".
fn keyed(place: &str, what: &str) -> PlaceFileError {
    let key = what.split('`').nth(1).unwrap_or("place").to_owned();
    PlaceFileError {
        code: "bad_key",
        sentence: format!("place {place}: {}; correct `{key}`", what.split(", expected").next().unwrap_or(what)),
        key,
    }
}

/// What is wrong with a place, named with it, its month and the key.
pub fn sentence(error: &PlaceError) -> PlaceFileError {
    let month = error.month.map(|month| format!(", month {month}")).unwrap_or_default();
    let key = error.key;
    let what = match &error.problem {
        PlaceProblem::Value(SizingError::OutOfRange { value, low, high, .. }) => {
            format!("{value} is out of range; give {low} to {high}")
        }
        PlaceProblem::Value(other) => format!("{other}; correct it"),
        PlaceProblem::MonthCount(count) => format!("{count} months were given; give twelve, January first"),
        PlaceProblem::MinimumAboveMaximum => "it is above t_max_c; correct one of the two".to_owned(),
        PlaceProblem::AboveExtraterrestrial { h, h0 } => {
            format!("{h} kWh/m2/day is more than reaches the top of the air ({h0:.2}); correct it")
        }
        PlaceProblem::Hidden(code) => format!("it holds a character that nobody sees (U+{code:04X}); take it out"),
        PlaceProblem::NoName => "it is empty; give the place a name".to_owned(),
    };
    let place = if error.place.trim().is_empty() { "?" } else { &error.place };
    let sentence = format!("place {place}{month}: `{key}`: {what}");
    PlaceFileError { code: "bad_value", key: key.to_owned(), sentence }
}

/// A value that cannot be taken, named in the same way.
pub fn refused(place: &str, month: Option<usize>, key: &str, what: &str) -> PlaceFileError {
    let month = month.map(|month| format!(", month {month}")).unwrap_or_default();
    let sentence = format!("place {place}{month}: `{key}`: {what}");
    PlaceFileError { code: "bad_value", key: key.to_owned(), sentence }
}
