//! How well messages are understood: corpora written by hand, each message with what should come of it, against what does.
//!
//! Never a file, a clock, a database or the network: corpora come in as bytes. Never a sentence either; `cli` prints the figures.

mod corpus;
mod outcome;

pub use corpus::{Corpus, CorpusFault, Half, Row};
pub use outcome::{Grade, Outcome, measure};
