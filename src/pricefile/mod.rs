//! A price list file, TOML, JSON or CSV, checked: what is wrong is named with its key.
//!
//! Beside the prices a file may hold the deployment's classes of pump; one that does not leaves them as they are. Every
//! form, and the desk's too, is read as plain values first ([`value`]), so that all are held against the same checks.

mod table;
pub mod value;

use std::path::Path;

use serde_json::{Map, Value};

use crate::sizing::money::costs::PriceList;
use crate::sizing::parts::pump_class::PumpClass;

/// What is wrong with a key, in a sentence that says what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    pub key: String,
    pub sentence: String,
}

/// A price list that was not taken: every key that is wrong.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", self.sentences())]
pub struct PriceFileError(pub Vec<Fault>);

impl PriceFileError {
    fn sentences(&self) -> String {
        let named = self.0.iter().map(|fault| match fault.key.as_str() {
            "" => fault.sentence.clone(),
            key => format!("`{key}`: {}", fault.sentence),
        });
        named.collect::<Vec<_>>().join("; ")
    }
}

/// Prices, and the classes of pump where the file has them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PriceFile {
    pub prices: PriceList,
    pub classes: Option<Vec<PumpClass>>,
}

/// How a file is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    Toml,
    Json,
    Csv,
}

impl Form {
    /// The form of a text whose name is not known.
    pub fn of(text: &str) -> Self {
        let start = text.trim_start_matches('\u{feff}').trim_start();
        if start.starts_with('{') {
            Self::Json
        } else if table::is_table(start) {
            Self::Csv
        } else {
            Self::Toml
        }
    }
}

fn not_a_list(what: &str) -> PriceFileError {
    PriceFileError(vec![Fault {
        key: String::new(),
        sentence: format!("not a price list ({}); correct it", what.trim_end().replace('\n', " ")),
    }])
}

/// Reads and checks the file; the ending says whether it is JSON or CSV, anything else is TOML.
pub fn read(path: &Path) -> Result<PriceFile, PriceFileError> {
    let file = path.display();
    let whole = |sentence: String| PriceFileError(vec![Fault { key: String::new(), sentence }]);
    let text = std::fs::read_to_string(path)
        .map_err(|error| whole(format!("{file} cannot be read ({}); name a price list", error.kind())))?;
    let ends_in = |ending: &str| path.extension().is_some_and(|own| own.eq_ignore_ascii_case(ending));
    let form = match () {
        () if ends_in("json") => Form::Json,
        () if ends_in("csv") => Form::Csv,
        () => Form::Toml,
    };
    parse_file(&text, form).map_err(|error| whole(format!("{file}: {error}")))
}

/// Checks the text of a price list and gives the prices alone.
pub fn parse(text: &str, is_json: bool) -> Result<PriceList, PriceFileError> {
    parse_file(text, if is_json { Form::Json } else { Form::Toml }).map(|file| file.prices)
}

/// Checks the text of a price list.
pub fn parse_file(text: &str, form: Form) -> Result<PriceFile, PriceFileError> {
    // Spreadsheets put a byte-order mark first.
    let text = text.trim_start_matches('\u{feff}');
    let values: Value = match form {
        Form::Toml => toml::from_str(text).map_err(|error| not_a_list(error.message()))?,
        Form::Json => serde_json::from_str(text).map_err(|error| not_a_list(&error.to_string()))?,
        Form::Csv => Value::Object(table::read(text)?),
    };
    value::check(&values)
}

/// Prices and classes as plain values, in the form that is read; what is not stated is left out.
pub fn values_of(file: &PriceFile) -> Result<Map<String, Value>, serde_json::Error> {
    let Value::Object(mut values) = serde_json::to_value(&file.prices)? else { return Ok(Map::new()) };
    // Numbers of a price are written as text, so that they keep their digits.
    values.retain(|_, value| !value.is_null() && value.as_object().is_none_or(|table| !table.is_empty()));
    if let Some(classes) = &file.classes {
        let classes = classes.iter().map(value::row_of).collect::<Result<Vec<Value>, _>>()?;
        values.insert("class".to_owned(), Value::Array(classes));
    }
    Ok(values)
}

/// The file in TOML.
pub fn toml(file: &PriceFile) -> Result<String, String> {
    let values = values_of(file).map_err(|error| error.to_string())?;
    toml::to_string(&values).map_err(|error| error.to_string())
}

/// The file in CSV, for a spreadsheet.
pub fn csv(file: &PriceFile) -> Result<String, String> {
    table::write(&values_of(file).map_err(|error| error.to_string())?)
}
