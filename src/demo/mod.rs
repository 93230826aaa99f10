//! The invented place that a deployment starts with, until it imports its own: the valley of the river Kito, and what
//! things cost there.

/// The demo prices as a price list.
pub const PRICES_TOML: &str = include_str!("prices.toml");

/// The demo place as a place file.
pub const PLACE_JSON: &str = include_str!("kito.json");
