//! NASA POWER's climatology of a point, in CSV: a head between `-BEGIN HEADER-` and `-END HEADER-`, then a line a
//! parameter with a column a month, JAN to DEC, and one for the year; -999 where there is nothing.
//!
//! The minima and maxima. `T2M_MIN` and `T2M_MAX` of a month are the lowest and highest hour of the whole month (POWER's
//! page on data processing: minima and maxima pass from hour to month unaveraged; `.._AVG` are the averages of the
//! days), and the engine wants those of its mean day. Taken are, the first that is there:
//! 1. `T2M_MIN_AVG` and `T2M_MAX_AVG`;
//! 2. `T2M` less and plus half of `T2M_RANGE_AVG`;
//! 3. the same with `T2M_RANGE`, where it is clearly less than `T2M_MAX - T2M_MIN` in every month or those are not
//!    there: else it is the range of the month and not of a day;
//! 4. `T2M`, or the middle of the two where it is not there, less and plus half of [`DAY_SHARE`] of `T2M_MAX - T2M_MIN`.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use super::table::tell;
use super::{Given, Imported, PlaceFileError, form, from_value, refused};
use crate::sizing::weather::evapotranspiration::MJ_PER_KWH;
use crate::sizing::weather::place::DAYS_IN_MONTH;

/// Share of a month's range of temperature, lowest hour to highest, that its mean day has (practice).
///
/// The highest of thirty days lies 2.04 standard deviations above their mean (Tippett 1925), so with 2 K, as at tropical
/// stations, both ends lie 8 K out; a mean day of 12 K, the middle of the atlas, is then 0.6 of the whole.
pub const DAY_SHARE: f64 = 0.6;

/// A range below this share of the month's whole one is that of a day.
const DAILY_BELOW: f64 = 0.9;

const MISSING: f64 = -999.0;
const BEGIN: &str = "-BEGIN HEADER-";
const END: &str = "-END HEADER-";
const MONTHS: [&str; 12] = ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"];

/// Whether a text is such a file.
pub(super) fn is_power(text: &str) -> bool {
    text.trim_start().starts_with(BEGIN)
}

/// The parameters by name, a value a month; none where it is missing.
type Rows = BTreeMap<String, [Option<f64>; 12]>;

/// Reads the file; what is told beside it goes before its head.
pub(super) fn read(text: &str, given: &Given) -> Result<Imported, PlaceFileError> {
    let (head, body) = text.split_once(END).ok_or_else(|| form("the head has no end"))?;
    let mut place = Map::new();
    for (key, before) in [("lat_deg", "Latitude"), ("lon_deg", "Longitude")] {
        if let Some(value) = number_after(head, before) {
            place.insert(key.to_owned(), json!(value));
        }
    }
    if let Some(alt_m) = head.lines().find(|line| line.starts_with("Elevation")).and_then(|line| number_after(line, "=")) {
        place.insert("alt_m".to_owned(), json!(alt_m));
    }
    let period = head.lines().find(|line| line.contains("Climatolog") && line.contains('(')).unwrap_or_default();
    let years = period.split_once('(').and_then(|(_, rest)| rest.split_once(')')).map(|(years, _)| years);
    let source = years.map_or("NASA POWER".to_owned(), |years| format!("NASA POWER; {years}"));
    place.insert("source".to_owned(), json!(source));
    let mut taken = tell(&mut place, given);
    let Some(name) = place.get("name").and_then(Value::as_str).map(str::to_owned) else {
        return Err(refused("?", None, "name", "this file has no name in it; give the place one with --name"));
    };
    let rows = rows(body, &name)?;
    let months = months(&name, head, &rows, &mut taken)?;
    place.insert("months".to_owned(), Value::Array(months));
    Ok(Imported { climate: from_value(Value::Object(place))?, taken })
}

fn number_after(text: &str, word: &str) -> Option<f64> {
    text.split_once(word)?.1.split_whitespace().next()?.parse().ok()
}

fn rows(body: &str, place: &str) -> Result<Rows, PlaceFileError> {
    let mut reader =
        csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).from_reader(body.trim_start().as_bytes());
    let unreadable = |error: csv::Error| form(&error.to_string());
    let head = reader.headers().map_err(unreadable)?.clone();
    let column = |wanted: &str| head.iter().position(|key| key.eq_ignore_ascii_case(wanted));
    let parameter = column("PARAMETER").ok_or_else(|| refused(place, None, "PARAMETER", "there is no such column"))?;
    let mut columns = [0; 12];
    for (at, month) in columns.iter_mut().zip(MONTHS) {
        *at = column(month).ok_or_else(|| refused(place, None, month, "there is no such column"))?;
    }
    let mut rows = Rows::new();
    for row in reader.records() {
        let row = row.map_err(unreadable)?;
        let key = row.get(parameter).unwrap_or_default();
        let mut values = [None; 12];
        for (index, value) in values.iter_mut().enumerate() {
            let cell = row.get(columns[index]).unwrap_or_default();
            let number: f64 = cell.parse().ok().filter(|number: &f64| number.is_finite()).ok_or_else(|| {
                refused(place, Some(index + 1), key, &format!("{cell:?} is no number; fetch the file again"))
            })?;
            *value = (number > MISSING + 0.5).then_some(number);
        }
        rows.insert(key.to_owned(), values);
    }
    Ok(rows)
}

