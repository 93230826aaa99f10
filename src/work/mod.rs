//! Background loops.

pub mod deliver;
pub mod refresh;
