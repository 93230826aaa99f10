//! How water is given.

use serde::{Deserialize, Serialize};

/// How the water reaches the plants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Watering {
    Furrow,
    Hose,
    Drip,
    Sprinkler,
}

impl Watering {
    /// Every way of watering.
    pub const ALL: [Watering; 4] = [Watering::Furrow, Watering::Hose, Watering::Drip, Watering::Sprinkler];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Watering::Furrow => "furrow",
            Watering::Hose => "hose",
            Watering::Drip => "drip",
            Watering::Sprinkler => "sprinkler",
        }
    }
}
