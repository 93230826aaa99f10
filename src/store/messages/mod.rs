//! What comes in and what goes out: messages, replies on their way, lists of many, and deleting what a number said.

pub mod bulk;
pub mod forget;
pub mod inbound;
pub mod outbox;
pub mod undelivered;
