//! A bucket and a stopwatch: what was measured, when, under which sky, and of which set.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use crate::sizing::set::sheet::Sheet;
use crate::terms::TestSky;

/// One test.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BucketTest {
    pub litres: f64,
    pub seconds: f64,
    /// Height of the outlet above the water; the lift where not told.
    #[serde(default)]
    pub outlet_m: Option<f64>,
    pub at: DateTime<Utc>,
    pub sky: TestSky,
    /// The sheet as it stood when the test was made, once the set was changed after it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_then: Option<Box<Sheet>>,
}
