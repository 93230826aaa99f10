//! Is it enough.

use serde::{Deserialize, Serialize};

/// Area served over the garden from which a set is enough, and from which it is tight.
pub const ENOUGH_FROM: f64 = 1.1;
const TIGHT_FROM: f64 = 0.9;

/// Share of the need that the low end of the water's range must reach for a set to be enough.
pub const SURE_FROM: f64 = 0.9;

/// Whether the water serves the garden.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    Enough,
    Tight,
    Short,
    /// The panels drive the pump so hard that it does not last, whatever the water.
    Unfit,
}

impl Verdict {
    /// From the area that the water serves on the mean day and the garden, both m²; how sure that is comes on top, see
    /// [`super::spread::verdict_of`].
    pub fn of(area_m2: f64, garden_m2: f64) -> Verdict {
        if area_m2 >= ENOUGH_FROM * garden_m2 {
            Verdict::Enough
        } else if area_m2 >= TIGHT_FROM * garden_m2 {
            Verdict::Tight
        } else {
            Verdict::Short
        }
    }
}
