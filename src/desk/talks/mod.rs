//! Talks with growers as staff see them.

pub mod act;
pub mod found;
pub mod grower;
mod ready;
mod sheet;
pub mod talk;
pub mod told;
pub mod tryout;
pub mod undelivered;
pub mod waiting;
