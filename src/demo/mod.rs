//! The invented place that a deployment starts with, until it imports its own: the valley of the river Kito.

/// The demo place as a place file.
pub const PLACE_JSON: &str = include_str!("kito.json");
