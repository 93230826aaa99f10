//! Workbooks. Their texts stand apart from their sheets, so one is held whole; what would not fit is refused before.

use std::io::{Cursor, Read, sink};

use calamine::{DataRef, Reader, Xlsx};

use super::{COLUMNS_MOST, Table, TableError, head, row_of, unreadable};

/// The largest file, octets.
const FILE_MOST: u64 = 16 * 1024 * 1024;

/// The most that its parts may unpack to, and that the cells of its sheet may hold, octets: a small file can be packed so
/// that it unpacks to more than any machine has.
const UNPACKED_MOST: u64 = 256 * 1024 * 1024;

/// A row's cells that hold something, by their columns.
type Sparse = Vec<(usize, String)>;

pub fn read(from: impl Read) -> Result<Table, TableError> {
    let mut bytes = Vec::new();
    from.take(FILE_MOST + 1).read_to_end(&mut bytes).map_err(|error| unreadable(&error))?;
    if bytes.len() as u64 > FILE_MOST {
        return Err(TableError::BookTooLarge("is over 16 MiB".to_owned()));
    }
    unpacks_within(&bytes, UNPACKED_MOST)?;
    let mut rows = rows(bytes)?.into_iter();
    let columns = head(whole(rows.next().ok_or(TableError::Empty)?).into_iter())?;
    let names = columns.clone();
    Ok(Table { columns, rows: Box::new(rows.map(move |cells| row_of(&names, whole(cells)))), notes: Vec::new() })
}

/// What the directory of the file says of the size may be a lie, so it is unpacked into nothing and counted.
fn unpacks_within(bytes: &[u8], most: u64) -> Result<(), TableError> {
    let mut parts = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
    let mut left = most;
    for index in 0..parts.len() {
        let part = parts.by_index(index).map_err(|error| unreadable(&error))?;
        let size = std::io::copy(&mut part.take(left + 1), &mut sink()).map_err(|error| unreadable(&error))?;
        let too_large = || TableError::BookTooLarge(format!("unpacks to over {} MiB", most / 1024 / 1024));
        left = left.checked_sub(size).ok_or_else(too_large)?;
    }
    Ok(())
}

/// Rows of the first sheet that hold something. They are not laid out as a rectangle: two cells at far corners would
/// make one of seventeen thousand million.
fn rows(bytes: Vec<u8>) -> Result<Vec<Sparse>, TableError> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
    let first = book.sheet_names().first().cloned().ok_or(TableError::Empty)?;
    let mut cells = book.worksheet_cells_reader(&first).map_err(|error| unreadable(&error))?;
    let mut rows: Vec<(u32, Sparse)> = Vec::new();
    let mut held = 0;
    while let Some(cell) = cells.next_cell().map_err(|error| unreadable(&error))? {
        let (row, column) = cell.get_position();
        let text = text_of(cell.get_value());
        if text.is_empty() {
            continue;
        }
        let column = column as usize;
        if column >= COLUMNS_MOST {
            return Err(TableError::TooManyColumns);
        }
        held += (text.len() + size_of::<(usize, String)>()) as u64;
        if held > UNPACKED_MOST {
            return Err(TableError::BookTooLarge(format!("holds over {} MiB of texts", UNPACKED_MOST / 1024 / 1024)));
        }
        match rows.last_mut() {
            Some((last, cells)) if *last == row => cells.push((column, text)),
            _ => rows.push((row, vec![(column, text)])),
        }
    }
    Ok(rows.into_iter().map(|(_, cells)| cells).collect())
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
    fn what_unpacks_too_far_is_refused_whatever_its_directory_says() {
        let mut book = rust_xlsxwriter::Workbook::new();
        let sheet = book.add_worksheet();
        sheet.write_string(0, 0, "text").unwrap();
        sheet.write_string(1, 0, "lift 5 ".repeat(1000)).unwrap();
        let bytes = book.save_to_buffer().unwrap();
        assert!(unpacks_within(&bytes, 1024 * 1024).is_ok());
        let refused = unpacks_within(&bytes, 4 * 1024).unwrap_err();
        assert!(matches!(refused, TableError::BookTooLarge(_)), "{refused}");
    }

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
