//! Where each talk stands, what waits for a human, and what growers asked to be reminded of.

pub mod drafts;
pub mod events;
pub mod growers;
pub mod hand;
pub mod history;
pub mod records;
pub mod reminders;
pub mod talk;
pub mod waiting;
