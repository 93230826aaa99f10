//! How often a crop is watered, with how much, and how a garden is gone round with what a set gives a day.

use super::crop::{Crop, effective_rain_mm};
use super::growth::Age;
use super::soil::{Soil, interval_days};
use crate::sizing::error::{SizingError, within};
use crate::sizing::weather::place::DAYS_IN_MONTH;
use crate::terms::Watering;

/// Days between waterings that are worth telling apart; roots in a heap of days longer than this are watched by eye (practice).
const LONGEST_DAYS: f64 = 14.0;

/// What is watered, in a month's weather.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Watered<'a> {
    pub crop: &'a Crop,
    pub age: Age,
    pub soil: &'a Soil,
    pub watering: Watering,
    /// Crop coefficient in mid-season in this month.
    pub mid_season: f64,
    pub eto_mm_day: f64,
    pub rain_mm: f64,
    /// 1 to 12.
    pub month: u8,
}

/// A round of the garden.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Round {
    /// Whole days from one watering of a bed to its next.
    pub days: f64,
    /// Litres that a square metre gets then.
    pub litres_m2: f64,
    /// Parts of the garden, one a day, where the set does not give all of it in one day.
    pub parts: Option<u32>,
}

/// The round; none in a month that asks for no water.
///
/// Days: readily available water over `ETc` at the plants' age, see [`interval_days`], whole, 1 to 14; young plants every day.
/// Litres: `days (ETc - Pe)/Ea`. Of a garden that wants more at once than the set gives in a day, one of `days` parts is watered
/// each day. ETo above 0, up to 30 mm/day, month 1..12, garden 0.1..1e7 m², water from 0 m³/day.
pub fn round_of(watered: &Watered<'_>, garden_m2: Option<f64>, water_m3_day: f64) -> Result<Option<Round>, SizingError> {
    within("month", f64::from(watered.month), 1.0, 12.0)?;
    within("water_m3_day", water_m3_day, 0.0, 1e6)?;
    let eto_mm_day = within("eto_mm_day", watered.eto_mm_day, 0.01, 30.0)?;
    let etc_mm_day = watered.age.coefficient(watered.crop, watered.mid_season) * eto_mm_day;
    let rain_mm_day = effective_rain_mm(watered.rain_mm)? / DAYS_IN_MONTH[usize::from(watered.month) - 1];
    let need_l_m2_day = (etc_mm_day - rain_mm_day) / watered.watering.efficiency();
    if need_l_m2_day <= 0.0 {
        return Ok(None);
    }
    let days = if watered.age.wants_water_daily() {
        1.0
    } else {
        let root_m = watered.age.root_m(watered.crop);
        interval_days(watered.crop, root_m, watered.soil, etc_mm_day)?.floor().clamp(1.0, LONGEST_DAYS)
    };
    let litres_m2 = days * need_l_m2_day;
    let parts = match garden_m2 {
        Some(garden_m2) => {
            let at_once_m3 = litres_m2 * within("garden_m2", garden_m2, 0.1, 1e7)? / 1000.0;
            (days > 1.0 && at_once_m3 > water_m3_day).then_some(days as u32)
        }
        None => None,
    };
    Ok(Some(Round { days, litres_m2, parts }))
}
