//! What was pasted or dropped, as rows.

use std::io::Cursor;

use axum::extract::Multipart;
use serde_json::json;

use crate::desk::fault::Fault;
use crate::many::Question;
use crate::number::Number;
use crate::store::NewBulkRow;
use crate::table::{self, Cells, Kind};

/// Rows of one list: a season's survey of a large district.
pub const ROWS_MOST: i32 = 50_000;

/// What the form brought.
#[derive(Default)]
pub struct Brought {
    lines: String,
    file: Option<(String, Vec<u8>)>,
    pub language: Option<String>,
    pub place: Option<String>,
}

pub async fn brought(mut form: Multipart) -> Result<Brought, Fault> {
    let unread = |_| Fault::Wrong("The form could not be read or is too large; send at most 16 MB at once.".to_owned());
    let mut brought = Brought::default();
    while let Some(field) = form.next_field().await.map_err(unread)? {
        let name = field.name().unwrap_or_default().to_owned();
        match name.as_str() {
            "file" => {
                let name = field.file_name().unwrap_or_default().to_owned();
                let bytes = field.bytes().await.map_err(unread)?.to_vec();
                brought.file = (!bytes.is_empty()).then_some((name, bytes));
            }
            "lines" => brought.lines = field.text().await.map_err(unread)?,
            "language" => brought.language = Some(field.text().await.map_err(unread)?).filter(|code| !code.is_empty()),
            "place" => brought.place = Some(field.text().await.map_err(unread)?).filter(|name| !name.is_empty()),
            _ => {}
        }
    }
    Ok(brought)
}

/// The columns and rows of what was brought, or a sentence.
pub fn rows_of(brought: &Brought) -> Result<(String, Vec<String>, Vec<Cells>), String> {
    let Some((name, bytes)) = &brought.file else {
        let lines = brought.lines.lines().map(str::trim).filter(|line| !line.is_empty());
        let rows: Vec<Cells> = lines.map(|line| Cells::from_iter([("text".to_owned(), json!(line))])).collect();
        if rows.is_empty() {
            return Err("There is nothing to answer; paste lines or choose a file.".to_owned());
        }
        return Ok(("Pasted lines".to_owned(), vec!["text".to_owned()], rows));
    };
    let kind =
        Kind::of(name).ok_or("The file’s name has none of the endings .csv, .jsonl, .xlsx; save it as one of these.")?;
    let table = table::read(kind, Cursor::new(bytes.clone())).map_err(|error| error.to_string())?;
    let mut columns = table.columns;
    let mut rows = Vec::new();
    for row in table.rows {
        let mut cells = row.cells;
        if let Some(problem) = row.problem {
            cells.insert("problem".to_owned(), json!(problem));
        }
        for name in cells.keys() {
            if !columns.contains(name) {
                columns.push(name.clone());
            }
        }
        rows.push(cells);
        if rows.len() > ROWS_MOST as usize {
            return Err(format!("The file has more than {ROWS_MOST} rows; cut it into several."));
        }
    }
    if !Question::is_asked_by(&columns) {
        return Err(format!("No column is called text (there are: {}); name the messages’ column so.", columns.join(", ")));
    }
    Ok((name.clone(), columns, rows))
}

pub fn new_row(cells: &Cells) -> NewBulkRow {
    let question = Question::of(cells);
    let number = question.number.map(|number| number.replace([' ', '-'], ""));
    // A spreadsheet takes the plus away.
    let number = number.map(|number| if number.starts_with('+') { number } else { format!("+{number}") });
    NewBulkRow {
        cells: serde_json::Value::Object(without_nul(cells)),
        text: question.text.unwrap_or_default(),
        number: number.filter(|number| Number::parse(number).is_ok()),
        language: question.language,
        place: question.place,
    }
}

/// PostgreSQL holds no NUL.
fn without_nul(cells: &Cells) -> Cells {
    let clean = |text: &str| text.replace('\0', "");
    cells.iter().map(|(name, value)| (clean(name), json!(clean(&table::plain(Some(value)))))).collect()
}
