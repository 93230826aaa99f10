//! Rows in and out of CSV, JSON Lines and workbooks, one at a time where the form allows it.

mod book;
mod guess;
mod parcel;
mod rows;
mod write;

use std::io::Read;

use serde_json::{Map, Value};

pub use write::{Writer, defused};

use crate::printable::hidden_in;

/// A row: its cells by their columns, in the order of the file.
pub type Cells = Map<String, Value>;

/// One row, or what is wrong with it.
pub struct Row {
    pub cells: Cells,
    pub problem: Option<String>,
}

/// The form of a table, by the ending of its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Csv,
    Jsonl,
    Xlsx,
}

/// No row is longer, octets: a quote that is never closed would take in the rest of the file.
pub const ROW_MOST: usize = 1024 * 1024;

/// No table has more columns; every row has a cell for each.
pub const COLUMNS_MOST: usize = 200;

#[derive(Debug, thiserror::Error)]
pub enum TableError {
    #[error("the file cannot be read ({0}); send CSV, JSON Lines or XLSX")]
    Unreadable(String),
    #[error("the file is empty; put the names of the columns into its first row")]
    Empty,
    #[error("two columns are called `{0}`; give each a name of its own")]
    Twice(String),
    #[error("the name of column {0} holds a character that nobody sees, such as a line end; write it anew")]
    HiddenName(usize),
    #[error("there are more than {COLUMNS_MOST} columns; take out those that nobody needs")]
    TooManyColumns,
    #[error("a workbook is unpacked while it is read, and this one {0}; save it as CSV, which may be of any length")]
    BookTooLarge(String),
    #[error("a workbook holds no more than {0} rows; write CSV or JSON Lines")]
    BookFull(u32),
    #[error("nothing more can be written ({0}); make room and start again")]
    Unwritable(String),
}

impl Kind {
    /// By the ending of a name.
    pub fn of(name: &str) -> Option<Self> {
        match name.rsplit_once('.')?.1.to_ascii_lowercase().as_str() {
            "csv" => Some(Self::Csv),
            "jsonl" | "ndjson" => Some(Self::Jsonl),
            "xlsx" => Some(Self::Xlsx),
            _ => None,
        }
    }
}

/// A table being read: the columns of its head (none ahead of JSON Lines), and its rows.
pub struct Table {
    pub columns: Vec<String>,
    pub rows: Box<dyn Iterator<Item = Row>>,
    /// What was seen of its form, for whoever brought it.
    pub notes: Vec<String>,
}

/// Opens a table. CSV and JSON Lines are read row by row; of a workbook the first sheet is taken.
pub fn read(kind: Kind, from: impl Read + 'static) -> Result<Table, TableError> {
    match kind {
        Kind::Csv => rows::read_csv(from),
        Kind::Jsonl => Ok(rows::read_jsonl(from)),
        Kind::Xlsx => book::read(from),
    }
}

fn unreadable(error: &impl ToString) -> TableError {
    TableError::Unreadable(error.to_string())
}

/// Names of columns, without the mark that some programs put before the first.
fn head(names: impl Iterator<Item = String>) -> Result<Vec<String>, TableError> {
    let mut columns: Vec<String> = Vec::new();
    for (index, name) in names.enumerate() {
        let name = name.trim_start_matches('\u{feff}').trim().to_owned();
        let name = if name.is_empty() { format!("column {}", index + 1) } else { name };
        if hidden_in(&name).is_some() {
            return Err(TableError::HiddenName(index + 1));
        }
        if columns.contains(&name) {
            return Err(TableError::Twice(name));
        }
        columns.push(name);
        if columns.len() > COLUMNS_MOST {
            return Err(TableError::TooManyColumns);
        }
    }
    if columns.is_empty() { Err(TableError::Empty) } else { Ok(columns) }
}

fn row_of(columns: &[String], cells: Vec<String>) -> Row {
    let problem = (cells.len() > columns.len()).then(|| {
        format!("the row has {} cells and the head {}; put texts with commas into quotes", cells.len(), columns.len())
    });
    let mut cells = cells.into_iter();
    let cells = columns.iter().map(|name| (name.clone(), Value::String(cells.next().unwrap_or_default())));
    Row { cells: cells.collect(), problem }
}

/// A cell as a text.
pub fn plain(value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(text)) => text.clone(),
        Some(other) => other.to_string(),
    }
}

#[cfg(test)]
mod tests;
