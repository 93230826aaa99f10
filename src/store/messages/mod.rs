//! What comes in and what goes out: messages, replies on their way, lists of many, and deleting what a number said.

pub mod bulk;
mod bulk_care;
pub mod forget;
pub mod inbound;
mod interval;
pub mod line_state;
pub mod outbox;
pub mod reach;
pub mod sending;
pub mod undelivered;
