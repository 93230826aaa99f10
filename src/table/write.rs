//! A table being written.

use std::borrow::Cow;
use std::io::{Seek, Write};

use rust_xlsxwriter::{Workbook, Worksheet};
use serde_json::Value;

use super::{Cells, Kind, TableError, plain};

/// Rows of a sheet, and characters of a cell (Excel specifications and limits).
const BOOK_ROWS: u32 = 1_048_576;
const BOOK_CELL: usize = 32_767;

/// What a spreadsheet program may be told that columns are parted by: a cell that holds one is cut there.
const PARTING: [char; 6] = [',', ';', '\t', '|', '\r', '\n'];

/// A text as a cell of CSV. Spreadsheet programs take a cell that begins with one of these characters for a formula, and a
/// formula in a text that somebody else wrote can read other cells and call elsewhere: it gets an apostrophe before it, which
/// they take for "this is a text" (OWASP, CSV Injection). The same within a cell, after whatever may be taken for the end of
/// a column where the file is opened with other settings than it was written for. What after its sign has only digits,
/// spaces and one point stays as it is: it can call nothing, and -3 or +447700900001 must stay the number it is.
pub fn defused(cell: &str) -> Cow<'_, str> {
    let is_first = cell.starts_with(['\t', '\r', '\n']);
    let mut defused = if is_first { "'".to_owned() } else { String::new() };
    for piece in cell.split_inclusive(PARTING) {
        let start = piece.len() - piece.trim_start_matches([' ', '"', '\u{a0}']).len();
        let (before, rest) = piece.split_at(start);
        defused.push_str(before);
        if is_formula(rest.trim_end_matches(PARTING)) {
            defused.push('\'');
        }
        defused.push_str(rest);
    }
    if defused.len() == cell.len() { Cow::Borrowed(cell) } else { Cow::Owned(defused) }
}

fn is_formula(text: &str) -> bool {
    let mut letters = text.chars();
    match letters.next() {
        Some('+' | '-') => !is_number(letters.as_str()),
        // The last four are the first four in the width of Chinese and Japanese letters.
        Some('=' | '@' | '＝' | '＋' | '－' | '＠') => true,
        _ => false,
    }
}

fn is_number(text: &str) -> bool {
    let is_part = |letter: char| letter.is_ascii_digit() || letter == ' ' || letter == '.';
    text.chars().all(is_part) && text.matches('.').count() <= 1 && text.contains(|letter: char| letter.is_ascii_digit())
}

/// A table being written: in the columns of its first row.
pub enum Writer<W: Write + Seek + Send> {
    Csv(Box<csv::Writer<W>>, Vec<String>),
    Jsonl(W),
    Xlsx(Box<Workbook>, W, Vec<String>, u32),
}

fn failed(error: &dyn std::fmt::Display) -> TableError {
    TableError::Unwritable(error.to_string())
}

impl<W: Write + Seek + Send> Writer<W> {
    pub fn new(kind: Kind, to: W) -> Result<Self, TableError> {
        Ok(match kind {
            Kind::Csv => Self::Csv(Box::new(csv::Writer::from_writer(to)), Vec::new()),
            Kind::Jsonl => Self::Jsonl(to),
            Kind::Xlsx => {
                let mut book = Workbook::new();
                book.add_worksheet_with_constant_memory().map_err(|error| failed(&error))?;
                Self::Xlsx(Box::new(book), to, Vec::new(), 0)
            }
        })
    }

    /// Writes a row; the first one's columns are everyone's.
    pub fn write(&mut self, cells: &Cells) -> Result<(), TableError> {
        match self {
            Self::Csv(writer, columns) => {
                if columns.is_empty() {
                    *columns = cells.keys().cloned().collect();
                    let names = columns.iter().map(|name| defused(name).into_owned());
                    writer.write_record(names).map_err(|error| failed(&error))?;
                }
                let row = columns.iter().map(|name| defused(&plain(cells.get(name))).into_owned());
                writer.write_record(row).map_err(|error| failed(&error))
            }
            Self::Jsonl(to) => writeln!(to, "{}", Value::Object(cells.clone())).map_err(|error| failed(&error)),
            Self::Xlsx(book, _, columns, next) => {
                let sheet = book.worksheet_from_index(0).map_err(|error| failed(&error))?;
                if columns.is_empty() {
                    *columns = cells.keys().cloned().collect();
                    for (column, name) in (0_u16..).zip(&*columns) {
                        write_text(sheet, 0, column, name)?;
                    }
                    *next = 1;
                }
                if *next == BOOK_ROWS {
                    return Err(TableError::BookFull(BOOK_ROWS - 1));
                }
                for (column, name) in (0_u16..).zip(&*columns) {
                    match cells.get(name).and_then(Value::as_f64) {
                        Some(number) => {
                            sheet.write_number(*next, column, number).map_err(|error| failed(&error))?;
                        }
                        None => write_text(sheet, *next, column, &plain(cells.get(name)))?,
                    }
                }
                *next += 1;
                Ok(())
            }
        }
    }

    /// Ends the table and gives back what it was written to.
    pub fn finish(self) -> Result<W, TableError> {
        match self {
            Self::Csv(writer, _) => writer.into_inner().map_err(|error| failed(error.error())),
            Self::Jsonl(mut to) => to.flush().map(|()| to).map_err(|error| failed(&error)),
            Self::Xlsx(mut book, mut to, ..) => {
                book.save_to_writer(&mut to).map_err(|error| failed(&error))?;
                to.flush().map(|()| to).map_err(|error| failed(&error))
            }
        }
    }
}

/// A workbook says of each cell whether it is a text, so that none needs defusing; what a cell cannot hold is cut off.
fn write_text(sheet: &mut Worksheet, row: u32, column: u16, text: &str) -> Result<(), TableError> {
    let text = text.char_indices().nth(BOOK_CELL).map_or(text, |(end, _)| &text[..end]);
    sheet.write_string(row, column, text).map(|_| ()).map_err(|error| failed(&error))
}
