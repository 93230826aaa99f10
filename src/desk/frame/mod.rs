//! What stands around every page.

pub mod cell;
pub mod chart;
pub mod clock;
pub mod fault;
pub mod files;
pub mod filters;
pub mod member;
pub mod months;
pub mod page;
pub mod pasted;
pub mod show;
pub mod span;
pub mod words;
