//! Who works at the desk, what they did, and the keys of machines.

pub mod accounts;
pub mod audit;
pub mod keys;
pub mod sessions;
