//! What a language folder holds.
mod field;
pub use field::{Command, Field};

/// Every language the program was started with.
#[derive(Debug, Default)]
pub struct Languages;
