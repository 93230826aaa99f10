//! The physics: from the sky over a place to the verdict on a set.
//!
//! Never a clock, a database, a network, a file, randomness, or a word of any human language: a pure function of its inputs,
//! which imports nothing of this program but `units` and `terms`. Out of range is an error, never a number.
//!
//! The rooms, from the ground up; each imports only what stands above it here:
//! - [`sun`]: where the sun stands, how a day's light divides; [`weather`]: a place's months and their evapotranspiration
//! - [`light`]: light on panels that stand somehow; [`parts`]: panel, pump, pipe, wire; [`need`]: what the garden drinks
//! - [`operating`]: where panel and pump meet, and a year of it
//! - [`set`]: one set at one place, and how sure what is said of it is
//! - [`bucket`]: what a stopwatch teaches; [`money`]: what it all costs
//! - [`advice`]: everything that is said

pub mod advice;
pub mod bucket;
pub mod error;
pub mod light;
pub mod money;
pub mod need;
pub mod operating;
pub mod parts;
pub mod set;
pub mod sun;
pub mod weather;

pub use advice::advise::{Advice, advise};
pub use error::SizingError;
pub use money::market::Market;
pub use set::sheet::Sheet;
pub use weather::climate::Climate;
pub use weather::place::{Place, PlaceError};
