//! What no file may do to us, and no cell to who opens the file.

use std::io::{Cursor, Read};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use calamine::{DataType, Reader, Xlsx};
use serde_json::json;

use super::*;

/// OWASP, "CSV Injection" (community page): the characters that begin a formula, and examples of such cells (memory).
const FORMULAS: [&str; 11] = [
    "=1+2\";=1+2",
    "=HYPERLINK(\"http://127.0.0.1/?x=\"&A1,\"Kito\")",
    "+1+cmd|' /C calc'!A0",
    "-1+cmd|' /C calc'!A0",
    "+",
    "-",
    "@SUM(1)",
    "\t=1+2",
    "\r=1+2",
    "\n=1+2",
    "＝1+2",
];

const KEPT: [&str; 9] = ["-3", "+447700900001", "+44 7700 900001", "-8.25", "", "lift 5", "5-6", "'quoted", "it's = fine"];

fn written(kind: Kind, cells: &[&str]) -> Vec<u8> {
    let mut writer = Writer::new(kind, Cursor::new(Vec::new())).unwrap();
    for cell in cells {
        writer.write(&Cells::from_iter([("=name".to_owned(), json!("x")), ("text".to_owned(), json!(cell))])).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

#[test]
fn no_cell_of_csv_begins_a_formula_and_numbers_stay_numbers() {
    let bytes = written(Kind::Csv, &[&FORMULAS[..], &KEPT[..]].concat());
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    assert_eq!(&reader.headers().unwrap()[0], "'=name");
    let cells: Vec<String> = reader.records().map(|row| row.unwrap()[1].to_owned()).collect();
    for (cell, came) in cells.iter().zip(FORMULAS) {
        assert!(cell.starts_with('\'') && cell.replace('\'', "") == came.replace('\'', ""), "{cell}");
    }
    assert_eq!(cells[FORMULAS.len()..], KEPT);
}

/// Where columns are parted by something else than a comma, a cell is cut there and its pieces become cells.
#[test]
fn no_piece_of_a_cell_begins_a_formula_whatever_parts_the_columns() {
    let hostile = ["person;=1+41;x", "a,=1+41", "a\t=1+41", "a|@SUM(1)", "a;\"=1+41\"", "a; =1+41", "a\n+cmd|x", "a;－1+x"];
    let bytes = written(Kind::Csv, &hostile);
    for parting in [b',', b';', b'\t', b'|'] {
        for quoting in [true, false] {
            let mut reader = csv::ReaderBuilder::new();
            let mut reader = reader.delimiter(parting).quoting(quoting).flexible(true).from_reader(bytes.as_slice());
            for row in reader.records() {
                for cell in row.unwrap().iter() {
                    let start = cell.trim_start_matches([' ', '"']);
                    let is_number = start.trim_start_matches(['+', '-']).chars().all(|c| c.is_ascii_digit());
                    assert!(!start.starts_with(['=', '+', '-', '@', '－']) || is_number, "{cell:?} of {parting}");
                }
            }
        }
    }
    assert_eq!(defused("lift 3; low -4, pipe 30"), "lift 3; low -4, pipe 30");
}

#[test]
fn a_workbook_holds_texts_and_no_formulas() {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(written(Kind::Xlsx, &FORMULAS))).unwrap();
    assert!(book.worksheet_formula("Sheet1").unwrap().is_empty());
    let sheet = book.worksheet_range("Sheet1").unwrap();
    for (row, came) in (1..).zip(FORMULAS) {
        let text = sheet.get_value((row, 1)).unwrap().as_string().unwrap();
        // XML reads a carriage return as the end of a line.
        assert_eq!(text.replace('\r', "\n"), came.replace('\r', "\n"));
    }
}

#[test]
fn a_cell_longer_than_a_workbook_takes_is_cut_off_and_stops_nothing() {
    let long = "ā".repeat(40_000);
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(written(Kind::Xlsx, &[&long, "lift 5"]))).unwrap();
    let sheet = book.worksheet_range("Sheet1").unwrap();
    assert_eq!(sheet.get_value((1, 1)).unwrap().to_string().chars().count(), 32_767);
    assert_eq!(sheet.get_value((2, 1)).unwrap().to_string(), "lift 5");
}

/// Reads for ever, and counts.
struct Endless(&'static [u8], Arc<AtomicUsize>);

impl Read for Endless {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        let read = match self.0.split_first() {
            Some((first, rest)) => {
                into[0] = *first;
                self.0 = rest;
                1
            }
            None => {
                into.fill(b'x');
                into.len()
            }
        };
        self.1.fetch_add(read, Ordering::Relaxed);
        Ok(read)
    }
}

#[test]
fn a_row_without_an_end_is_given_up() {
    for (kind, start) in
        [(Kind::Csv, &b"text\n\"lift 5\"\n\"pipe "[..]), (Kind::Jsonl, b"{\"text\":\"lift 5\"}\n{\"text\":\"")]
    {
        let read_so_far = Arc::new(AtomicUsize::new(0));
        let mut rows = read(kind, Endless(start, Arc::clone(&read_so_far))).unwrap().rows;
        assert_eq!(rows.next().unwrap().cells["text"], "lift 5");
        if kind == Kind::Csv {
            let problem = rows.next().unwrap().problem.unwrap();
            assert!(problem.contains("1 MiB") && problem.contains("never closed"), "{problem}");
            assert!(rows.next().is_none());
            let most = ROW_MOST * 3 / 2;
            assert!(read_so_far.load(Ordering::Relaxed) < most);
        }
    }
    // A line that is too long but ends: the next one is read.
    let lines = format!("{{\"text\":\"{}\"}}\n\n{{\"text\":\"lift 5\"}}", "x".repeat(ROW_MOST));
    let rows: Vec<Row> = read(Kind::Jsonl, Cursor::new(lines)).unwrap().rows.collect();
    assert!(rows[0].problem.as_ref().unwrap().contains("1 MiB"));
    assert_eq!((rows.len(), &rows[1].cells["text"]), (2, &json!("lift 5")));
}

#[test]
fn an_input_that_fails_ends_the_rows() {
    struct Failing;
    impl Read for Failing {
        fn read(&mut self, _: &mut [u8]) -> std::io::Result<usize> {
            Err(std::io::Error::other("the disk is gone"))
        }
    }
    let rows: Vec<Row> = read(Kind::Jsonl, Failing).unwrap().rows.collect();
    assert!(rows.len() == 1 && rows[0].problem.as_ref().unwrap().contains("the disk is gone"));
    assert!(matches!(read(Kind::Csv, Failing), Err(TableError::Unreadable(_))));
}

#[test]
fn a_head_of_too_many_columns_is_refused() {
    let head = (0..=COLUMNS_MOST).map(|n| format!("c{n}")).collect::<Vec<_>>().join(",");
    assert!(matches!(read(Kind::Csv, Cursor::new(head)), Err(TableError::TooManyColumns)));
}
