//! Everything that is said of a set.

pub mod advise;
pub mod caution;
pub mod changes;
pub mod choice;
pub mod cure;
pub mod day_plan;
pub mod proposal;
