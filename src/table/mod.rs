//! Rows in and out of CSV, JSON Lines and workbooks, one at a time where the form allows it.

use std::io::{BufRead, BufReader, Cursor, Read, Seek, Write};

use calamine::{Data, Reader, Xlsx};
use rust_xlsxwriter::Workbook;
use serde_json::{Map, Value};

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

#[derive(Debug, thiserror::Error)]
pub enum TableError {
    #[error("the file cannot be read ({0}); send CSV, JSON Lines or XLSX")]
    Unreadable(String),
    #[error("the file is empty; put the names of the columns into its first row")]
    Empty,
    #[error("two columns are called `{0}`; give each a name of its own")]
    Twice(String),
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
}

/// Opens a table. CSV and JSON Lines are read row by row; a workbook is held whole, and its first sheet taken.
pub fn read(kind: Kind, from: impl Read + 'static) -> Result<Table, TableError> {
    match kind {
        Kind::Csv => read_csv(from),
        Kind::Jsonl => Ok(read_jsonl(from)),
        Kind::Xlsx => read_xlsx(from),
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
        if columns.contains(&name) {
            return Err(TableError::Twice(name));
        }
        columns.push(name);
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

fn read_csv(from: impl Read + 'static) -> Result<Table, TableError> {
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(from);
    let lossy = |record: &csv::ByteRecord| -> Vec<String> {
        record.iter().map(|cell| String::from_utf8_lossy(cell).into_owned()).collect()
    };
    let columns = head(lossy(reader.byte_headers().map_err(|error| unreadable(&error))?).into_iter())?;
    let names = columns.clone();
    let rows = reader.into_byte_records().map(move |record| match record {
        Ok(record) => row_of(&names, lossy(&record)),
        Err(error) => Row { cells: Cells::new(), problem: Some(format!("the row cannot be read ({error}); correct it")) },
    });
    Ok(Table { columns, rows: Box::new(rows) })
}

fn read_jsonl(from: impl Read + 'static) -> Table {
    let lines = BufReader::new(from).split(b'\n').filter(|line| {
        // An empty line says nothing.
        line.as_ref().map_or(true, |line| !line.trim_ascii().is_empty())
    });
    let rows = lines.map(|line| {
        let bad =
            |what: String| Row { cells: Cells::new(), problem: Some(format!("not a JSON object ({what}); correct it")) };
        match line.map(|line| serde_json::from_slice::<Cells>(&line)) {
            Ok(Ok(cells)) => Row { cells, problem: None },
            Ok(Err(error)) => bad(error.to_string()),
            Err(error) => bad(error.to_string()),
        }
    });
    Table { columns: Vec::new(), rows: Box::new(rows) }
}

fn read_xlsx(mut from: impl Read) -> Result<Table, TableError> {
    let mut bytes = Vec::new();
    from.read_to_end(&mut bytes).map_err(|error| unreadable(&error))?;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
    let sheet = book.worksheet_range_at(0).ok_or(TableError::Empty)?.map_err(|error| unreadable(&error))?;
    let mut rows = sheet.rows().map(|row| row.iter().map(text_of).collect::<Vec<String>>()).collect::<Vec<_>>().into_iter();
    let columns = head(rows.next().ok_or(TableError::Empty)?.into_iter())?;
    let names = columns.clone();
    Ok(Table { columns, rows: Box::new(rows.map(move |cells| row_of(&names, cells))) })
}

fn text_of(cell: &Data) -> String {
    match cell {
        // A whole number is a phone number or a count, and is written without a point.
        Data::Float(number) if number.fract() == 0.0 && number.abs() < 1e15 => format!("{number:.0}"),
        other => other.to_string(),
    }
}

/// A table being written: in the columns of its first row.
pub enum Writer<W: Write + Seek + Send> {
    Csv(Box<csv::Writer<W>>, Vec<String>),
    Jsonl(W),
    Xlsx(Box<Workbook>, W, Vec<String>, u32),
}

impl<W: Write + Seek + Send> Writer<W> {
    pub fn new(kind: Kind, to: W) -> Result<Self, TableError> {
        Ok(match kind {
            Kind::Csv => Self::Csv(Box::new(csv::Writer::from_writer(to)), Vec::new()),
            Kind::Jsonl => Self::Jsonl(to),
            Kind::Xlsx => {
                let mut book = Workbook::new();
                let made = book.add_worksheet_with_constant_memory();
                made.map_err(|error| TableError::Unwritable(error.to_string()))?;
                Self::Xlsx(Box::new(book), to, Vec::new(), 0)
            }
        })
    }

    /// Writes a row; the first one's columns are everyone's.
    pub fn write(&mut self, cells: &Cells) -> Result<(), TableError> {
        let failed = |error: &dyn std::fmt::Display| TableError::Unwritable(error.to_string());
        match self {
            Self::Csv(writer, columns) => {
                if columns.is_empty() {
                    *columns = cells.keys().cloned().collect();
                    writer.write_record(&*columns).map_err(|error| failed(&error))?;
                }
                writer.write_record(columns.iter().map(|name| plain(cells.get(name)))).map_err(|error| failed(&error))
            }
            Self::Jsonl(to) => writeln!(to, "{}", Value::Object(cells.clone())).map_err(|error| failed(&error)),
            Self::Xlsx(book, _, columns, next) => {
                let sheet = book.worksheet_from_index(0).map_err(|error| failed(&error))?;
                if columns.is_empty() {
                    *columns = cells.keys().cloned().collect();
                    for (column, name) in (0_u16..).zip(&*columns) {
                        sheet.write_string(0, column, name).map_err(|error| failed(&error))?;
                    }
                    *next = 1;
                }
                for (column, name) in (0_u16..).zip(&*columns) {
                    let written = match cells.get(name).and_then(Value::as_f64) {
                        Some(number) => sheet.write_number(*next, column, number),
                        None => sheet.write_string(*next, column, plain(cells.get(name))),
                    };
                    written.map_err(|error| failed(&error))?;
                }
                *next += 1;
                Ok(())
            }
        }
    }

    /// Ends the table.
    pub fn finish(self) -> Result<(), TableError> {
        let failed = |error: &dyn std::fmt::Display| TableError::Unwritable(error.to_string());
        match self {
            Self::Csv(mut writer, _) => writer.flush().map_err(|error| failed(&error)),
            Self::Jsonl(mut to) => to.flush().map_err(|error| failed(&error)),
            Self::Xlsx(mut book, to, ..) => book.save_to_writer(to).map_err(|error| failed(&error)),
        }
    }
}

/// A cell as a text.
pub fn plain(value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(text)) => text.clone(),
        Some(other) => other.to_string(),
    }
}
