//! Background loops.

pub mod background;
pub mod bulk;
pub mod deliver;
pub mod events;
pub mod housekeeping;
pub mod refresh;
pub mod remind;
