//! Background loops.

pub mod deliver;
