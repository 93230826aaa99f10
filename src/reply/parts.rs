//! Where the network cuts a text that is longer than one short message.
//!
//! Source: 3GPP TS 23.040, 9.2.3.24.1: 140 octets a message; a concatenated part gives 6 of them to the header that
//! carries the 8-bit reference, the count and the number of the part.

use super::alphabet::Encoding;

impl Encoding {
    /// Units that a single message holds: 140 octets are 160 septets or 70 UTF-16 code units.
    pub fn single_units(self) -> usize {
        match self {
            Encoding::Gsm7 => 160,
            Encoding::Ucs2 => 70,
        }
    }

    /// Units that each part of a longer text holds: 134 octets are 153 septets (one bit is fill) or 67 code units.
    pub fn part_units(self) -> usize {
        match self {
            Encoding::Gsm7 => 153,
            Encoding::Ucs2 => 67,
        }
    }
}

/// Units of a text in an encoding; a character outside it counts nothing.
pub(super) fn count_units(text: &str, encoding: Encoding) -> usize {
    text.chars().filter_map(|c| encoding.units_of(c)).sum()
}

/// The parts that a text travels in, in order; together they are the text.
///
/// A character never straddles two parts: the escape and its septet stay together (23.038, 6.2.1.1), and so does a
/// surrogate pair. A part may therefore be one unit short, which is why parts are cut and not divided.
pub(super) fn split(text: &str, encoding: Encoding) -> Vec<&str> {
    if count_units(text, encoding) <= encoding.single_units() {
        return vec![text];
    }
    let (mut parts, mut start, mut filled) = (Vec::new(), 0, 0);
    for (at, c) in text.char_indices() {
        let units = encoding.units_of(c).unwrap_or(0);
        if filled + units > encoding.part_units() {
            parts.push(&text[start..at]);
            (start, filled) = (at, 0);
        }
        filled += units;
    }
    parts.push(&text[start..]);
    parts
}
