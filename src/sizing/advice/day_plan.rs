//! The day with the cart: which way the panels face and when they are turned, what that brings, and the good hours.

use crate::sizing::weather::climate::Climate;
use std::f64::consts::PI;

use serde::Serialize;

use super::advise::HourFlow;
use crate::sizing::error::{SizingError, within};
use crate::sizing::light::sky::{MonthSky, STEP_H};
use crate::sizing::light::stance::{Stance, TURNING_HOURS};
use crate::sizing::sun::position::{MEAN_DAY, SunDay};
use crate::sizing::weather::place::Place;

/// Flow that counts as good, as a share of the day's greatest (practice).
const GOOD_SHARE: f64 = 0.5;

/// One way of standing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Facing {
    /// Where the panels look, degrees from north over east.
    pub compass_deg: f64,
    pub tilt_deg: f64,
}

/// A month's three ways of standing a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DayStances {
    pub month: u8,
    /// In the morning, over noon, in the afternoon.
    pub facings: [Facing; 3],
    /// Hours of the clock at which the cart is turned.
    pub turn_at_h: [f64; 2],
    /// Light that turning adds to lying flat, percent.
    pub gain_percent: f64,
}

/// The three stances of a place in a month (1..12), never steeper than `cap_deg` (0..90), with what they bring over lying
/// flat.
pub fn day_stances(climate: &Climate, month: u8, cap_deg: f64) -> Result<DayStances, SizingError> {
    within("month", f64::from(month), 1.0, 12.0)?;
    let turned = Stance::turned(cap_deg)?;
    let day = SunDay::of_month(climate.place.lat_deg, month)?;
    let facings = turned.planes(&day).map(|plane| Facing {
        compass_deg: (plane.azimuth_rad.to_degrees() + 180.0).rem_euclid(360.0),
        tilt_deg: plane.tilt_rad.to_degrees(),
    });
    let weather = &climate.weather[usize::from(month) - 1];
    let light = |stance: Stance| -> Result<f64, SizingError> {
        let sky = MonthSky::new(climate.place.lat_deg, weather, stance)?;
        Ok((0..10).flat_map(|kind| sky.day(kind).iter().map(|light| light.poa_w_m2 * STEP_H)).sum())
    };
    let gain_percent = 100.0 * (light(turned)? / light(Stance::FLAT)? - 1.0);
    let turn_at_h = TURNING_HOURS.map(|hour| clock_h(&climate.place, month, hour));
    Ok(DayStances { month, facings, turn_at_h, gain_percent })
}

/// The clock of a place, hours, at a solar hour of a month's mean day.
///
/// `clock = solar - E/60 - longitude/15 + offset` with the equation of time by Spencer 1971 (Duffie & Beckman eqs. 1.5.2
/// and 1.5.3).
pub fn clock_h(place: &Place, month: u8, solar_hour: f64) -> f64 {
    let day = f64::from(MEAN_DAY[usize::from(month.clamp(1, 12)) - 1]);
    let b = (day - 1.0) * 2.0 * PI / 365.0;
    let equation_min = 229.2
        * (0.000_075 + 0.001_868 * b.cos()
            - 0.032_077 * b.sin()
            - 0.014_615 * (2.0 * b).cos()
            - 0.040_89 * (2.0 * b).sin());
    (solar_hour - equation_min / 60.0 - place.lon_deg / 15.0 + place.utc_offset_h).rem_euclid(24.0)
}

/// From which solar hour to which the flow is at least half of the day's greatest, on straight lines between the hours;
/// none without flow.
pub fn good_hours(hours: &[HourFlow]) -> Option<(f64, f64)> {
    let greatest = hours.iter().map(|hour| hour.flow_l_min).fold(0.0, f64::max);
    let good = GOOD_SHARE * greatest;
    if greatest <= 0.0 {
        return None;
    }
    let is_good = |hour: &HourFlow| hour.flow_l_min >= good;
    let first = hours.iter().position(is_good)?;
    let last = hours.iter().rposition(is_good)?;
    // Where the line from a poor hour to a good one passes what counts as good.
    let passes = |poor: &HourFlow, better: &HourFlow| {
        let share = (good - poor.flow_l_min) / (better.flow_l_min - poor.flow_l_min);
        poor.solar_hour + share * (better.solar_hour - poor.solar_hour)
    };
    let begins = match first.checked_sub(1).and_then(|before| hours.get(before)) {
        Some(before) => passes(before, &hours[first]),
        None => hours[first].solar_hour,
    };
    let ends = hours.get(last + 1).map_or(hours[last].solar_hour, |after| passes(after, &hours[last]));
    Some((begins, ends))
}
