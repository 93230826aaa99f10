//! The default alphabet of the phone network, and whether a text can travel in it.
//!
//! Source: 3GPP TS 23.038, 6.2.1 (default alphabet) and 6.2.1.1 (extension table). National language tables are left
//! out: a handset that lacks one shows other letters than were sent.

use std::borrow::Cow;
use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use unicode_normalization::UnicodeNormalization;

/// How the characters of a text travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Encoding {
    /// The default alphabet of 3GPP TS 23.038 with its extension table.
    Gsm7,
    /// UTF-16 code units.
    Ucs2,
}

impl Encoding {
    /// The encoding a text needs: the default alphabet when it has every character, UCS-2 for the whole text when not.
    pub fn of(text: &str) -> Encoding {
        if text.chars().all(|c| GsmCode::of(c).is_some()) { Encoding::Gsm7 } else { Encoding::Ucs2 }
    }

    /// The encoding's name in the database and in calls to gateways.
    pub fn name(self) -> &'static str {
        match self {
            Encoding::Gsm7 => "gsm7",
            Encoding::Ucs2 => "ucs2",
        }
    }

    /// The encoding by that name; no other is stored.
    pub fn named(name: &str) -> Encoding {
        if name == "ucs2" { Encoding::Ucs2 } else { Encoding::Gsm7 }
    }

    /// The units one character takes: septets in `Gsm7`, UTF-16 code units in `Ucs2`; `None` where it cannot travel.
    pub fn units_of(self, c: char) -> Option<usize> {
        match self {
            Encoding::Gsm7 => GsmCode::of(c).map(GsmCode::septets),
            Encoding::Ucs2 => Some(c.len_utf16()),
        }
    }
}

/// Where a character stands in the default alphabet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GsmCode {
    /// In the default table: one septet.
    Plain(u8),
    /// In the extension table: an escape (0x1B) and one more septet.
    Escaped(u8),
}

impl GsmCode {
    /// The code of a character; `None` for every character outside the two tables.
    ///
    /// The escape 0x1B announces the extension table and stands for no character, so U+001B has no code.
    pub fn of(c: char) -> Option<GsmCode> {
        use GsmCode::{Escaped, Plain};
        Some(match c {
            // These stand at the places that ASCII gives them.
            '\n' | '\r' | ' '..='#' | '%'..='?' | 'A'..='Z' | 'a'..='z' => Plain(c as u8),
            '@' => Plain(0x00),
            '£' => Plain(0x01),
            '$' => Plain(0x02),
            '¥' => Plain(0x03),
            'è' => Plain(0x04),
            'é' => Plain(0x05),
            'ù' => Plain(0x06),
            'ì' => Plain(0x07),
            'ò' => Plain(0x08),
            // Capital only: the small ç is not in the alphabet.
            'Ç' => Plain(0x09),
            'Ø' => Plain(0x0B),
            'ø' => Plain(0x0C),
            'Å' => Plain(0x0E),
            'å' => Plain(0x0F),
            'Δ' => Plain(0x10),
            '_' => Plain(0x11),
            'Φ' => Plain(0x12),
            'Γ' => Plain(0x13),
            'Λ' => Plain(0x14),
            'Ω' => Plain(0x15),
            'Π' => Plain(0x16),
            'Ψ' => Plain(0x17),
            'Σ' => Plain(0x18),
            'Θ' => Plain(0x19),
            'Ξ' => Plain(0x1A),
            'Æ' => Plain(0x1C),
            'æ' => Plain(0x1D),
            'ß' => Plain(0x1E),
            'É' => Plain(0x1F),
            '¤' => Plain(0x24),
            '¡' => Plain(0x40),
            'Ä' => Plain(0x5B),
            'Ö' => Plain(0x5C),
            'Ñ' => Plain(0x5D),
            'Ü' => Plain(0x5E),
            '§' => Plain(0x5F),
            '¿' => Plain(0x60),
            'ä' => Plain(0x7B),
            'ö' => Plain(0x7C),
            'ñ' => Plain(0x7D),
            'ü' => Plain(0x7E),
            'à' => Plain(0x7F),
            '\u{0C}' => Escaped(0x0A),
            '^' => Escaped(0x14),
            '{' => Escaped(0x28),
            '}' => Escaped(0x29),
            '\\' => Escaped(0x2F),
            '[' => Escaped(0x3C),
            '~' => Escaped(0x3D),
            ']' => Escaped(0x3E),
            '|' => Escaped(0x40),
            '€' => Escaped(0x65),
            _ => return None,
        })
    }

    /// Septets on the air: one, or two with the escape.
    pub fn septets(self) -> usize {
        match self {
            GsmCode::Plain(_) => 1,
            GsmCode::Escaped(_) => 2,
        }
    }
}

/// A text with the letters that the default alphabet lacks replaced by a language's table, where that brings the whole
/// text into the alphabet; the text as it was where it does not, since replacing would then save nothing.
///
/// Letters that the alphabet has stay even if the table names them. Accents that come apart from their letters
/// (U+0301 and its like) are first joined to them.
pub fn replace_letters<'a>(text: &'a str, table: &BTreeMap<char, String>) -> Cow<'a, str> {
    if Encoding::of(text) == Encoding::Gsm7 {
        return Cow::Borrowed(text);
    }
    let mut replaced = String::with_capacity(text.len());
    for c in text.nfc() {
        match table.get(&c) {
            Some(instead) if GsmCode::of(c).is_none() => replaced.push_str(instead),
            _ => replaced.push(c),
        }
    }
    match Encoding::of(&replaced) {
        Encoding::Gsm7 => Cow::Owned(replaced),
        Encoding::Ucs2 => Cow::Borrowed(text),
    }
}