fn months(place: &str, head: &str, rows: &Rows, taken: &mut Vec<String>) -> Result<Vec<Value>, PlaceFileError> {
    let mut months: Vec<Map<String, Value>> = vec![Map::new(); 12];
    let is_mj = head.lines().any(|line| line.starts_with("ALLSKY_SFC_SW_DWN") && line.contains("MJ"));
    let sun_unit = if is_mj { MJ_PER_KWH } else { 1.0 };
    for (key, row, what) in [
        ("h_kwh_m2_day", "ALLSKY_SFC_SW_DWN", if is_mj { ", MJ divided by 3.6" } else { "" }),
        ("rh_percent", "RH2M", ""),
        ("u2_m_s", "WS2M", ""),
        ("rain_mm", "PRECTOTCORR", ", mm a day times the days of the month"),
    ] {
        let Some(values) = rows.get(row).filter(|values| values.iter().any(Option::is_some)) else {
            taken.push(format!("{key} from no row: {row} is not in the file"));
            continue;
        };
        taken.push(format!("{key} from {row}{what}"));
        for ((month, value), days) in months.iter_mut().zip(values).zip(DAYS_IN_MONTH) {
            let per = match key {
                "h_kwh_m2_day" => 1.0 / sun_unit,
                "rain_mm" => days,
                _ => 1.0,
            };
            if let Some(value) = value {
                month.insert(key.to_owned(), json!(value * per));
            }
        }
    }
    let way = MeanDay::of(rows);
    taken.push(format!("t_min_c and t_max_c from {}", way.words()));
    for (index, month) in months.iter_mut().enumerate() {
        let (t_min_c, t_max_c) = way.temperatures_c(place, rows, index)?;
        month.insert("t_min_c".to_owned(), json!(t_min_c));
        month.insert("t_max_c".to_owned(), json!(t_max_c));
    }
    Ok(months.into_iter().map(Value::Object).collect())
}

/// Where the minimum and the maximum of the mean day come from.
#[derive(Clone, Copy)]
enum MeanDay {
    Averages,
    RangeAverage,
    Range,
    ExtremesAroundMean,
    Extremes,
}

impl MeanDay {
    fn of(rows: &Rows) -> MeanDay {
        let is_whole = |key: &str| rows.get(key).is_some_and(|row| row.iter().all(Option::is_some));
        let at = |key: &str, index: usize| rows.get(key).and_then(|row| row[index]);
        let is_of_a_day = |index: usize| match (at("T2M_RANGE", index), at("T2M_MAX", index), at("T2M_MIN", index)) {
            (Some(range), Some(max), Some(min)) => range < DAILY_BELOW * (max - min),
            (range, ..) => range.is_some(),
        };
        if is_whole("T2M_MIN_AVG") && is_whole("T2M_MAX_AVG") {
            MeanDay::Averages
        } else if !is_whole("T2M") {
            MeanDay::Extremes
        } else if is_whole("T2M_RANGE_AVG") {
            MeanDay::RangeAverage
        } else if (0..12).all(is_of_a_day) {
            MeanDay::Range
        } else {
            MeanDay::ExtremesAroundMean
        }
    }

    fn words(self) -> &'static str {
        match self {
            MeanDay::Averages => "T2M_MIN_AVG and T2M_MAX_AVG",
            MeanDay::RangeAverage => "T2M less and plus half of T2M_RANGE_AVG",
            MeanDay::Range => "T2M less and plus half of T2M_RANGE",
            MeanDay::ExtremesAroundMean => {
                "T2M less and plus half of 0.6 of T2M_MAX - T2M_MIN, which are the extremes of the month (practice)"
            }
            MeanDay::Extremes => {
                "the middle of T2M_MIN and T2M_MAX, the extremes of the month, less and plus half of 0.6 of their \
                 difference (practice)"
            }
        }
    }

    /// Minimum and maximum of a month's mean day.
    fn temperatures_c(self, place: &str, rows: &Rows, index: usize) -> Result<(f64, f64), PlaceFileError> {
        let at = |key: &str| {
            rows.get(key).and_then(|row| row[index]).ok_or_else(|| {
                refused(place, Some(index + 1), key, "it is not in the file; fetch T2M, T2M_MIN and T2M_MAX too")
            })
        };
        let around = |middle: f64, range: f64| (middle - range / 2.0, middle + range / 2.0);
        Ok(match self {
            MeanDay::Averages => (at("T2M_MIN_AVG")?, at("T2M_MAX_AVG")?),
            MeanDay::RangeAverage => around(at("T2M")?, at("T2M_RANGE_AVG")?),
            MeanDay::Range => around(at("T2M")?, at("T2M_RANGE")?),
            MeanDay::ExtremesAroundMean => around(at("T2M")?, DAY_SHARE * (at("T2M_MAX")? - at("T2M_MIN")?)),
            MeanDay::Extremes => {
                let (low, high) = (at("T2M_MIN")?, at("T2M_MAX")?);
                around((low + high) / 2.0, DAY_SHARE * (high - low))
            }
        })
    }
}
