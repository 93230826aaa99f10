//! Talks with growers as staff see them.

mod ready;
mod sheet;
pub mod talk;
pub mod tryout;
pub mod undelivered;
pub mod waiting;
