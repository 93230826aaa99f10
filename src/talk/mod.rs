//! One step of a conversation: where it stood and what was heard in, where it stands and what to say out.
//!
//! Never a clock (time is an argument), a database, a network, a file, randomness, or a word of any human language: what is
//! said comes out as values that `reply` words.

mod answer;
mod buying;
mod known;
mod local;
mod placing;
mod say;
mod spotted;
mod state;
mod step;
mod world;

pub use answer::{AnswerError, Depth, answer_sheet};
pub use known::{Known, PumpGap};
pub use local::local_time;
pub use say::{Assumption, Safety, Say};
pub use spotted::read;
pub use state::{Asked, Channel, Talk};
pub use step::{Heard, Step, step};
pub use world::{NoSite, PlaceSource, Site, World};
