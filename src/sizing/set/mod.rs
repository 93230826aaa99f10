//! One set at one place: its sheet, its design, its year, and how sure all of that is.

pub mod demand;
pub mod design;
pub mod guess;
pub mod over_drive;
pub mod sheet;
pub mod site;
pub mod spread;
pub mod verdict;
