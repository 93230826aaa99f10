//! One step of a conversation: where it stood and what was heard in, where it stands and what to say out.
//!
//! Never a clock (time is an argument), a database, a network, a file, randomness, or a word of any human language: what is
//! said comes out as values that `reply` words.

mod about;
mod answer;
mod guide;
mod known;
mod safety;
mod say;
mod state;
mod step;
mod told;
mod ussd;
mod world;

pub use answer::{AnswerError, answer_sheet};
pub use guide::{Page, Topic};
pub use known::{Known, PumpGap};
pub use safety::lines_for;
pub use say::{Assumption, Safety, Say};
pub use state::{Asked, Channel, Talk};
pub use step::{Heard, Step, step};
pub use ussd::{Item, Menu, UssdScreen, UssdStep, step_ussd};
pub use world::World;
