//! What a workbook unpacks to, counted before anything of it is kept. A small file can be packed so that it unpacks to more
//! than any machine has, and what its own lists say of their length may be a lie: so it is unpacked into nothing, piece by
//! piece, and its tags are counted.

use std::io::{Cursor, Read};

use super::{ROW_MOST, TableError, unreadable};

/// The most that all of it may unpack to, octets.
const UNPACKED_MOST: u64 = 256 * 1024 * 1024;

/// A part that the reader keeps whole (styles, the list of sheets) is no longer, octets.
const KEPT_MOST: u64 = 4 * 1024 * 1024;

/// The most that the shared texts may take in memory, octets.
const SHARED_MOST: u64 = 32 * 1024 * 1024;

/// What one shared text takes beside its letters: its place in the list and its own small piece of memory.
const SHARED_EACH: u64 = 56;

/// Parts of the file; a common workbook has a dozen.
const PARTS_MOST: usize = 1_000;

/// Entries of the lists that the reader keeps whole.
const LISTED_MOST: u64 = 65_536;

/// Octets unpacked at once.
const PIECE: usize = 64 * 1024;

/// How each entry of the archive's directory begins (PKWARE, APPNOTE.TXT 4.3.12).
const ENTRY: [u8; 4] = *b"PK\x01\x02";

/// The lists that the reader keeps whole, by the names of their entries.
const LISTED: [&[u8]; 8] =
    [b"sheet", b"Relationship", b"Override", b"xf", b"numFmt", b"definedName", b"font", b"externalReference"];

fn too_large(what: impl Into<String>) -> TableError {
    TableError::BookTooLarge(what.into())
}

/// Refuses a workbook that would take too much memory while it is read.
pub(super) fn check(bytes: &[u8]) -> Result<(), TableError> {
    check_within(bytes, UNPACKED_MOST)
}

fn check_within(bytes: &[u8], most: u64) -> Result<(), TableError> {
    // Even the directory would be read whole.
    if bytes.windows(ENTRY.len()).filter(|window| *window == ENTRY).count() > PARTS_MOST {
        return Err(too_large(format!("has over {PARTS_MOST} parts")));
    }
    let mut parts = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
    let mut count = Count { left: most, ..Count::default() };
    for index in 0..parts.len() {
        let part = parts.by_index(index).map_err(|error| unreadable(&error))?;
        let name = part.name().map_err(|error| unreadable(&error))?.to_ascii_lowercase();
        count.begin(&name);
        count.read(part, most)?;
    }
    Ok(())
}

/// What has been counted so far.
#[derive(Default)]
struct Count {
    left: u64,
    /// Of this part: octets, whether it may be long, whether it holds shared texts, whether it is never read.
    octets: u64,
    is_sheet: bool,
    is_shared: bool,
    is_unread: bool,
    /// Shared texts, and entries of lists, of the whole file.
    shared: u64,
    listed: u64,
    /// Within a tag: its first letters.
    tag: Option<Vec<u8>>,
    /// Octets since the last tag, and since the cell or the text began.
    since_tag: usize,
    within: Option<usize>,
}

impl Count {
    fn begin(&mut self, name: &str) {
        (self.octets, self.since_tag, self.within, self.tag) = (0, 0, None, None);
        self.is_shared = name.ends_with("sharedstrings.xml");
        // Sheets are read cell by cell, pictures not at all.
        self.is_sheet = name.contains("/worksheets/");
        self.is_unread = name.contains("/media/") && !name.ends_with(".xml") && !name.ends_with(".rels");
    }

    fn read(&mut self, mut part: impl Read, most: u64) -> Result<(), TableError> {
        let mut piece = vec![0; PIECE];
        loop {
            let read = part.read(&mut piece).map_err(|error| unreadable(&error))?;
            if read == 0 {
                return Ok(());
            }
            let size = read as u64;
            let over = || too_large(format!("unpacks to over {} MiB", most / 1024 / 1024));
            self.left = self.left.checked_sub(size).ok_or_else(over)?;
            self.octets += size;
            if self.is_unread {
                continue;
            }
            if !self.is_sheet && !self.is_shared && self.octets > KEPT_MOST {
                return Err(too_large(format!("has a part of over {} MiB that is no sheet", KEPT_MOST / 1024 / 1024)));
            }
            for &byte in &piece[..read] {
                self.take(byte)?;
            }
        }
    }

    fn take(&mut self, byte: u8) -> Result<(), TableError> {
        self.since_tag += 1;
        self.within = self.within.map(|octets| octets + 1);
        if self.since_tag > ROW_MOST || self.within.is_some_and(|octets| octets > ROW_MOST) {
            return Err(too_large("has a text of over 1 MiB"));
        }
        match (&mut self.tag, byte) {
            (tag, b'<') => {
                *tag = Some(Vec::new());
                self.since_tag = 0;
            }
            (Some(_), b'>') => {
                let tag = self.tag.take().unwrap_or_default();
                self.since_tag = 0;
                self.ended(&tag)?;
            }
            (Some(tag), _) if tag.len() < TAG_KEPT => tag.push(byte),
            _ => {}
        }
        Ok(())
    }

    fn ended(&mut self, tag: &[u8]) -> Result<(), TableError> {
        let (is_end, tag) = tag.strip_prefix(b"/").map_or((false, tag), |tag| (true, tag));
        let name = tag.split(|byte| byte.is_ascii_whitespace() || *byte == b'/').next().unwrap_or_default();
        let name = name.rsplit(|byte| *byte == b':').next().unwrap_or_default();
        match name {
            b"c" | b"si" => {
                self.within = (!is_end && !tag.ends_with(b"/")).then_some(0);
                self.shared += u64::from(name == b"si" && !is_end);
            }
            b"row" | b"sheetData" | b"sst" => self.within = None,
            name if LISTED.contains(&name) => self.listed += 1,
            _ => {}
        }
        // The list's own word on its length is taken by the reader to make room.
        let told = (name == b"sst").then(|| told_length(tag)).flatten().unwrap_or_default();
        let room = told.max(self.shared).saturating_mul(SHARED_EACH);
        let texts = if self.is_shared { self.octets } else { 0 };
        if room.saturating_add(texts) > SHARED_MOST {
            return Err(too_large(format!("has shared texts of over {} MiB", SHARED_MOST / 1024 / 1024)));
        }
        if self.listed > LISTED_MOST {
            return Err(too_large(format!("lists over {LISTED_MOST} sheets, styles and names")));
        }
        Ok(())
    }
}

/// As much of a tag as is looked at.
const TAG_KEPT: usize = 400;

/// The greatest number among the attributes of a tag.
fn told_length(tag: &[u8]) -> Option<u64> {
    let text = String::from_utf8_lossy(tag);
    let numbers = text.split(['"', '\'']).filter_map(|value| value.trim().parse::<u128>().ok());
    numbers.max().map(|number| u64::try_from(number).unwrap_or(u64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_unpacks_too_far_is_refused_whatever_its_directory_says() {
        let mut book = rust_xlsxwriter::Workbook::new();
        let sheet = book.add_worksheet();
        sheet.write_string(0, 0, "text").unwrap();
        sheet.write_string(1, 0, "lift 3 ".repeat(1000)).unwrap();
        let bytes = book.save_to_buffer().unwrap();
        assert!(check_within(&bytes, 1024 * 1024).is_ok());
        let refused = check_within(&bytes, 4 * 1024).unwrap_err();
        assert!(matches!(refused, TableError::BookTooLarge(_)), "{refused}");
    }
}
