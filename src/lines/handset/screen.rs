//! A text as a phone gets it: in parts, each with its characters counted.

use serde::{Deserialize, Serialize};

use crate::reply::Encoding;

/// What one message looks like on the phone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Screen {
    pub encoding: Encoding,
    pub parts: Vec<Part>,
}

/// One part of a message on the air.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Part {
    pub text: String,
    /// What the text takes up in this part: septets, or UTF-16 code units.
    pub units: usize,
    /// What a part holds.
    pub room: usize,
}

impl Screen {
    /// One part where the whole fits; else shorter ones, since each then starts with a header that says which it is
    /// (3GPP TS 23.040, 9.2.3.24.1: 160 and 153 septets, 70 and 67 code units).
    pub fn of(text: &str, encoding: Encoding) -> Self {
        let (whole, piece) = match encoding {
            Encoding::Gsm7 => (160, 153),
            Encoding::Ucs2 => (70, 67),
        };
        let total: usize = text.chars().map(|c| units_of(c, encoding)).sum();
        let room = if total <= whole { whole } else { piece };
        let mut parts = vec![Part { text: String::new(), units: 0, room }];
        for c in text.chars() {
            let units = units_of(c, encoding);
            // A character is never cut in two: what does not fit whole goes to the next part.
            if parts.last().is_some_and(|part| part.units + units > room) {
                parts.push(Part { text: String::new(), units: 0, room });
            }
            if let Some(part) = parts.last_mut() {
                part.text.push(c);
                part.units += units;
            }
        }
        Self { encoding, parts }
    }

    /// The encoding as the trade writes it.
    pub fn encoding_name(&self) -> &'static str {
        match self.encoding {
            Encoding::Gsm7 => "GSM 7-bit",
            Encoding::Ucs2 => "UCS-2",
        }
    }
}

/// What a character takes up. The extension table's characters (3GPP TS 23.038, 6.2.1.1) follow an escape.
fn units_of(c: char, encoding: Encoding) -> usize {
    match encoding {
        Encoding::Ucs2 => c.len_utf16(),
        Encoding::Gsm7 if "\u{c}^{}\\[~]|€".contains(c) => 2,
        Encoding::Gsm7 => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sizes(text: &str, encoding: Encoding) -> Vec<usize> {
        Screen::of(text, encoding).parts.iter().map(|part| part.units).collect()
    }

    #[test]
    fn parts_hold_what_the_standard_says() {
        assert_eq!(sizes("", Encoding::Gsm7), [0]);
        assert_eq!(sizes(&"a".repeat(160), Encoding::Gsm7), [160]);
        assert_eq!(sizes(&"a".repeat(161), Encoding::Gsm7), [153, 8]);
        assert_eq!(sizes(&"é".repeat(70), Encoding::Ucs2), [70]);
        assert_eq!(sizes(&"é".repeat(71), Encoding::Ucs2), [67, 4]);
    }

    #[test]
    fn a_character_of_two_units_is_not_cut() {
        assert_eq!(sizes(&"€".repeat(80), Encoding::Gsm7), [160]);
        assert_eq!(sizes(&"€".repeat(81), Encoding::Gsm7), [152, 10]);
        assert_eq!(sizes(&"🌱".repeat(36), Encoding::Ucs2), [66, 6]);
    }
}
