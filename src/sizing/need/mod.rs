//! What a garden drinks, and how long its soil holds it.

pub mod crop;
pub mod soil;
