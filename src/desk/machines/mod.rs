//! What machines ask: answers, the description of all of it, and how things stand.

pub mod answers;
pub mod health;
pub mod metrics;
pub mod openapi;
pub mod records;
