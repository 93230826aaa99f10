//! noonwater answers growers by text message: will this solar pump, on these panels, through that hose, water that
//! garden, and if not, what would.
//!
//! The modules in reading order:
//!
//! - [`units`]: physical quantities and their conversions.
//! - [`sizing`]: the physics, from the sky to the verdict. Pure.
//! - [`language`]: what a language folder holds: words, units, replies, alphabet. Pure.
//! - [`message`]: the grammar: text and language in, facts and troubles with their positions out. Pure.
//! - [`talk`]: one step of a conversation, with time as an argument. Pure.
//! - [`reply`]: what the talk says, as text that fits a phone. Pure.
//! - [`turn`]: one whole turn: message, step and reply put together; the one way to answer. Pure.

pub mod demo;
pub mod language;
pub mod message;
pub mod reply;
pub mod sizing;
pub mod talk;
pub mod turn;
pub mod units;
