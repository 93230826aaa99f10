//! What a garden drinks, and how long its soil holds it.

pub mod crop;
pub mod growth;
pub mod rounds;
pub mod soil;
