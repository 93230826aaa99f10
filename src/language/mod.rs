//! What a language folder holds.
mod field;
mod replies;
pub use field::{Command, Field};
pub use replies::{Kind, Length, Replies, ReplyTrouble, Required, Value};

/// Every language the program was started with.
#[derive(Debug, Default)]
pub struct Languages;
