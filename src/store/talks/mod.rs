//! Where each talk stands, what waits for a human, and what growers asked to be reminded of.

pub mod drafts;
pub mod growers;
pub mod hand;
pub mod history;
pub mod reminders;
pub mod talk;
pub mod waiting;
