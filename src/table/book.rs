//! Workbooks. Their shared texts stand apart from their sheets and are held whole; the sheet is read cell by cell, a few rows
//! ahead of who takes them. What would not fit is refused before, and one workbook is read at a time.

use std::io::{Cursor, Read};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Condvar, Mutex, PoisonError};
use std::thread;

use calamine::{DataRef, Reader, Xlsx};

use super::{COLUMNS_MOST, Cells, ROW_MOST, Row, Table, TableError, head, parcel, row_of, unreadable};

/// The largest file, octets.
const FILE_MOST: u64 = 16 * 1024 * 1024;

/// Rows read ahead.
const ROWS_AHEAD: usize = 16;

/// Whether a workbook is in memory: two at once would take twice of it.
static IS_TAKEN: Mutex<bool> = Mutex::new(false);
static IS_FREE: Condvar = Condvar::new();

/// The turn of one workbook, until it is dropped.
struct Turn;

impl Turn {
    fn wait() -> Self {
        // Nothing is left half done by a reader that failed.
        let taken = IS_TAKEN.lock().unwrap_or_else(PoisonError::into_inner);
        *IS_FREE.wait_while(taken, |taken| *taken).unwrap_or_else(PoisonError::into_inner) = true;
        Self
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        *IS_TAKEN.lock().unwrap_or_else(PoisonError::into_inner) = false;
        IS_FREE.notify_one();
    }
}

/// A row's cells that hold something, by their columns.
type Sparse = Vec<(usize, String)>;

pub fn read(from: impl Read) -> Result<Table, TableError> {
    let turn = Turn::wait();
    let mut bytes = Vec::new();
    from.take(FILE_MOST + 1).read_to_end(&mut bytes).map_err(|error| unreadable(&error))?;
    if bytes.len() as u64 > FILE_MOST {
        return Err(TableError::BookTooLarge("is over 16 MiB".to_owned()));
    }
    let (give, rows) = sync_channel(ROWS_AHEAD);
    thread::Builder::new()
        .name("workbook".to_owned())
        .spawn(move || {
            let _turn = turn;
            if let Err(error) = give_rows(bytes, &give) {
                // Nobody listens any more: then nobody needs to know.
                let _ = give.send(Err(error));
            }
        })
        .map_err(|error| unreadable(&error))?;
    let first = next(&rows).ok_or(TableError::Empty)??;
    let columns = head(whole(first).into_iter())?;
    let names = columns.clone();
    let rows = std::iter::from_fn(move || next(&rows)).map(move |cells| match cells {
        Ok(cells) => row_of(&names, whole(cells)),
        // The reader gives nothing more after this.
        Err(error) => Row { cells: Cells::new(), problem: Some(error.to_string()) },
    });
    Ok(Table { columns, rows: Box::new(rows), notes: Vec::new() })
}

/// The next row, or why there are no more; none at the end.
fn next(rows: &Receiver<Result<Sparse, TableError>>) -> Option<Result<Sparse, TableError>> {
    rows.recv().ok()
}

/// Gives the rows of the first sheet that hold something. They are not laid out as a rectangle: two cells at far corners
/// would make one of seventeen thousand million.
fn give_rows(bytes: Vec<u8>, to: &SyncSender<Result<Sparse, TableError>>) -> Result<(), TableError> {
    parcel::check(&bytes)?;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
    let first = book.sheet_names().first().cloned().ok_or(TableError::Empty)?;
    let mut cells = book.worksheet_cells_reader(&first).map_err(|error| unreadable(&error))?;
    let mut row = Sparse::new();
    let (mut at, mut held) = (None, 0);
    while let Some(cell) = cells.next_cell().map_err(|error| unreadable(&error))? {
        let (number, column) = cell.get_position();
        let text = text_of(cell.get_value());
        if text.is_empty() {
            continue;
        }
        let column = column as usize;
        if column >= COLUMNS_MOST {
            return Err(TableError::TooManyColumns);
        }
        if at != Some(number) {
            if !row.is_empty() && to.send(Ok(std::mem::take(&mut row))).is_err() {
                return Ok(());
            }
            (at, held) = (Some(number), 0);
        }
        held += text.len() + size_of::<(usize, String)>();
        if held > ROW_MOST {
            return Err(TableError::BookTooLarge("has a row of over 1 MiB".to_owned()));
        }
        row.push((column, text));
    }
    if !row.is_empty() {
        // As above.
        let _ = to.send(Ok(row));
    }
    Ok(())
}

/// A row with its gaps, up to its last cell that holds something.
fn whole(cells: Sparse) -> Vec<String> {
    let mut whole = Vec::new();
    for (column, text) in cells {
        if column >= whole.len() {
            whole.resize(column + 1, String::new());
        }
        whole[column] = text;
    }
    whole
}

fn text_of(cell: &DataRef<'_>) -> String {
    match cell {
        // A whole number is a phone number or a count, and is written without a point.
        DataRef::Float(number) if number.fract() == 0.0 && number.abs() < 1e15 => format!("{number:.0}"),
        other => calamine::Data::from(other.clone()).to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_at_far_corners_make_no_rectangle() {
        let mut book = rust_xlsxwriter::Workbook::new();
        let sheet = book.add_worksheet();
        sheet.write_string(0, 0, "name").unwrap();
        sheet.write_string(0, 1, "text").unwrap();
        sheet.write_string(1_048_575, 1, "lift 5").unwrap();
        let table = read(Cursor::new(book.save_to_buffer().unwrap())).unwrap();
        let rows: Vec<_> = table.rows.collect();
        assert_eq!((table.columns.len(), rows.len()), (2, 1));
        assert_eq!((&rows[0].cells["name"], &rows[0].cells["text"]), (&"".into(), &"lift 5".into()));
        let mut book = rust_xlsxwriter::Workbook::new();
        book.add_worksheet().write_string(0, 16_383, "text").unwrap();
        let refused = read(Cursor::new(book.save_to_buffer().unwrap())).err();
        assert!(matches!(refused, Some(TableError::TooManyColumns)));
    }
}
