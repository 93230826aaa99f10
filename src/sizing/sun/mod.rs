//! Where the sun stands, and how a day's light divides.

pub mod beam;
pub mod day_types;
pub mod diffuse;
pub mod position;
