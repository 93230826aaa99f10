//! What templates do with a text.

/// A sentence of the page in the reader's language.
#[askama::filter_fn]
pub fn t(text: impl std::fmt::Display, _: &dyn askama::Values) -> askama::Result<String> {
    Ok(super::words::said(&text.to_string()).into_owned())
}
