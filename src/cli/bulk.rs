//! `noonwater bulk`: one answer a row, never a stop.

use std::collections::HashSet;
use std::fs::File;
use std::io::{BufWriter, IsTerminal, Read, Seek, SeekFrom, Write, copy};
use std::path::{Path, PathBuf};

use chrono::Utc;
use indicatif::{ProgressBar, ProgressStyle};

use super::answer::world_with;
use super::house::world_in;
use super::{ConfigFile, Failure};
use crate::config;
use crate::many::{self, Answer, Question, in_columns};
use crate::placefile;
use crate::single::{Refused, check_language};
use crate::table::{self, Kind, Row, Table, TableError, Writer};
use crate::turn::World;

/// Lines of JSON that are looked at for their columns before the first row of another form is written.
const LOOKED_AT: usize = 1000;

/// Answer a whole file of messages: CSV, JSON Lines or XLSX, by the ending of its name
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater bulk season.csv answers.xlsx\n  \
                  noonwater bulk - --format csv < season.csv > answers.csv\n\n\
                  The column of messages is called text; lang and place are read where they are columns. CSV and JSON \
                  Lines may be of any length; a workbook up to 16 MiB. In CSV a text that a spreadsheet program would \
                  take for a formula gets an apostrophe before it.")]
pub struct Arguments {
    #[command(flatten)]
    file: ConfigFile,
    /// The file of messages; - for standard input
    #[arg(value_name = "IN")]
    from: PathBuf,
    /// The file of answers; standard output without it
    #[arg(value_name = "OUT")]
    to: Option<PathBuf>,
    /// The form of what has no ending: csv, jsonl or xlsx
    #[arg(long, default_value = "csv")]
    format: String,
    /// A place file (JSON or TOML) for rows that name no place, instead of the demo place
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

impl From<Refused> for Failure {
    fn from(refused: Refused) -> Self {
        Self::Input(refused.message)
    }
}

/// Answers every row.
pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    let world = world_of(&arguments).await?;
    check_language(&world, arguments.lang.as_deref())?;
    answer_file(&world, &arguments)
}

/// The places and prices of the database where a configuration is given, read and left as they are; no database without
/// one.
async fn world_of(arguments: &Arguments) -> Result<World, Failure> {
    let config = config::read(arguments.file.config.as_deref())?;
    let place = arguments.place.as_deref();
    if !arguments.file.is_given() && config.database_url.is_none() {
        return Ok(world_with(place, None)?);
    }
    let place = place.map(placefile::read).transpose().map_err(|error| Failure::Input(error.to_string()))?;
    world_in(&config, place).await
}

fn answer_file(world: &World, arguments: &Arguments) -> Result<(), Failure> {
    let kind_in = kind_of(&arguments.from, &arguments.format)?;
    let out = arguments.to.as_deref().unwrap_or(Path::new("-"));
    let kind_out = if is_dash(out) && arguments.to.is_none() { kind_in } else { kind_of(out, &arguments.format)? };
    let whole = |path: &Path| std::fs::canonicalize(path).ok();
    if !is_dash(out) && whole(out).is_some_and(|out| whole(&arguments.from) == Some(out)) {
        let what = format!("{} would be written over while it is read; name another file for the answers", out.display());
        return Err(Failure::Input(what));
    }
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
    for note in &table.notes {
        eprintln!("{}: {note}", arguments.from.display());
    }
    if !table.columns.is_empty() && !Question::is_asked_by(&table.columns, &world.languages) {
        let columns = table.columns.join(", ");
        return Err(Failure::Input(format!(
            "no column is called text (there are: {columns}); name the messages' column so"
        )));
    }
    let table = if kind_out == Kind::Jsonl { table } else { with_columns(table) };
    let language = arguments.lang.as_deref();
    let unwritable = |error: std::io::Error| TableError::Unwritable(error.to_string());
    let done = match (is_dash(out), kind_out) {
        // A workbook is put together at its end, and not from front to back.
        (true, Kind::Xlsx) => tempfile::tempfile().map_err(unwritable).and_then(|file| {
            let mut file = answer_all(world, language, table, file, kind_out)?;
            file.rewind().and_then(|()| copy(&mut file, &mut std::io::stdout().lock())).map_err(unwritable).map(drop)
        }),
        (true, _) => {
            let out = Unseekable(BufWriter::new(std::io::stdout()));
            answer_all(world, language, table, out, kind_out).map(drop)
        }
        (false, _) => {
            let file = File::create(out).map_err(|error| {
                Failure::Input(format!("{} cannot be written ({}); name another file", out.display(), error.kind()))
            })?;
            answer_all(world, language, table, BufWriter::new(file), kind_out).map(drop)
        }
    };
    bar.finish_and_clear();
    Ok(done?)
}

/// JSON Lines have no head: the columns are those of the first lines.
fn with_columns(mut table: Table) -> Table {
    if !table.columns.is_empty() {
        return table;
    }
    let first: Vec<Row> = table.rows.by_ref().take(LOOKED_AT).collect();
    let mut seen = HashSet::new();
    for name in first.iter().flat_map(|row| row.cells.keys()) {
        if seen.insert(name.as_str()) {
            table.columns.push(name.clone());
        }
    }
    Table { rows: Box::new(first.into_iter().chain(table.rows)), ..table }
}

fn answer_all<W: Write + Seek + Send>(
    world: &World,
    language: Option<&str>,
    table: Table,
    to: W,
    kind: Kind,
) -> Result<W, TableError> {
    let mut writer = Writer::new(kind, to)?;
    for row in table.rows {
        let answer = answer_row(world, language, &row);
        writer.write(&answer.beside(in_columns(&table.columns, row.cells)))?;
    }
    writer.finish()
}

/// A row's answer, or what is wrong with it.
fn answer_row(world: &World, language: Option<&str>, row: &Row) -> Answer {
    let question = Question::of(&row.cells, &world.languages);
    let wrong = |code: &str, field: &str, message: &str| Answer {
        refused: Some(Refused::new(code, field, message.to_owned())),
        ..Answer::default()
    };
    match (&row.problem, &question.text) {
        (Some(problem), _) => wrong("bad_row", "row", problem),
        (None, None) => wrong("missing", "text", "text is missing; add it"),
        (None, Some(text)) => {
            let language = question.language.as_deref().or(language);
            many::answer(world, text, language, question.place.as_deref(), Utc::now())
        }
    }
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
