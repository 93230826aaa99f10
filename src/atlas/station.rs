//! The table of stations, and a station as a place.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::sizing::sun::position::MEAN_DAY;
use crate::sizing::weather::evapotranspiration::{MJ_PER_KWH, extraterrestrial, radiation_from_sunshine};
use crate::sizing::weather::place::MonthClimate;
use crate::sizing::{Climate, Place, PlaceError, SizingError};

const STATIONS: &str = include_str!("stations.csv");
const SOURCES: &str = include_str!("sources.csv");

/// A weather station with the mean weather of its months.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// The town that it is named after.
    pub town: String,
    /// Other names by which it is found.
    pub also: Vec<String>,
    /// Two letters (ISO 3166-1).
    pub country: String,
    /// Number in the list of the World Meteorological Organization.
    pub wmo: String,
    pub lat_deg: f64,
    pub lon_deg: f64,
    pub alt_m: f64,
    pub utc_offset_h: f64,
    /// Share of Angstrom's radiation that is taken: 0.95 at Aswan and Helwan, where the default coefficients read 6 and
    /// 9 % above published measurements (dust in the air), 1 elsewhere.
    pub angstrom_share: f64,
    /// Whose figures these are.
    pub source: String,
    /// The years that the means are of.
    pub period: String,
    /// Twelve months, January first, with sunshine and no radiation.
    pub months: Vec<MonthClimate>,
}

/// A fault in the table; the table shipped has none.
#[derive(Debug, thiserror::Error)]
pub enum TableFault {
    #[error(transparent)]
    Form(#[from] csv::Error),
    #[error("{town}: {key}")]
    Value { town: String, key: &'static str },
}

#[derive(Deserialize)]
struct StationRow {
    town: String,
    also: String,
    country: String,
    wmo: String,
    lat_deg: f64,
    lon_deg: f64,
    alt_m: f64,
    utc_offset_h: f64,
    angstrom_share: f64,
    source: String,
    period: String,
    t_min_c: String,
    t_max_c: String,
    rh_percent: String,
    sunshine_h: String,
    rain_mm: String,
}

#[derive(Deserialize)]
struct SourceRow {
    source: String,
    named: String,
}

/// Every station, in the order of the table.
pub fn stations() -> &'static [Station] {
    static TABLE: LazyLock<Vec<Station>> = LazyLock::new(|| read(STATIONS, SOURCES).expect("a sound table"));
    &TABLE
}

/// Reads a table of stations and the table of their sources.
pub fn read(stations: &str, sources: &str) -> Result<Vec<Station>, TableFault> {
    let sources: BTreeMap<String, String> = csv::Reader::from_reader(sources.as_bytes())
        .deserialize()
        .map(|row| row.map(|SourceRow { source, named }| (source, named)))
        .collect::<Result<_, _>>()?;
    csv::Reader::from_reader(stations.as_bytes()).deserialize().map(|row| station(row?, &sources)).collect()
}

fn station(row: StationRow, sources: &BTreeMap<String, String>) -> Result<Station, TableFault> {
    let fault = |key| TableFault::Value { town: row.town.clone(), key };
    let twelve = |key, text: &str| -> Result<Vec<f64>, TableFault> {
        let values: Result<Vec<f64>, _> = text.split(' ').map(str::parse).collect();
        values.ok().filter(|values| values.len() == 12).ok_or_else(|| fault(key))
    };
    let t_min_c = twelve("t_min_c", &row.t_min_c)?;
    let t_max_c = twelve("t_max_c", &row.t_max_c)?;
    let rh_percent = twelve("rh_percent", &row.rh_percent)?;
    let sunshine_h = twelve("sunshine_h", &row.sunshine_h)?;
    let rain_mm = twelve("rain_mm", &row.rain_mm)?;
    let months = (0..12).map(|month| MonthClimate {
        h_kwh_m2_day: None,
        sunshine_h: Some(sunshine_h[month]),
        t_min_c: t_min_c[month],
        t_max_c: t_max_c[month],
        rh_percent: Some(rh_percent[month]),
        u2_m_s: None,
        rain_mm: Some(rain_mm[month]),
    });
    Ok(Station {
        source: sources.get(&row.source).cloned().ok_or_else(|| fault("source"))?,
        months: months.collect(),
        also: row.also.split(';').filter(|name| !name.is_empty()).map(str::to_owned).collect(),
        town: row.town,
        country: row.country,
        wmo: row.wmo,
        lat_deg: row.lat_deg,
        lon_deg: row.lon_deg,
        alt_m: row.alt_m,
        utc_offset_h: row.utc_offset_h,
        angstrom_share: row.angstrom_share,
        period: row.period,
    })
}

impl Station {
    /// Share of the extraterrestrial radiation that reaches the ground in a month (1..12): Angstrom (FAO-56 eq. 35) on
    /// the sunshine, times [`Station::angstrom_share`].
    pub fn clearness(&self, month: u8) -> Result<f64, SizingError> {
        let index = usize::from(month.clamp(1, 12)) - 1;
        let sky = extraterrestrial(self.lat_deg, MEAN_DAY[index])?;
        let sunshine_h = self.months[index].sunshine_h.ok_or(SizingError::Missing { name: "sunshine_h" })?;
        Ok(self.angstrom_share * radiation_from_sunshine(sunshine_h, sky)? / sky.ra_mj_m2_day)
    }

    /// Source and period, as they are shown beside the place.
    pub fn source_and_period(&self) -> String {
        format!("{}; {}", self.source, self.period)
    }

    /// The station as a place; the season is left to the crop's need.
    pub fn place(&self) -> Result<Place, SizingError> {
        let sunny = |(month, climate): (u8, &MonthClimate)| -> Result<MonthClimate, SizingError> {
            let sky = extraterrestrial(self.lat_deg, MEAN_DAY[usize::from(month) - 1])?;
            let h_kwh_m2_day = self.clearness(month)? * sky.ra_mj_m2_day / MJ_PER_KWH;
            Ok(MonthClimate { h_kwh_m2_day: Some(h_kwh_m2_day), ..*climate })
        };
        Ok(Place {
            name: self.town.clone(),
            lat_deg: self.lat_deg,
            lon_deg: self.lon_deg,
            alt_m: self.alt_m,
            utc_offset_h: self.utc_offset_h,
            coastal: false,
            season_months: Vec::new(),
            low_water_month: None,
            source: Some(self.source_and_period()),
            months: (1..).zip(&self.months).map(sunny).collect::<Result<_, _>>()?,
        })
    }

    /// The station's place with its weather worked out.
    pub fn climate(&self) -> Result<Climate, PlaceError> {
        let fault = |error: SizingError| PlaceError {
            place: self.town.clone(),
            month: None,
            key: error.name(),
            problem: crate::sizing::weather::place::PlaceProblem::Value(error),
        };
        Climate::new(self.place().map_err(fault)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_in_the_table_is_named() {
        let head = STATIONS.lines().next().unwrap();
        let row = STATIONS.lines().nth(1).unwrap();
        let read = |row: &str| read(&format!("{head}\n{row}\n"), SOURCES).map_err(|fault| fault.to_string());
        assert_eq!(read(row).unwrap()[0], stations()[0]);
        assert_eq!(read(&row.replace(" 17.5,", ",")).unwrap_err(), "Ouagadougou: t_min_c");
        assert_eq!(read(&row.replace("climat,", "nobody,")).unwrap_err(), "Ouagadougou: source");
    }
}
