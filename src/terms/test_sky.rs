//! The sky over a bucket test.

use serde::{Deserialize, Serialize};

/// The sky during a bucket test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TestSky {
    Clear,
    Hazy,
    Cloudy,
}

impl TestSky {
    /// Every sky.
    pub const ALL: [TestSky; 3] = [TestSky::Clear, TestSky::Hazy, TestSky::Cloudy];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            TestSky::Clear => "clear",
            TestSky::Hazy => "hazy",
            TestSky::Cloudy => "cloudy",
        }
    }
}
