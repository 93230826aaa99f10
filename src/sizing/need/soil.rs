//! How many days a soil holds what a crop drinks.

use super::crop::Crop;
use crate::sizing::error::{SizingError, within};

/// A soil, by the water that it holds between field capacity and wilting point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soil {
    /// Name in lower case with underscores; the language folders word it.
    pub name: &'static str,
    /// Available water, m³/m³, dry and wet end (FAO-56 table 19).
    pub available: [f64; 2],
}

/// The soils that a hand can tell apart, of those in FAO-56 (1998) table 19.
pub const SOILS: [Soil; 4] = [
    Soil { name: "sand", available: [0.05, 0.11] },
    Soil { name: "sandy_loam", available: [0.11, 0.15] },
    Soil { name: "loam", available: [0.13, 0.18] },
    Soil { name: "clay", available: [0.12, 0.20] },
];

/// The soil where none is named: what most gardens beside a river have (practice).
pub const SOIL_WHEN_NOT_STATED: &str = "loam";

/// Where the share of available water taken without stress may lie (FAO-56 table 22, footnote 2).
const DEPLETION: (f64, f64) = (0.1, 0.8);

/// The soil of a name.
pub fn soil_named(name: &str) -> Result<&'static Soil, SizingError> {
    SOILS.iter().find(|soil| soil.name == name).ok_or_else(|| SizingError::Unknown { name: "soil", value: name.to_owned() })
}

impl Soil {
    /// The middle of its available water, m³/m³.
    pub fn middle(&self) -> f64 {
        0.5 * (self.available[0] + self.available[1])
    }
}

/// Water in the root zone, mm, that a crop takes without stress: `RAW = p 1000 (FC - WP) Zr` (FAO-56 eqs. 82 and 83).
///
/// Available water 0.01..0.5 m³/m³, roots 0.05..5 m, depletion share 0..1.
pub fn readily_available_mm(available: f64, root_m: f64, depletion: f64) -> Result<f64, SizingError> {
    within("available", available, 0.01, 0.5)?;
    within("root_m", root_m, 0.05, 5.0)?;
    within("depletion", depletion, 0.0, 1.0)?;
    Ok(depletion * 1000.0 * available * root_m)
}

/// Days from one watering to the next, not rounded: readily available water over `ETc` (FAO-56 chapter 8).
///
/// The share taken without stress is table 22's, moved by `0.04 (5 - ETc)` (its footnote 2) within 0.1..0.8; full-grown roots
/// reach the shallow end of table 22, as it advises for scheduling. Roots 0.05..5 m, ETc above 0, up to 40 mm/day.
pub fn interval_days(crop: &Crop, root_m: f64, soil: &Soil, etc_mm_day: f64) -> Result<f64, SizingError> {
    within("etc_mm_day", etc_mm_day, 0.01, 40.0)?;
    let depletion = (crop.depletion + 0.04 * (5.0 - etc_mm_day)).clamp(DEPLETION.0, DEPLETION.1);
    Ok(readily_available_mm(soil.middle(), root_m, depletion)? / etc_mm_day)
}
