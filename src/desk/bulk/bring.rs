//! What was pasted or dropped, as rows. A file goes to the disk as it comes and is read from there row by row, so that its
//! length takes no memory.

use std::fs::File;
use std::io::{Cursor, Seek};
use std::sync::Arc;

use axum::extract::Multipart;
use axum::extract::multipart::Field;
use serde_json::json;
use tokio::io::AsyncWriteExt;
use tokio::sync::mpsc;
use tracing::error;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::words::said_with;
use crate::many::Question;
use crate::number::Number;
use crate::printable::{hidden_in, shown};
use crate::single::TEXT_MOST;
use crate::store::NewBulkRow;
use crate::table::{self, COLUMNS_MOST, Cells, Kind, Row, Table};
use crate::turn::World;

/// Rows of one list: a season's survey of a large district.
const ROWS_MOST: usize = 200_000;

/// Rows stored in one statement.
const ROWS_AT_ONCE: usize = 500;

/// Letters of a list's name.
const NAME_MOST: usize = 120;

/// Octets of all cells of one list: in a workbook one text may stand in every row.
const CELLS_MOST: usize = 128 * 1024 * 1024;

/// Octets of pasted lines and of the other fields; a file may be longer.
const PASTED_MOST: usize = 1024 * 1024;

/// What the form brought.
#[derive(Default)]
pub struct Brought {
    lines: String,
    file: Option<(String, File)>,
    pub language: Option<String>,
    pub place: Option<String>,
}

impl Brought {
    /// The file, or the pasted lines where none was chosen; or a sentence.
    pub fn source(&mut self) -> Result<Source, String> {
        match self.file.take() {
            Some((name, file)) => {
                let what = "The file’s name has none of the endings .csv, .jsonl, .xlsx; save it as one of these.";
                let kind = Kind::of(&name).ok_or(what)?;
                Ok(Source::File(name, kind, file))
            }
            None if self.lines.trim().is_empty() => {
                Err("There is nothing to answer; paste lines or choose a file.".to_owned())
            }
            None => Ok(Source::Pasted(std::mem::take(&mut self.lines))),
        }
    }
}

fn unread<E>(_: E) -> Fault {
    Fault::Wrong("The form could not be read or is too large; send at most 64 MB at once.".to_owned())
}

/// What fails here is the disk of the folder for passing files, which only who runs the machine can mend.
pub fn no_disk(error: std::io::Error) -> Fault {
    error!(%error, "a passing file could not be kept");
    Fault::Failed
}

pub async fn brought(mut form: Multipart) -> Result<Brought, Fault> {
    let mut brought = Brought::default();
    while let Some(field) = form.next_field().await.map_err(unread)? {
        let name = field.name().unwrap_or_default().to_owned();
        match name.as_str() {
            "file" => {
                let name = field.file_name().unwrap_or_default().to_owned();
                brought.file = on_disk(field).await?.map(|file| (name, file));
            }
            "lines" => brought.lines = short(field).await?,
            "language" => brought.language = Some(short(field).await?).filter(|code| !code.is_empty()),
            "place" => brought.place = Some(short(field).await?).filter(|name| !name.is_empty()),
            _ => {}
        }
    }
    Ok(brought)
}

/// A file that vanishes when it is closed; none when nothing was chosen.
async fn on_disk(mut field: Field<'_>) -> Result<Option<File>, Fault> {
    let mut file = tokio::fs::File::from_std(tempfile::tempfile().map_err(no_disk)?);
    let mut is_empty = true;
    while let Some(bytes) = field.chunk().await.map_err(unread)? {
        is_empty &= bytes.is_empty();
        file.write_all(&bytes).await.map_err(no_disk)?;
    }
    file.flush().await.map_err(no_disk)?;
    let mut file = file.into_std().await;
    file.rewind().map_err(no_disk)?;
    Ok((!is_empty).then_some(file))
}

async fn short(mut field: Field<'_>) -> Result<String, Fault> {
    let mut text = Vec::new();
    while let Some(bytes) = field.chunk().await.map_err(unread)? {
        text.extend_from_slice(&bytes);
        if text.len() > PASTED_MOST {
            return Err(Fault::Wrong("The pasted lines are over 1 MB; put them into a file.".to_owned()));
        }
    }
    String::from_utf8(text).map_err(unread)
}

/// Where the rows come from.
pub enum Source {
    /// One message a line.
    Pasted(String),
    File(String, Kind, File),
}

impl Source {
    pub fn name(&self) -> String {
        match self {
            Self::Pasted(_) => "Pasted lines".to_owned(),
            Self::File(name, ..) => shown(name).chars().take(NAME_MOST).collect(),
        }
    }

