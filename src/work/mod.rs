//! Background loops.

pub mod bulk;
pub mod deliver;
pub mod refresh;
pub mod remind;
