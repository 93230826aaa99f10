//! What a spreadsheet program made of a CSV: by what its cells are parted, how many rows stand above the names of its columns,
//! and in which encoding it is.

/// So much of the start is looked at.
pub const LOOKED_AT: usize = 64 * 1024;

/// Rows of the start that are looked at.
const ROWS: usize = 20;

/// By what cells may be parted; the first where nothing tells.
const DELIMITERS: [u8; 3] = [b',', b';', b'\t'];

/// Letters of Windows-1252 from 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252); the rest is Latin-1.
const WINDOWS: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}', '‘', '’', '“',
    '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

/// How a file is to be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Form {
    pub delimiter: u8,
    /// Rows above the names of the columns: a title.
    pub above: usize,
    pub is_utf8: bool,
}

impl Form {
    /// From the start of a file, which may end anywhere.
    pub fn of(start: &[u8]) -> Self {
        let is_utf8 = match std::str::from_utf8(start) {
            Ok(_) => true,
            // Cut within a letter.
            Err(error) => error.error_len().is_none(),
        };
        let best = DELIMITERS.map(|delimiter| (delimiter, evenness(&records(start, delimiter))));
        let (mut delimiter, mut most) = best[0];
        for (other, even) in best {
            if even > most {
                (delimiter, most) = (other, even);
            }
        }
        Self { delimiter, above: above(&records(start, delimiter)), is_utf8 }
    }

    /// What staff should know of it.
    pub fn notes(&self) -> Vec<&'static str> {
        let mut notes = Vec::new();
        match self.delimiter {
            b';' => notes.push("its cells are parted by semicolons"),
            b'\t' => notes.push("its cells are parted by tabs"),
            _ => {}
        }
        if self.above > 0 {
            notes.push("a title stands above the names of the columns and was passed over");
        }
        if !self.is_utf8 {
            notes.push("it is not in UTF-8 and was read as Latin-1 (Windows-1252); look at the accents");
        }
        notes
    }
}

/// How many cells of each row hold something, of how many.
fn records(start: &[u8], delimiter: u8) -> Vec<(usize, usize)> {
    let mut reader = csv::ReaderBuilder::new().delimiter(delimiter).flexible(true).has_headers(false).from_reader(start);
    let told = |record: csv::ByteRecord| (record.iter().filter(|cell| !cell.trim_ascii().is_empty()).count(), record.len());
    reader.byte_records().map_while(Result::ok).take(ROWS).map(told).collect()
}

/// Rows with as many cells as most have, where that is more than one; the more cells, the surer.
fn evenness(records: &[(usize, usize)]) -> (usize, usize) {
    let of = |cells: usize| records.iter().filter(|(_, count)| *count == cells).count();
    let widths = records.iter().map(|(_, count)| *count).filter(|count| *count > 1);
    widths.map(|cells| (of(cells), cells)).max().unwrap_or_default()
}

/// A title has its one text in a row of several cells, as spreadsheet programs write it: a head of one column has one cell.
fn above(records: &[(usize, usize)]) -> usize {
    records.iter().position(|(held, cells)| *held > 1 || *cells <= 1).unwrap_or_default()
}

/// A cell's text: UTF-8, or else Windows-1252.
pub fn text_of(cell: &[u8]) -> String {
    let letter = |byte: &u8| match byte {
        0x80..=0x9f => WINDOWS[usize::from(*byte) - 0x80],
        byte => char::from(*byte),
    };
    std::str::from_utf8(cell).map_or_else(|_| cell.iter().map(letter).collect(), str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_spreadsheet_programs_write_is_seen() {
        let form = |text: &[u8]| Form::of(text);
        let plain = Form { delimiter: b',', above: 0, is_utf8: true };
        assert_eq!(form(b"name,text\nAsha,lift 3\n"), plain);
        assert_eq!(form(b"text\nlift 3, pipe 30\nlift 4, pipe 20, garden 900\n"), plain, "one column with commas in it");
        assert_eq!(form(b"name;text\nAsha;lift 3, pipe 30\nBaraka;lift 4, pipe 20\n").delimiter, b';');
        assert_eq!(form(b"name\ttext\nAsha\tlift 3\n").delimiter, b'\t');
        assert_eq!(form(b"Season of the valley;;\n;;\nname;text;village\nAsha;lift 3;Kito\nB;lift 4;Kito\n").above, 2);
        assert!(!form(b"name,text\nAmin\xe9,lift 3\n").is_utf8);
        assert!(form("name,text\nAminé".as_bytes().split_last().unwrap().1).is_utf8, "cut within a letter");
        assert_eq!(text_of(b"Amin\xe9 \x80 5"), "Aminé € 5");
        assert_eq!(text_of("Aminé".as_bytes()), "Aminé");
    }
}
