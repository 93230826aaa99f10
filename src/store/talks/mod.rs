//! Where each talk stands, what waits for a human, and what growers asked to be reminded of.

pub mod reminders;
pub mod talk;
pub mod waiting;
