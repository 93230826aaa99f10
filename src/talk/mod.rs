//! One step of a conversation: where it stood and what was heard in, where it stands and what to say out.
//!
//! Never a clock (time is an argument), a database, a network, a file, randomness, or a word of any human language: what is
//! said comes out as values that `reply` words.

mod about;
mod advising;
mod answer;
mod asking;
mod buying;
mod danger;
mod day;
mod doubt;
pub(crate) mod faults;
mod gallon;
mod guide;
mod in_danger;
mod known;
mod local;
mod menu;
mod placing;
mod reminder;
mod reminding;
mod safety;
mod safety_line;
mod say;
mod search;
mod state;
mod step;
mod stumble;
mod testing;
mod told;
mod topic;
mod topic_text;
mod turning;
mod ussd;
mod what_if;
mod world;

pub use advising::{AnswerError, Depth, answer_sheet, why_not};
pub use danger::{danger_of, step_after_danger, step_danger, without_questions};
pub use in_danger::InDanger;
pub use known::{Known, PumpGap};
pub use local::local_time;
pub use menu::{Item, Menu, UssdScreen};
pub use reminder::{Reminder, ReminderKind};
pub use reminding::remind;
pub use safety::{line_in_turn, lines_for, note_seen};
pub use safety_line::Safety;
pub use say::{Assumption, Compared, Outcome, ProposedSet, Say};
pub use search::{Search, StepTaken};
pub use state::{Asked, Channel, Talk};
pub use step::{say_sheet, step};
pub use testing::tell_fact;
pub use topic::{Page, Topic};
pub use turning::{Heard, Manner, Step, Taken};
pub use ussd::{UssdStep, step_ussd};
pub use world::{NoSite, PlaceSource, Site, World};
