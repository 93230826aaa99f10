//! What a crop drinks, and how much of what is pumped reaches its roots.

use crate::terms::Watering;
use serde::{Deserialize, Serialize};

use crate::sizing::error::{SizingError, within};
use crate::sizing::weather::place::{DAYS_IN_MONTH, Weather};

/// Stage of growth; mid-season, the thirstiest, where none is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    Early,
    #[default]
    Mid,
    Late,
}

/// A crop's coefficients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crop {
    /// English name in lower case with underscores; the language folders word it.
    pub name: &'static str,
    /// Crop coefficient at the start, in mid-season, at the end (FAO-56 table 12).
    pub kc: [f64; 3],
    /// Height in mid-season, m (FAO-56 table 12).
    pub height_m: f64,
    /// Greatest rooting depth, m, shallow and deep end (FAO-56 table 22).
    pub root_m: [f64; 2],
    /// Share of the soil's water that the crop takes without stress at 5 mm/day (FAO-56 table 22).
    pub depletion: f64,
}

/// The crops known. FAO-56 (1998 edition) tables 12 and 22; the lines marked *memory* were recalled, not read again.
pub const CROPS: [Crop; 22] = [
    // Tables 12 and 22, small vegetables as a group.
    crop("mixed_vegetables", [0.70, 1.05, 0.95], 0.4, [0.3, 0.6], 0.30),
    crop("tomato", [0.60, 1.15, 0.80], 0.6, [0.7, 1.5], 0.40),
    crop("onion", [0.70, 1.05, 0.75], 0.4, [0.3, 0.6], 0.30),
    crop("green_onion", [0.70, 1.00, 1.00], 0.3, [0.3, 0.6], 0.30),
    crop("cabbage", [0.70, 1.05, 0.95], 0.4, [0.5, 0.8], 0.45),
    crop("kale", [0.70, 1.05, 0.95], 0.4, [0.5, 0.8], 0.45), // the crucifers' line
    crop("squash", [0.50, 0.95, 0.75], 0.3, [0.6, 1.0], 0.50),
    crop("green_bean", [0.50, 1.05, 0.90], 0.4, [0.5, 0.7], 0.45),
    crop("groundnut", [0.40, 1.15, 0.60], 0.4, [0.5, 1.0], 0.50),
    crop("maize", [0.30, 1.20, 0.60], 2.0, [1.0, 1.7], 0.55),
    crop("sweet_maize", [0.30, 1.15, 1.05], 1.5, [0.8, 1.2], 0.50),
    crop("potato", [0.50, 1.15, 0.75], 0.6, [0.4, 0.6], 0.35),
    crop("sweet_potato", [0.50, 1.15, 0.65], 0.4, [1.0, 1.5], 0.65),
    crop("cassava", [0.30, 0.80, 0.30], 1.0, [0.5, 0.8], 0.35), // first year
    crop("banana", [0.50, 1.10, 1.00], 3.0, [0.5, 0.9], 0.35),  // first year
    crop("carrot", [0.70, 1.05, 0.95], 0.3, [0.5, 1.0], 0.35),  // memory
    crop("lettuce", [0.70, 1.00, 0.95], 0.3, [0.3, 0.5], 0.30), // memory
    crop("spinach", [0.70, 1.00, 0.95], 0.3, [0.3, 0.5], 0.20), // memory
    crop("pepper", [0.60, 1.05, 0.90], 0.7, [0.5, 1.0], 0.30),  // memory
    crop("eggplant", [0.60, 1.05, 0.90], 0.8, [0.7, 1.2], 0.45), // memory
    crop("cucumber", [0.60, 1.00, 0.75], 0.3, [0.7, 1.2], 0.50), // memory
    crop("watermelon", [0.40, 1.00, 0.75], 0.4, [0.8, 1.5], 0.40), // memory
];

/// The crop where none is named.
pub const CROP_WHEN_NOT_STATED: &str = "mixed_vegetables";

