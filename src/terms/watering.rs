//! How water is given.

use serde::{Deserialize, Serialize};

/// How the water reaches the plants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Watering {
    Furrow,
    Hose,
    /// A kit fed from a drum.
    Drip,
    /// Drip tape behind a filter.
    Tape,
    Sprinkler,
}

impl Watering {
    /// Every way of watering.
    pub const ALL: [Watering; 5] = [Watering::Furrow, Watering::Hose, Watering::Drip, Watering::Tape, Watering::Sprinkler];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Watering::Furrow => "furrow",
            Watering::Hose => "hose",
            Watering::Drip => "drip",
            Watering::Tape => "tape",
            Watering::Sprinkler => "sprinkler",
        }
    }
}
