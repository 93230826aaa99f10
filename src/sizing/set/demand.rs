//! What the garden wants month by month, and when it is watered.

use super::sheet::CompleteSheet;
use crate::sizing::error::SizingError;
use crate::sizing::need::crop::need_l_m2_day;
use crate::sizing::weather::climate::Climate;
use crate::sizing::weather::place::last_of;

/// A month belongs to a season that the place does not state when the crop wants more than this, mm/day.
const SEASON_NEED_MM_DAY: f64 = 1.0;

/// What the crop wants month by month, and which months are watered.
#[derive(Debug, Clone)]
pub struct Demand {
    /// Litres per square metre and day, January first.
    pub need_l_m2_day: Vec<f64>,
    /// Months watered, 1..12.
    pub season: Vec<u8>,
    /// Month in which the water stands lowest, 1..12.
    pub low_water_month: u8,
}

impl Demand {
    /// From the place's season, or where it states none the months in which the crop wants more than 1 mm a day.
    pub fn new(filled: &CompleteSheet, climate: &Climate) -> Result<Self, SizingError> {
        let need_l_m2_day = climate
            .weather
            .iter()
            .map(|w| need_l_m2_day(filled.crop, filled.stage, filled.watering, w))
            .collect::<Result<Vec<_>, _>>()?;
        let mut season = climate.place.season_months.clone();
        if season.is_empty() {
            let threshold = SEASON_NEED_MM_DAY / filled.watering.efficiency();
            season = (1u8..).zip(&need_l_m2_day).filter(|(_, need)| **need > threshold).map(|(m, _)| m).collect();
        }
        if season.is_empty() {
            season = (1..=12).collect();
        }
        let low_water_month = climate.place.low_water_month.unwrap_or_else(|| last_of(&season));
        Ok(Demand { need_l_m2_day, season, low_water_month })
    }

    /// Need of a month (1..12), litres per square metre and day.
    pub fn of(&self, month: u8) -> f64 {
        self.need_l_m2_day[usize::from(month.clamp(1, 12)) - 1]
    }

    /// The season's month with the greatest need; the first of equals.
    pub fn thirstiest(&self) -> u8 {
        let mut best = self.season[0];
        for &month in &self.season {
            if self.of(month) > self.of(best) {
                best = month;
            }
        }
        best
    }
}