const fn crop(name: &'static str, kc: [f64; 3], height_m: f64, root_m: [f64; 2], depletion: f64) -> Crop {
    Crop { name, kc, height_m, root_m, depletion }
}

/// The crop of a name.
pub fn crop_named(name: &str) -> Result<&'static Crop, SizingError> {
    CROPS.iter().find(|crop| crop.name == name).ok_or_else(|| SizingError::Unknown { name: "crop", value: name.to_owned() })
}

impl Crop {
    /// Crop coefficient of a stage in a climate like that of the table's: a wind of 2 m/s, humidity down to 45 %.
    pub fn coefficient(&self, stage: Stage) -> f64 {
        self.kc[stage as usize]
    }

    /// Crop coefficient of a stage in a month's wind and dryness, in mid-season by FAO-56 eq. 62:
    /// `Kc + [0.04 (u2 - 2) - 0.004 (RHmin - 45)] (h/3)^0.3`, wind kept to 1..6 m/s and humidity to 20..80 %.
    pub fn coefficient_in(&self, stage: Stage, u2_m_s: f64, rh_min_percent: f64) -> f64 {
        let told = self.coefficient(stage);
        match stage {
            Stage::Mid => told + climate_correction(u2_m_s, rh_min_percent, self.height_m),
            Stage::Early | Stage::Late => told,
        }
    }
}

/// What wind and dryness add to a crop coefficient (FAO-56 eq. 62).
fn climate_correction(u2_m_s: f64, rh_min_percent: f64, height_m: f64) -> f64 {
    let wind = 0.04 * (u2_m_s.clamp(1.0, 6.0) - 2.0);
    let dryness = 0.004 * (rh_min_percent.clamp(20.0, 80.0) - 45.0);
    (wind - dryness) * (height_m / 3.0).powf(0.3)
}

impl Watering {
    /// Share of the water that reaches the roots: furrow or basin, sprinkler and drip by the FAO Irrigation Water
    /// Management Training Manual 4, annex I; hose or can to each plant by practice.
    pub fn efficiency(self) -> f64 {
        match self {
            Watering::Furrow => 0.60,
            Watering::Hose => 0.70,
            Watering::Sprinkler => 0.75,
            Watering::Drip | Watering::Tape => 0.90,
        }
    }

    /// Pressure wanted at the outlet, m of water (practice).
    pub fn outlet_head_m(self) -> f64 {
        match self {
            Watering::Furrow | Watering::Hose => 0.0,
            Watering::Drip => 2.0,
            Watering::Tape => 8.0,
            Watering::Sprinkler => 15.0,
        }
    }
}

/// Rain that counts, mm/month: `P (125 - 0.2 P)/125` up to 250 mm, `125 + 0.1 P` above.
///
/// The simplified USDA-SCS formula as FAO uses it (FAO Irrigation and Drainage Paper 46 lineage); 0..3000 mm.
pub fn effective_rain_mm(rain_mm: f64) -> Result<f64, SizingError> {
    let p = within("rain_mm", rain_mm, 0.0, 3000.0)?;
    Ok(if p <= 250.0 { p * (125.0 - 0.2 * p) / 125.0 } else { 125.0 + 0.1 * p })
}

/// Water to give in a month, litres per square metre and day: `(Kc ETo - Pe)/Ea`, not below zero; ETo 0..30 mm, month 1..12.
pub fn need_l_m2_day(crop: &Crop, stage: Stage, watering: Watering, weather: &Weather) -> Result<f64, SizingError> {
    within("month", f64::from(weather.month), 1.0, 12.0)?;
    let eto_mm_day = within("eto_mm_day", weather.eto_mm_day, 0.0, 30.0)?;
    let rain_mm_day = effective_rain_mm(weather.rain_mm)? / DAYS_IN_MONTH[usize::from(weather.month) - 1];
    let etc_mm_day = crop.coefficient_in(stage, weather.u2_m_s, weather.rh_min_percent) * eto_mm_day;
    Ok(((etc_mm_day - rain_mm_day) / watering.efficiency()).max(0.0))
}
