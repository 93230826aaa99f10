//! The atlas: monthly climates of weather stations, so that a talk can begin in any town and at any spot on the map.
//!
//! Never a clock, a database, a network, a file (the table is part of the program), randomness, or a word of any human
//! language but names of towns and of sources.
//!
//! - [`station`]: the table, and a station as a place with radiation from its sunshine.
//! - [`names`]: towns by name, whatever the case and the accents, and those that were nearly named.
//! - [`nearest`]: the climate of a spot from the station nearest to it.

pub mod names;
pub mod nearest;
pub mod station;

pub use names::{name_key, near_name, town};
pub use nearest::{Near, nearest};
pub use station::{Station, stations};