    fn table(self) -> Result<Table, String> {
        let lines = match self {
            Self::File(_, kind, file) => return table::read(kind, file).map_err(|error| error.to_string()),
            Self::Pasted(lines) => lines,
        };
        if lines.contains('\t') {
            return with_tabs(lines);
        }
        let rows: Vec<Row> = lines
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty())
            .map(|line| Row { cells: Cells::from_iter([("text".to_owned(), json!(line))]), problem: None })
            .collect();
        Ok(Table { columns: vec!["text".to_owned()], rows: Box::new(rows.into_iter()), notes: Vec::new() })
    }

    /// Gives the rows batch by batch, as fast as they are taken, and then the columns; or a sentence on why not.
    pub fn give(self, by: &By, to: &mpsc::Sender<Vec<NewBulkRow>>) -> Result<Given, String> {
        let Table { mut columns, rows, notes } = self.table()?;
        let mut batch = Vec::new();
        let (mut count, mut held) = (0, 0);
        for row in rows {
            let mut cells = row.cells;
            if cells.len() > COLUMNS_MOST {
                return Err(table::TableError::TooManyColumns.to_string());
            }
            if let Some(problem) = row.problem {
                cells.insert("problem".to_owned(), json!(problem));
            }
            for name in cells.keys() {
                if hidden_in(name).is_some() {
                    return Err(table::TableError::HiddenName(columns.len() + 1).to_string());
                }
                if !columns.contains(name) {
                    columns.push(name.clone());
                }
            }
            if columns.len() > COLUMNS_MOST {
                return Err(table::TableError::TooManyColumns.to_string());
            }
            held += cells.iter().map(|(name, value)| name.len() + table::plain(Some(value)).len()).sum::<usize>();
            if held > CELLS_MOST {
                let most = CELLS_MOST / 1024 / 1024;
                return Err(format!("The rows hold over {most} MiB of texts; take out the columns that nobody needs."));
            }
            count += 1;
            if count > ROWS_MOST {
                return Err(format!("The file has more than {ROWS_MOST} rows; cut it into several."));
            }
            batch.push(new_row(&cells, by));
            // Nobody takes any more when the database has failed, which is told there.
            if batch.len() == ROWS_AT_ONCE && to.blocking_send(std::mem::take(&mut batch)).is_err() {
                return Ok(Given { columns, notes });
            }
        }
        let _ = to.blocking_send(batch);
        if Question::is_asked_by(&columns, &by.world.languages) {
            return Ok(Given { columns, notes });
        }
        Err(said_with(
            "No column is called text, and none as a field such as lift, pipe or panel (there are: {columns}); name them so.",
            &[("columns", &columns.join(", "))],
        ))
    }
}

/// What rows are read by: the fields' words, and the country of our own number.
pub struct By {
    pub world: Arc<World>,
    pub home_number: Option<String>,
}

/// What was found of a table: its columns, and what staff should know of its form.
pub struct Given {
    pub columns: Vec<String>,
    pub notes: Vec<String>,
}

/// Pasted from a spreadsheet: with a head, or a number before each text.
fn with_tabs(lines: String) -> Result<Table, String> {
    let is_number = |cell: &str| cell.trim().chars().filter(char::is_ascii_digit).count() >= 7;
    let first = lines.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    if !is_number(first.split('\t').next().unwrap_or_default()) {
        return table::read(Kind::Csv, Cursor::new(lines.into_bytes())).map_err(|error| error.to_string());
    }
    let row = |line: &str| {
        let (number, text) = line.split_once('\t').unwrap_or(("", line));
        let text = text.split('\t').map(str::trim).filter(|cell| !cell.is_empty()).collect::<Vec<_>>().join(" ");
        let cells = Cells::from_iter([("number".to_owned(), json!(number.trim())), ("text".to_owned(), json!(text))]);
        Row { cells, problem: None }
    };
    let rows: Vec<Row> = lines.lines().filter(|line| !line.trim().is_empty()).map(row).collect();
    let columns = vec!["number".to_owned(), "text".to_owned()];
    Ok(Table { columns, rows: Box::new(rows.into_iter()), notes: Vec::new() })
}

fn new_row(cells: &Cells, by: &By) -> NewBulkRow {
    let question = Question::of(cells, &by.world.languages);
    let told = question.number.is_some();
    let number = question.number.and_then(|number| Number::parse_near(&number, by.home_number.as_deref()).ok());
    NewBulkRow {
        cells: serde_json::Value::Object(without_nul(cells)),
        // One letter too many is enough to be told so when it is answered.
        text: question.text.unwrap_or_default().chars().take(TEXT_MOST + 1).collect(),
        is_rejected: told && number.is_none(),
        number: number.map(|number| number.as_str().to_owned()),
        language: question.language,
        place: question.place,
    }
}

/// PostgreSQL holds no NUL.
fn without_nul(cells: &Cells) -> Cells {
    let clean = |text: &str| text.replace('\0', "");
    cells.iter().map(|(name, value)| (clean(name), json!(clean(&table::plain(Some(value)))))).collect()
}
