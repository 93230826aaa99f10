//! How panels stand.

use serde::{Deserialize, Serialize};

/// How the panels stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StanceKind {
    Flat,
    Fixed,
    /// Turned by hand through the day.
    Turned,
}

impl StanceKind {
    /// Every stance.
    pub const ALL: [StanceKind; 3] = [StanceKind::Flat, StanceKind::Fixed, StanceKind::Turned];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            StanceKind::Flat => "flat",
            StanceKind::Fixed => "fixed",
            StanceKind::Turned => "turned",
        }
    }
}
