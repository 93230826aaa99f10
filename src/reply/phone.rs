//! A text as a phone network counts it.

use serde::{Deserialize, Serialize};

/// How the characters of a text travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Encoding {
    /// The default alphabet of 3GPP TS 23.038 with its extension table.
    Gsm7,
    /// UTF-16 code units.
    Ucs2,
}

/// A text with its encoding and its size counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhoneText {
    pub text: String,
    pub encoding: Encoding,
    /// Septets in `Gsm7` (an extension character counts two), UTF-16 code units in `Ucs2`.
    pub units: usize,
    pub parts: usize,
}
