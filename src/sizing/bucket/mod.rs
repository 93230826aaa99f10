//! What a bucket and a stopwatch teach.

pub mod fitting;
pub mod judging;
pub mod test;
