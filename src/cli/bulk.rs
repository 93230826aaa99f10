//! `noonwater bulk`: one answer a row, never a stop.

use std::fs::File;
use std::io::{BufWriter, Cursor, IsTerminal, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use chrono::Utc;
use indicatif::{ProgressBar, ProgressStyle};

use super::Failure;
use super::answer::world_with;
use crate::many::{self, Answer, Question};
use crate::single::Refused;
use crate::table::{self, Cells, Kind, Row, TableError, Writer};
use crate::turn::World;

/// Answer a whole file of messages: CSV, JSON Lines or XLSX, by the ending of its name
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater bulk season.csv answers.xlsx\n  \
                  noonwater bulk - --format csv < season.csv > answers.csv\n\n\
                  The column of messages is called text; lang and place are read where they are columns.")]
pub struct Arguments {
    /// The file of messages; - for standard input
    #[arg(value_name = "IN")]
    from: PathBuf,
    /// The file of answers; standard output without it
    #[arg(value_name = "OUT")]
    to: Option<PathBuf>,
    /// The form of what has no ending: csv, jsonl or xlsx
    #[arg(long, default_value = "csv")]
    format: String,
    /// A place file (JSON or TOML) instead of the demo place
    #[arg(long, value_name = "FILE")]
    place: Option<PathBuf>,
    /// The language of rows that name none
    #[arg(long, value_name = "CODE")]
    lang: Option<String>,
}

impl From<TableError> for Failure {
    fn from(error: TableError) -> Self {
        match error {
            TableError::Unwritable(_) => Self::Failed(error.to_string()),
            _ => Self::Input(error.to_string()),
        }
    }
}

/// Answers every row.
pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    let world = world_with(arguments.place.as_deref(), None).map_err(|refused| Failure::Input(refused.message))?;
    let kind_in = kind_of(&arguments.from, &arguments.format)?;
    let out = arguments.to.as_deref().unwrap_or(Path::new("-"));
    let kind_out = if is_dash(out) && arguments.to.is_none() { kind_in } else { kind_of(out, &arguments.format)? };
    let bar = progress(&arguments.from);
    let from: Box<dyn Read> = if is_dash(&arguments.from) {
        Box::new(bar.wrap_read(std::io::stdin()))
    } else {
        let file = File::open(&arguments.from).map_err(|error| {
            Failure::Input(format!("{} cannot be read ({}); name a file", arguments.from.display(), error.kind()))
        })?;
        Box::new(bar.wrap_read(file))
    };
    let table = table::read(kind_in, from)?;
    if !table.columns.is_empty() && !Question::is_asked_by(&table.columns) {
        let columns = table.columns.join(", ");
        return Err(Failure::Input(format!(
            "no column is called text (there are: {columns}); name the messages' column so"
        )));
    }
    let done = match (is_dash(out), kind_out) {
        // A workbook is put together at its end.
        (true, Kind::Xlsx) => {
            let mut book = Cursor::new(Vec::new());
            answer_all(&world, arguments, table.rows, &mut book, kind_out).and_then(|()| {
                let written = std::io::stdout().lock().write_all(book.get_ref());
                written.map_err(|error| TableError::Unwritable(error.to_string()))
            })
        }
        (true, _) => answer_all(&world, arguments, table.rows, Unseekable(BufWriter::new(std::io::stdout())), kind_out),
        (false, _) => {
            let file = File::create(out).map_err(|error| {
                Failure::Input(format!("{} cannot be written ({}); name another file", out.display(), error.kind()))
            })?;
            answer_all(&world, arguments, table.rows, BufWriter::new(file), kind_out)
        }
    };
    bar.finish_and_clear();
    Ok(done?)
}

fn answer_all<W: Write + Seek + Send>(
    world: &World,
    arguments: &Arguments,
    rows: impl Iterator<Item = Row>,
    to: W,
    kind: Kind,
) -> Result<(), TableError> {
    let mut writer = Writer::new(kind, to)?;
    for row in rows {
        writer.write(&answer_row(world, arguments.lang.as_deref(), row))?;
    }
    writer.finish()
}

/// The row with its answer, or with what is wrong with it.
fn answer_row(world: &World, language: Option<&str>, row: Row) -> Cells {
    let question = Question::of(&row.cells);
    let wrong = |code: &str, field: &str, message: String| Answer {
        refused: Some(Refused::new(code, field, message)),
        ..Answer::default()
    };
    let answer = match (row.problem, &question.text) {
        (Some(problem), _) => wrong("bad_row", "row", problem),
        (None, None) => wrong("missing", "text", "text is missing; add it".to_owned()),
        (None, Some(text)) => {
            let language = question.language.as_deref().or(language);
            many::answer(world, text, language, question.place.as_deref(), Utc::now())
        }
    };
    answer.beside(row.cells)
}

fn is_dash(path: &Path) -> bool {
    path.as_os_str() == "-"
}

fn kind_of(path: &Path, format: &str) -> Result<Kind, Failure> {
    let name = if is_dash(path) { format!("x.{format}") } else { path.to_string_lossy().into_owned() };
    let what = || Failure::Input(format!("{} has none of the endings .csv, .jsonl, .xlsx; name one", path.display()));
    Kind::of(&name).ok_or_else(what)
}

/// A bar where somebody looks; it goes by the bytes read.
fn progress(from: &Path) -> ProgressBar {
    if !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let style = ProgressStyle::with_template("{bar:40} {percent} %  {eta} left").unwrap_or(ProgressStyle::default_bar());
    let length = std::fs::metadata(from).map(|file| file.len());
    length.map_or_else(|_| ProgressBar::new_spinner(), |length| ProgressBar::new(length).with_style(style))
}

/// Standard output, which is only ever written on.
struct Unseekable<W>(W);

impl<W: Write> Write for Unseekable<W> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.write(bytes)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.0.flush()
    }
}

impl<W> Seek for Unseekable<W> {
    fn seek(&mut self, _: SeekFrom) -> std::io::Result<u64> {
        Err(std::io::ErrorKind::Unsupported.into())
    }
}
