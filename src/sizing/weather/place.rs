//! A place: where it lies and the mean weather of its twelve months.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::evapotranspiration::{
    DayWeather, MJ_PER_KWH, extraterrestrial, radiation_from_sunshine, radiation_from_temperatures, reference_mm_day,
    saturation_kpa, vapour_from_mean_humidity,
};
use crate::printable::hidden_in;
use crate::sizing::error::{SizingError, within};
use crate::sizing::sun::position::{MEAN_DAY, SunDay};

/// Wind at two metres, m/s, where none was measured (FAO-56 chapter 3).
const WIND_WHEN_UNKNOWN_M_S: f64 = 2.0;

/// Days of each month, January first; February 28.
pub const DAYS_IN_MONTH: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

/// A place as its file and its row in the database hold it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    pub name: String,
    pub lat_deg: f64,
    pub lon_deg: f64,
    pub alt_m: f64,
    pub utc_offset_h: f64,
    #[serde(default)]
    pub coastal: bool,
    /// Months in which gardens are watered, 1..12; none where the crop's need is to tell.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub season_months: Vec<u8>,
    /// Month in which the water stands lowest, 1..12; none where it is the last of the season.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low_water_month: Option<u8>,
    /// Whose figures these are.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Twelve months, January first.
    pub months: Vec<MonthClimate>,
}

/// Mean weather of one month.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MonthClimate {
    /// Mean daily global radiation on the flat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub h_kwh_m2_day: Option<f64>,
    /// Mean daily hours of bright sunshine, used where radiation is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sunshine_h: Option<f64>,
    pub t_min_c: f64,
    pub t_max_c: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_percent: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u2_m_s: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<f64>,
}

/// What is wrong with a place: which place, which month (1..12, none for the place itself), which key.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("place={place} month={month:?}: {problem}")]
pub struct PlaceError {
    pub place: String,
    pub month: Option<u8>,
    pub key: &'static str,
    pub problem: PlaceProblem,
}

/// The kinds of fault in a place.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PlaceProblem {
    #[error("{0}")]
    Value(SizingError),
    #[error("{0} months, not 12")]
    MonthCount(usize),
    #[error("t_min_c above t_max_c")]
    MinimumAboveMaximum,
    #[error("h_kwh_m2_day={h} above extraterrestrial {h0:.2}")]
    AboveExtraterrestrial { h: f64, h0: f64 },
    #[error("name empty")]
    NoName,
    #[error("character U+{0:04X} is not seen")]
    Hidden(u32),
}

/// A month of a place with every gap filled: what the engine works with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather {
    pub month: u8,
    pub h_kwh_m2_day: f64,
    pub t_min_c: f64,
    pub t_max_c: f64,
    pub u2_m_s: f64,
    pub rain_mm: f64,
    /// Relative humidity at the day's warmest, percent: `100 ea/e(Tmax)` (FAO-56 eq. 63).
    pub rh_min_percent: f64,
    /// Reference evapotranspiration, mm/day.
    pub eto_mm_day: f64,
}

impl Place {
    /// The month in which the water stands lowest: as stated, else the last of the season; none where neither is stated.
    pub fn low_water(&self) -> Option<u8> {
        self.low_water_month.or_else(|| (!self.season_months.is_empty()).then(|| last_of(&self.season_months)))
    }

    /// Checks every value and fills the gaps of the twelve months.
    ///
    /// Radiation: as given, else Angstrom from sunshine, else Hargreaves from temperatures. Humidity missing: dew
    /// point at the minimum. Wind missing: 2 m/s (FAO-56 chapter 3). Rain missing: none.
    pub fn weather(&self) -> Result<Vec<Weather>, PlaceError> {
        let whole = |key, problem| PlaceError { place: self.name.clone(), month: None, key, problem };
        if self.name.trim().is_empty() {
            return Err(whole("name", PlaceProblem::NoName));
        }
        for (key, text) in [("name", Some(&self.name)), ("source", self.source.as_ref())] {
            if let Some(hidden) = text.and_then(|text| hidden_in(text)) {
                return Err(whole(key, PlaceProblem::Hidden(hidden.into())));
            }
        }
        for (key, value, low, high) in [
            ("lat_deg", self.lat_deg, -60.0, 60.0),
            ("lon_deg", self.lon_deg, -180.0, 180.0),
            ("alt_m", self.alt_m, -430.0, 6000.0),
            ("utc_offset_h", self.utc_offset_h, -12.0, 14.0),
        ] {
            within(key, value, low, high).map_err(|e| whole(key, PlaceProblem::Value(e)))?;
        }
        for &month in &self.season_months {
            within("season_months", f64::from(month), 1.0, 12.0)
                .map_err(|e| whole("season_months", PlaceProblem::Value(e)))?;
        }
        if let Some(month) = self.low_water_month {
            within("low_water_month", f64::from(month), 1.0, 12.0)
                .map_err(|e| whole("low_water_month", PlaceProblem::Value(e)))?;
        }
        if self.months.len() != 12 {
            return Err(whole("months", PlaceProblem::MonthCount(self.months.len())));
        }
        (1u8..).zip(&self.months).map(|(month, climate)| self.month_weather(month, climate)).collect()
    }

