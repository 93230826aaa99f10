//! The light on panels that stand somehow.

pub mod clear_sky;
pub mod sky;
pub mod stance;
