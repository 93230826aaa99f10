//! Phone numbers in the form of ITU-T E.164, and short codes.

use std::fmt;

use rlibphonenumber::{PHONE_NUMBER_UTIL, ValidationError};

/// A phone number in E.164: `+`, a country code and a national number, at most 15 digits. Its `Debug` hides it, since
/// no number may reach a log.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Number(String);

#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NumberError {
    #[error("write the number as + and digits only, country code first (E.164)")]
    Form,
    #[error("no country code starts like this")]
    CountryCode,
    #[error("the number is too short for its country")]
    TooShort,
    #[error("the number is too long for its country")]
    TooLong,
}

impl Number {
    /// Checks form and length, not whether the number is assigned: ranges set aside for fiction are as good as others.
    pub fn parse(text: &str) -> Result<Self, NumberError> {
        let digits = text.strip_prefix('+').ok_or(NumberError::Form)?;
        if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) || digits.starts_with('0') {
            return Err(NumberError::Form);
        }
        // E.164 section 6: at most 15 digits. Seven is the shortest in use with its country code (memory).
        if digits.len() > 15 {
            return Err(NumberError::TooLong);
        }
        if digits.len() < 7 {
            return Err(NumberError::TooShort);
        }
        let parsed = PHONE_NUMBER_UTIL.parse(text, None).map_err(|_| NumberError::CountryCode)?;
        match PHONE_NUMBER_UTIL.is_possible_number_with_reason(&parsed) {
            Ok(_) => Ok(Self(text.to_owned())),
            Err(ValidationError::TooLong) => Err(NumberError::TooLong),
            Err(ValidationError::InvalidCountryCode) => Err(NumberError::CountryCode),
            Err(_) => Err(NumberError::TooShort),
        }
    }

    /// The country code with its plus.
    pub fn country_code(&self) -> Option<String> {
        PHONE_NUMBER_UTIL.parse(&self.0, None).ok().map(|parsed| format!("+{}", parsed.country_code))
    }

    /// As spreadsheets and people write it: with spaces, without the plus, or as it is dialled within the country of `home`,
    /// a number of ours.
    pub fn parse_near(text: &str, home: Option<&str>) -> Result<Self, NumberError> {
        let digits: String = text.chars().filter(|letter| letter.is_ascii_digit() || *letter == '+').collect();
        let is_number = |letter: char| letter.is_ascii_digit() || " +-.()/'\u{a0}".contains(letter);
        if !text.chars().all(is_number) {
            return Err(NumberError::Form);
        }
        if digits.starts_with('+') {
            return Self::parse(&digits);
        }
        if let Some(rest) = digits.strip_prefix("00") {
            return Self::parse(&format!("+{rest}"));
        }
        let region = home.and_then(|home| PHONE_NUMBER_UTIL.parse(home, None).ok());
        let region = region.and_then(|home| PHONE_NUMBER_UTIL.get_region_for_country_code(home.country_code));
        let dialled = || {
            let parsed = PHONE_NUMBER_UTIL.parse(&digits, Some(region?)).ok()?;
            Self::parse(&parsed.to_string()).ok()
        };
        let with_plus = Self::parse(&format!("+{digits}"));
        if digits.starts_with('0') {
            dialled().ok_or(NumberError::Form)
        } else {
            with_plus.or_else(|error| dialled().ok_or(error))
        }
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Number(hidden)")
    }
}

/// Whether a text can be a number of ours: E.164, or a short code of 3 to 8 digits.
pub fn is_ours(text: &str) -> bool {
    let is_short_code = (3..=8).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    is_short_code || Number::parse(text).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn e164_is_taken_and_all_else_is_refused_with_the_reason() {
        // +44 7700 900000 to 900999: set aside for drama by the United Kingdom's regulator.
        for good in ["+447700900000", "+447700900999", "+12025550123", "+255712345678"] {
            assert!(Number::parse(good).is_ok(), "{good}");
        }
        for (bad, reason) in [
            ("447700900000", NumberError::Form),
            ("+44 7700 900000", NumberError::Form),
            ("07700900000", NumberError::Form),
            ("+0447700900", NumberError::Form),
            ("+", NumberError::Form),
            ("", NumberError::Form),
            ("+44770090000x", NumberError::Form),
            ("+44770", NumberError::TooShort),
            ("+4477009000001234", NumberError::TooLong),
            ("+44770090000012", NumberError::TooLong),
            ("+9997700900000", NumberError::CountryCode),
        ] {
            assert_eq!(Number::parse(bad), Err(reason), "{bad}");
        }
    }

    #[test]
    fn a_short_code_is_ours_but_no_sender() {
        assert!(is_ours("32100") && is_ours("+447700900100"));
        assert!(!is_ours("12") && !is_ours("123456789") && !is_ours("32a"));
        assert!(Number::parse("32100").is_err());
    }

    #[test]
    fn debug_hides_the_number() {
        let number = Number::parse("+447700900123").map(|n| format!("{n:?}"));
        assert!(number.is_ok_and(|shown| !shown.contains("900123")));
    }

    #[test]
    fn numbers_of_spreadsheets_are_read_by_the_country_of_ours() {
        let home = Some("+447700900100");
        for text in ["+44 7700 900123", "447700900123", "07700 900123", "7700900123", "00447700900123", "(07700) 900-123"] {
            assert_eq!(Number::parse_near(text, home).map(|number| number.0), Ok("+447700900123".to_owned()), "{text}");
        }
        // Another country's, with its code.
        assert_eq!(Number::parse_near("255712345678", home).map(|number| number.0), Ok("+255712345678".to_owned()));
        for text in ["", "Asha", "12", "0"] {
            assert!(Number::parse_near(text, home).is_err(), "{text}");
        }
        assert!(Number::parse_near("07700900123", None).is_err(), "without a country");
    }
}
