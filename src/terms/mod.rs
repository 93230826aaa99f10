//! What the words of growers and the physics both name: crops, soils, kinds of pipe, ways of watering, stances, skies.
//!
//! Never a figure, a word of any human language, or anything of another room: names alone.

mod grown;
mod pipe_kind;
mod stance;
mod test_sky;
mod watering;

pub use grown::{CROPS, SOILS};
pub use pipe_kind::PipeKind;
pub use stance::StanceKind;
pub use test_sky::TestSky;
pub use watering::Watering;
