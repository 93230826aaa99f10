//! Forms that are read row by row: CSV and JSON Lines. A row without an end is given up, not collected.

use std::io::{self, BufRead, BufReader, Cursor, Read};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::guess::{Form, LOOKED_AT, text_of};
use super::{Cells, ROW_MOST, Row, Table, TableError, head, row_of, unreadable};

/// Octets read at once.
const BUFFER: usize = 8 * 1024;

/// No row that somebody wrote goes over so many lines.
const LINES_MOST: usize = 40;

pub fn read_csv(mut from: impl Read + 'static) -> Result<Table, TableError> {
    let mut start = Vec::new();
    from.by_ref().take(LOOKED_AT as u64).read_to_end(&mut start).map_err(|error| unreadable(&error))?;
    let form = Form::of(&start);
    let unended = Arc::new(AtomicUsize::new(0));
    let fence = Fence { from: Cursor::new(start).chain(from), unended: Arc::clone(&unended) };
    let mut builder = csv::ReaderBuilder::new();
    builder.delimiter(form.delimiter).flexible(true).has_headers(false).buffer_capacity(BUFFER);
    let mut records = builder.from_reader(fence).into_byte_records().skip(form.above);
    let texts = |record: &csv::ByteRecord| -> Vec<String> { record.iter().map(text_of).collect() };
    let first = records.next().transpose().map_err(|error| unreadable(&error))?;
    let columns = head(texts(&first.ok_or(TableError::Empty)?).into_iter())?;
    let names = columns.clone();
    // Where the newest row that was read began.
    let mut line = 1;
    let rows = records.map(move |record| {
        unended.store(0, Ordering::Relaxed);
        match record {
            Ok(record) => {
                line = record.position().map_or(line, csv::Position::line);
                let lines = record.as_slice().iter().filter(|byte| **byte == b'\n').count();
                let mut row = row_of(&names, texts(&record));
                if lines > LINES_MOST {
                    row.problem = Some(format!(
                        "the row begins in line {line} and goes over {lines} lines, perhaps by a quote that is never closed"
                    ));
                }
                row
            }
            // The reader gives nothing more after this.
            Err(error) => bad(format!(
                "the row after line {line} cannot be read ({error}); correct it, the rows after it were not read"
            )),
        }
    });
    let notes = form.notes().into_iter().map(str::to_owned).collect();
    Ok(Table { columns, rows: Box::new(rows), notes })
}

/// Ends a table when a row has not ended for too long.
struct Fence<R> {
    from: R,
    /// Octets read since a row ended.
    unended: Arc<AtomicUsize>,
}

impl<R: Read> Read for Fence<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.unended.load(Ordering::Relaxed) > ROW_MOST + BUFFER {
            return Err(io::Error::other("it is over 1 MiB, perhaps by a quote that is never closed"));
        }
        let read = self.from.read(into)?;
        self.unended.fetch_add(read, Ordering::Relaxed);
        Ok(read)
    }
}

fn bad(problem: String) -> Row {
    Row { cells: Cells::new(), problem: Some(problem) }
}

pub fn read_jsonl(from: impl Read + 'static) -> Table {
    let lines = Lines { from: BufReader::with_capacity(BUFFER, from), is_over: false };
    let rows = lines.map(|line| {
        let object = line.and_then(|line| serde_json::from_slice::<Cells>(&line).map_err(|error| error.to_string()));
        let unread = |what| bad(format!("not a JSON object ({what}); correct it"));
        object.map_or_else(unread, |cells| Row { cells, problem: None })
    });
    Table { columns: Vec::new(), rows: Box::new(rows), notes: Vec::new() }
}

/// Lines that say something, or what is wrong with them.
struct Lines<R> {
    from: BufReader<R>,
    is_over: bool,
}

impl<R: Read> Lines<R> {
    fn next_line(&mut self) -> io::Result<Option<Result<Vec<u8>, String>>> {
        let mut line = Vec::new();
        let most = ROW_MOST as u64 + 1;
        if self.from.by_ref().take(most).read_until(b'\n', &mut line)? == 0 {
            return Ok(None);
        }
        if line.len() <= ROW_MOST || line.ends_with(b"\n") {
            return Ok(Some(Ok(line)));
        }
        self.from.skip_until(b'\n')?;
        Ok(Some(Err("the line is over 1 MiB".to_owned())))
    }
}

impl<R: Read> Iterator for Lines<R> {
    type Item = Result<Vec<u8>, String>;

    fn next(&mut self) -> Option<Self::Item> {
        while !self.is_over {
            match self.next_line() {
                // An empty line says nothing.
                Ok(Some(Ok(line))) if line.trim_ascii().is_empty() => {}
                Ok(Some(line)) => return Some(line),
                Ok(None) => self.is_over = true,
                Err(error) => {
                    // It would fail again at the same place, for ever.
                    self.is_over = true;
                    return Some(Err(error.to_string()));
                }
            }
        }
        None
    }
}
