//! A place with its weather worked out, once for every sheet.

use super::place::{MonthClimate, Place, PlaceError, Weather};

/// Relative half-width of monthly radiation, nine cases in ten, by where it comes from: measured or from satellites, from
/// sunshine hours, from temperatures or from a station some way off (practice).
const RADIATION_SPREAD_GIVEN: f64 = 0.05;
const RADIATION_SPREAD_SUNSHINE: f64 = 0.07;
pub const RADIATION_SPREAD_TEMPERATURES: f64 = 0.10;

/// A place with its weather worked out: done once, used by every sheet.
#[derive(Debug, Clone)]
pub struct Climate {
    pub place: Place,
    pub weather: Vec<Weather>,
    /// Relative half-width that the true radiation keeps to in nine cases of ten.
    pub radiation_spread: f64,
}

impl Climate {
    /// Checks the place and fills its months.
    pub fn new(place: Place) -> Result<Self, PlaceError> {
        let weather = place.weather()?;
        let spread = |month: &MonthClimate| match (month.h_kwh_m2_day, month.sunshine_h) {
            (Some(_), _) => RADIATION_SPREAD_GIVEN,
            (None, Some(_)) => RADIATION_SPREAD_SUNSHINE,
            (None, None) => RADIATION_SPREAD_TEMPERATURES,
        };
        let radiation_spread = place.months.iter().map(spread).fold(0.0, f64::max);
        Ok(Climate { place, weather, radiation_spread })
    }
}
