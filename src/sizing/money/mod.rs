//! What a set costs, at first and over the years.

pub mod cash_flow;
pub mod costs;
pub mod market;
