//! A text as a phone gets it: in parts, each with its characters counted.

use serde::{Deserialize, Serialize};

use crate::reply::{Encoding, PhoneText};

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
    /// The text in the parts that the network makes of it.
    pub fn of(text: &str) -> Self {
        let phone = PhoneText::new(text);
        let encoding = phone.encoding;
        let room = if phone.parts > 1 { encoding.part_units() } else { encoding.single_units() };
        let units_of = |part: &str| part.chars().filter_map(|letter| encoding.units_of(letter)).sum();
        let parts = phone.parts().into_iter().map(|part| Part { text: part.to_owned(), units: units_of(part), room });
        Self { encoding, parts: parts.collect() }
    }

    /// The encoding as the trade writes it.
    pub fn encoding_name(&self) -> &'static str {
        match self.encoding {
            Encoding::Gsm7 => "GSM 7-bit",
            Encoding::Ucs2 => "UCS-2",
        }
    }
}
