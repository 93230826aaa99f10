//! Cuts a stream of bytes into what is to be answered one by one: the elements of an array, or lines. What is wrong is an
//! error in its place, and the next piece is cut as if it had not been.

use std::collections::VecDeque;

/// One element is no longer, octets.
pub const ELEMENT_MOST: usize = 64 * 1024;

/// An element's bytes, or what is wrong with it.
pub type Piece = Result<Vec<u8>, &'static str>;

const TOO_LONG: &str = "this is over 64 KiB; send less in one object";
const BEHIND: &str = "something stands behind the array; send one array, or objects one a line";
const CUT_OFF: &str = "the array ends before its closing bracket; send it whole";

/// The byte-order mark in UTF-8.
const MARK: &[u8] = "\u{feff}".as_bytes();

/// What stands in the stream.
#[derive(Default)]
enum Form {
    /// Nothing has been said yet.
    #[default]
    Blank,
    Lines,
    Array,
    /// Behind an array, where nothing may stand.
    Behind,
    /// Something did, and that has been said.
    Over,
}

#[derive(Default)]
pub struct Cutter {
    form: Form,
    piece: Vec<u8>,
    is_too_long: bool,
    /// How many brackets are open within the element.
    depth: usize,
    in_text: bool,
    is_escaped: bool,
    pub ready: VecDeque<Piece>,
}

impl Cutter {
    pub fn take(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            match self.form {
                Form::Blank if byte == b'[' => self.form = Form::Array,
                // Some programs put a mark of the encoding first.
                Form::Blank if !byte.is_ascii_whitespace() && !MARK.contains(&byte) => {
                    self.form = Form::Lines;
                    self.keep(byte);
                }
                Form::Lines if byte == b'\n' => self.cut(),
                Form::Lines => self.keep(byte),
                Form::Array => self.take_of_array(byte),
                Form::Behind if !byte.is_ascii_whitespace() => {
                    self.ready.push_back(Err(BEHIND));
                    self.form = Form::Over;
                }
                Form::Blank | Form::Behind | Form::Over => {}
            }
        }
    }

    fn take_of_array(&mut self, byte: u8) {
        if self.in_text {
            match byte {
                _ if self.is_escaped => self.is_escaped = false,
                b'\\' => self.is_escaped = true,
                b'"' => self.in_text = false,
                _ => {}
            }
            return self.keep(byte);
        }
        match byte {
            b',' if self.depth == 0 => return self.cut(),
            b']' if self.depth == 0 => {
                self.cut();
                self.form = Form::Behind;
                return;
            }
            b'"' => self.in_text = true,
            b'{' | b'[' => self.depth += 1,
            b'}' | b']' => self.depth = self.depth.saturating_sub(1),
            _ => {}
        }
        self.keep(byte);
    }

    fn keep(&mut self, byte: u8) {
        if self.piece.len() < ELEMENT_MOST { self.piece.push(byte) } else { self.is_too_long = true }
    }

    /// The element ends here; an empty one says nothing.
    fn cut(&mut self) {
        let piece = std::mem::take(&mut self.piece);
        if std::mem::take(&mut self.is_too_long) {
            self.ready.push_back(Err(TOO_LONG));
        } else if !piece.trim_ascii().is_empty() {
            self.ready.push_back(Ok(piece));
        }
        (self.depth, self.in_text, self.is_escaped) = (0, false, false);
    }

    /// The bytes are over.
    pub fn end(&mut self) {
        match self.form {
            Form::Lines => self.cut(),
            Form::Array => self.ready.push_back(Err(CUT_OFF)),
            Form::Blank | Form::Behind | Form::Over => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str, size: usize) -> Vec<Result<String, &'static str>> {
        let mut cutter = Cutter::default();
        text.as_bytes().chunks(size).for_each(|bytes| cutter.take(bytes));
        cutter.end();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap().trim().to_owned();
        cutter.ready.into_iter().map(|piece| piece.map(text)).collect()
    }

    #[test]
    fn elements_are_cut_wherever_the_pieces_of_the_body_end() {
        let elements = [r#"{"a":"}],{\"\\"}"#, r#"{"b":{"c":[1,{}]}}"#, "5", r#""[""#, "{oops"];
        let by_line = elements.map(|element| format!("{element}\r\n\n")).concat();
        for size in 1..by_line.len() {
            assert_eq!(cut(&by_line, size), elements.map(|element| Ok(element.to_owned())), "{size}");
        }
        let whole = &elements[..4];
        let array = format!("\u{feff} [{} ]\n", whole.join(" ,\n"));
        for size in 1..array.len() {
            assert_eq!(
                cut(&array, size),
                whole.iter().map(|element| Ok((*element).to_owned())).collect::<Vec<_>>(),
                "{size}"
            );
        }
    }

    #[test]
    fn what_is_wrong_is_an_error_in_its_place_and_the_rest_goes_on() {
        let long = format!("{{\"a\":\"{}\"}}", "x".repeat(ELEMENT_MOST));
        let good = || Ok("{}".to_owned());
        assert_eq!(cut(&format!("{{}}\n{long}\n{{}}"), 4096), [good(), Err(TOO_LONG), good()]);
        assert_eq!(cut(&format!("[{{}},{long},{{}}]"), 4096), [good(), Err(TOO_LONG), good()]);
        assert_eq!(cut("[{},{}", 3), [good(), Err(CUT_OFF)]);
        assert_eq!(cut("[{}] {} [", 3), [good(), Err(BEHIND)]);
        assert_eq!(cut("", 1), []);
        assert_eq!(cut("[]", 1), []);
    }
}
