//! What a reply is given, and how fully it is worded.

use std::borrow::Cow;

/// How fully a reply is worded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Length {
    /// The value of the message.
    Long,
    /// Its attribute `.short`.
    Short,
    /// Its attribute `.tiny`.
    Tiny,
}

impl Length {
    /// The length that an attribute holds.
    pub(super) fn of_attribute(name: &str) -> Option<Length> {
        match name {
            "short" => Some(Length::Short),
            "tiny" => Some(Length::Tiny),
            _ => None,
        }
    }

    /// The attribute that holds it; the full wording is the value and has none.
    pub(super) fn attribute(self) -> Option<&'static str> {
        match self {
            Length::Long => None,
            Length::Short => Some("short"),
            Length::Tiny => Some("tiny"),
        }
    }
}

/// A value that a reply places in its text or chooses its words by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value<'a> {
    /// Placed as it is, or a code to choose by.
    Text(Cow<'a, str>),
    /// A number that chooses a plural by the language's rules (Unicode CLDR).
    Count(u32),
}

impl<'a> From<&'a str> for Value<'a> {
    fn from(text: &'a str) -> Self {
        Value::Text(text.into())
    }
}

impl From<String> for Value<'_> {
    fn from(text: String) -> Self {
        Value::Text(text.into())
    }
}

impl From<u32> for Value<'_> {
    fn from(count: u32) -> Self {
        Value::Count(count)
    }
}