    fn month_weather(&self, month: u8, climate: &MonthClimate) -> Result<Weather, PlaceError> {
        let fault = |key, problem| PlaceError { place: self.name.clone(), month: Some(month), key, problem };
        let value = |error: SizingError| fault(error.name(), PlaceProblem::Value(error));
        let check = |key, number: f64, low, high| within(key, number, low, high).map_err(value);

        let t_min_c = check("t_min_c", climate.t_min_c, -40.0, 45.0)?;
        let t_max_c = check("t_max_c", climate.t_max_c, -30.0, 55.0)?;
        if t_min_c > t_max_c {
            return Err(fault("t_min_c", PlaceProblem::MinimumAboveMaximum));
        }
        let u2_m_s = check("u2_m_s", climate.u2_m_s.unwrap_or(WIND_WHEN_UNKNOWN_M_S), 0.0, 20.0)?;
        let rain_mm = check("rain_mm", climate.rain_mm.unwrap_or(0.0), 0.0, 3000.0)?;

        let mean_day = MEAN_DAY[usize::from(month) - 1];
        let sky = extraterrestrial(self.lat_deg, mean_day).map_err(value)?;
        let h_kwh_m2_day = match (climate.h_kwh_m2_day, climate.sunshine_h) {
            (Some(h), _) => {
                let h = check("h_kwh_m2_day", h, 0.1, 13.0)?;
                let h0 = SunDay::new(self.lat_deg, mean_day).map_err(value)?.extraterrestrial_kwh_m2();
                if h > h0 {
                    return Err(fault("h_kwh_m2_day", PlaceProblem::AboveExtraterrestrial { h, h0 }));
                }
                h
            }
            (None, Some(n)) => radiation_from_sunshine(n, sky).map_err(value)? / MJ_PER_KWH,
            (None, None) => {
                radiation_from_temperatures(t_min_c, t_max_c, self.coastal, self.alt_m, sky).map_err(value)? / MJ_PER_KWH
            }
        };
        let vapour_kpa = match climate.rh_percent {
            Some(rh) => vapour_from_mean_humidity(rh, t_min_c, t_max_c).map_err(value)?,
            None => saturation_kpa(t_min_c),
        };
        let day = DayWeather {
            t_min_c,
            t_max_c,
            t_mean_c: (t_min_c + t_max_c) / 2.0,
            vapour_kpa,
            wind_2m_m_s: u2_m_s,
            radiation_mj_m2: h_kwh_m2_day * MJ_PER_KWH,
            soil_heat_mj_m2: 0.0,
            altitude_m: self.alt_m,
        };
        let eto_mm_day = reference_mm_day(&day, sky).map_err(value)?;
        let rh_min_percent = 100.0 * vapour_kpa / saturation_kpa(t_max_c);
        Ok(Weather { month, h_kwh_m2_day, t_min_c, t_max_c, u2_m_s, rain_mm, rh_min_percent, eto_mm_day })
    }
}

/// The last month (1..12) of a season, which may run over the new year: the end of its longest stretch of months, the
/// earliest of equals; December where the year has no gap.
pub fn last_of(season: &[u8]) -> u8 {
    let after = |month: u8, by: u8| (month - 1 + by) % 12 + 1;
    let ends = season.iter().copied().filter(|&month| !season.contains(&after(month, 1)));
    // Eleven months on is the month before.
    let stretch = |end: u8| (0..12).take_while(|back| season.contains(&after(end, 12 - back))).count();
    ends.min_by_key(|&end| (std::cmp::Reverse(stretch(end)), end)).unwrap_or(12)
}

#[cfg(test)]
mod tests {
    use super::last_of;

    #[test]
    fn a_season_ends_where_its_longest_stretch_ends() {
        for (season, last) in [
            (&[6, 7, 8, 9, 10][..], 10),
            (&[1, 2, 11, 12], 2),
            (&[1, 2, 3, 7, 12], 3),
            (&[2, 3, 8, 9], 3),
            (&[5], 5),
            (&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], 12),
        ] {
            assert_eq!(last_of(season), last, "{season:?}");
        }
    }
}
