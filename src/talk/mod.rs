//! One step of a conversation: where it stood and what was heard in, where it stands and what to say out.
//!
//! Never a clock (time is an argument), a database, a network, a file, randomness, or a word of any human language: what is
//! said comes out as values that `reply` words.

mod about;
mod answer;
mod buying;
mod day;
mod gallon;
mod guide;
mod known;
mod local;
mod placing;
mod reminding;
mod safety;
mod say;
mod state;
mod step;
mod testing;
mod told;
mod ussd;
mod world;

pub use answer::{AnswerError, Depth, answer_sheet, why_not};
pub use guide::{Page, Topic};
pub use known::{Known, PumpGap};
pub use local::local_time;
pub use reminding::{Reminder, ReminderKind, remind};
pub use safety::{line_in_turn, lines_for, note_seen};
pub use say::{Assumption, ProposedSet, Safety, Say};
pub use state::{Asked, Channel, Talk};
pub use step::{Heard, Manner, Step, Taken, say_sheet, step};
pub use testing::tell_fact;
pub use ussd::{Item, Menu, UssdScreen, UssdStep, step_ussd};
pub use world::{NoSite, PlaceSource, Site, World};
