//! How well messages are understood: corpora written by hand, each message with what should come of it, against what does.
//! Pure.

mod corpus;
mod outcome;
mod report;

pub use corpus::{Corpus, CorpusFault, Half, Row};
pub use outcome::{Grade, Outcome, measure};
pub use report::{misses, report};
