//! A text as a phone network counts it.

use super::alphabet::Encoding;
use super::parts::{count_units, split};

/// Octets that one USSD string holds (3GPP TS 29.002, maxUSSD-StringLength): 182 septets or 80 UTF-16 code units.
pub const USSD_OCTETS: usize = 160;

/// A text with its encoding and its size counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhoneText {
    pub text: String,
    pub encoding: Encoding,
    /// Septets in `Gsm7` (an extension character counts two), UTF-16 code units in `Ucs2`.
    pub units: usize,
    /// Short messages that the text takes; an empty text takes one.
    pub parts: usize,
}

impl PhoneText {
    /// Counts a text.
    pub fn new(text: impl Into<String>) -> PhoneText {
        let text = text.into();
        let encoding = Encoding::of(&text);
        let (units, parts) = (count_units(&text, encoding), split(&text, encoding).len());
        PhoneText { text, encoding, units, parts }
    }

    /// The text cut where the network cuts it: whole characters, `parts` of them, nothing lost between them.
    pub fn parts(&self) -> Vec<&str> {
        split(&self.text, self.encoding)
    }

    /// Octets of the text as one string without headers: septets packed eight into seven octets (23.038, 6.1.2.3), or
    /// two octets a UTF-16 code unit.
    pub fn octets(&self) -> usize {
        match self.encoding {
            Encoding::Gsm7 => (self.units * 7).div_ceil(8),
            Encoding::Ucs2 => self.units * 2,
        }
    }

    /// Whether one USSD screen holds the text.
    pub fn fits_screen(&self) -> bool {
        self.octets() <= USSD_OCTETS
    }
}
