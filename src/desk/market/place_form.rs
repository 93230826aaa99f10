//! A place as a form, value by value; what is wrong is named with its place, month and key, as a place file's is.

use crate::desk::frame::cell::{Cell, Typed};
use crate::desk::frame::months::MONTHS;
use crate::placefile::{refused, sentence};
use crate::sizing::weather::place::MonthClimate;
use crate::sizing::{Climate, Place};

/// Values of the place itself: key, label.
const WHOLE: [(&str, &str); 7] = [
    ("lat_deg", "Latitude, degrees, south below 0"),
    ("lon_deg", "Longitude, degrees, west below 0"),
    ("alt_m", "Altitude, m"),
    ("utc_offset_h", "Hours that clocks are ahead of UTC"),
    ("season_months", "Months of the watering season, such as 6 7 8 9"),
    ("low_water_month", "Month when the water stands lowest, 1 to 12"),
    ("source", "Whose figures these are"),
];

/// Values of a month: key, heading, and whether it may be left out.
pub const MONTHLY: [(&str, &str, bool); 7] = [
    ("h_kwh_m2_day", "Sun, kWh/m² a day", true),
    ("sunshine_h", "Sunshine, h a day", true),
    ("t_min_c", "Coldest, °C", false),
    ("t_max_c", "Warmest, °C", false),
    ("rh_percent", "Humidity, %", true),
    ("u2_m_s", "Wind, m/s", true),
    ("rain_mm", "Rain, mm a month", true),
];

const LONGEST_NAME: usize = 60;

pub struct PlaceForm {
    pub name: Cell,
    pub whole: [Cell; 7],
    pub coastal: bool,
    pub months: Vec<MonthRow>,
}

pub struct MonthRow {
    pub name: &'static str,
    pub cells: Vec<Cell>,
}

impl PlaceForm {
    pub fn of(typed: &Typed) -> Self {
        let months = (1..).zip(MONTHS).map(|(month, name)| MonthRow {
            name,
            cells: MONTHLY.map(|(key, label, _)| Cell::of(format!("m{month}.{key}"), label, typed)).to_vec(),
        });
        Self {
            name: Cell::of("name", "Name, as growers write it", typed),
            whole: WHOLE.map(|(key, label)| Cell::of(key, label, typed)),
            coastal: typed.contains_key("coastal"),
            months: months.collect(),
        }
    }

    pub fn of_place(place: &Place) -> Self {
        let mut typed = Typed::new();
        let mut put = |key: String, value: Option<String>| {
            typed.extend(value.map(|value| (key, value)));
        };
        // Four decimals are finer than any instrument; more of them only hide the number.
        let number = |value: f64| Some(((value * 1e4).round() / 1e4).to_string());
        put("name".to_owned(), Some(place.name.clone()));
        put("lat_deg".to_owned(), number(place.lat_deg));
        put("lon_deg".to_owned(), number(place.lon_deg));
        put("alt_m".to_owned(), number(place.alt_m));
        put("utc_offset_h".to_owned(), number(place.utc_offset_h));
        let season: Vec<String> = place.season_months.iter().map(u8::to_string).collect();
        put("season_months".to_owned(), Some(season.join(" ")));
        put("low_water_month".to_owned(), place.low_water_month.map(|month| month.to_string()));
        put("source".to_owned(), place.source.clone());
        put("coastal".to_owned(), place.coastal.then(|| "yes".to_owned()));
        for (month, climate) in (1..).zip(&place.months) {
            for (key, value) in MONTHLY.iter().map(|(key, ..)| key).zip(values(climate)) {
                put(format!("m{month}.{key}"), value.and_then(number));
            }
        }
        Self::of(&typed)
    }

    /// The place in the form, or a sentence; each field that is wrong has its own.
    pub fn read(&mut self, name: &str) -> Result<Place, String> {
        let place = self.place(name);
        if name.is_empty() || name.chars().count() > LONGEST_NAME {
            self.name.problem = Some("Give the place a name of 1 to 60 letters.".to_owned());
        }
        if self.cells().any(|cell| cell.problem.is_some()) {
            return Err("Nothing was changed; correct the marked fields.".to_owned());
        }
        Climate::new(place).map(|climate| climate.place).map_err(|error| {
            let problem = format!("{}.", sentence(&error).sentence);
            let at = error.month.map_or_else(|| error.key.to_owned(), |month| format!("m{month}.{}", error.key));
            if let Some(cell) = self.cells().find(|cell| cell.name == at) {
                cell.problem = Some(problem.clone());
            }
            format!("Nothing was changed: {problem}")
        })
    }

    fn cells(&mut self) -> impl Iterator<Item = &mut Cell> {
        let months = self.months.iter_mut().flat_map(|month| &mut month.cells);
        std::iter::once(&mut self.name).chain(&mut self.whole).chain(months)
    }

    /// The place as far as it is understood; every field that is not has its problem.
    fn place(&mut self, name: &str) -> Place {
        let wrong = |key: &str, what: &str| Some(format!("{}.", refused(name, None, key, what).sentence));
        let [lat, lon, alt, offset, season, low_water, source] = &mut self.whole;
        let [lat_deg, lon_deg, alt_m, utc_offset_h] =
            [lat, lon, alt, offset].map(|cell| number_in(cell, name, None, true).unwrap_or_default());
        let month_of = |text: &str| text.parse::<u8>().ok().filter(|month| (1..=12).contains(month));
        let told = season.value.split([' ', ',']).filter(|month| !month.is_empty());
        let season_months: Option<Vec<u8>> = told.map(month_of).collect();
        if season_months.is_none() {
            season.problem = wrong("season_months", "write months as numbers 1 to 12 with spaces between, such as 6 7 8 9");
        }
        let low_water_month = month_of(&low_water.value);
        if low_water_month.is_none() && !low_water.value.is_empty() {
            low_water.problem = wrong("low_water_month", "write one month as a number 1 to 12, or nothing");
        }
        let source = Some(source.value.replace('\0', "")).filter(|source| !source.is_empty());
        let months = (1..).zip(&mut self.months).map(|(month, row)| {
            let mut values = [None; 7];
            for ((value, cell), (_, _, may_lack)) in values.iter_mut().zip(&mut row.cells).zip(MONTHLY) {
                *value = number_in(cell, name, Some(month), !may_lack);
            }
            let [h_kwh_m2_day, sunshine_h, t_min_c, t_max_c, rh_percent, u2_m_s, rain_mm] = values;
            let (t_min_c, t_max_c) = (t_min_c.unwrap_or_default(), t_max_c.unwrap_or_default());
            MonthClimate { h_kwh_m2_day, sunshine_h, t_min_c, t_max_c, rh_percent, u2_m_s, rain_mm }
        });
        let months = months.collect();
        let (name, coastal, season_months) = (name.to_owned(), self.coastal, season_months.unwrap_or_default());
        Place { name, lat_deg, lon_deg, alt_m, utc_offset_h, coastal, season_months, low_water_month, source, months }
    }
}

fn values(climate: &MonthClimate) -> [Option<f64>; 7] {
    let MonthClimate { h_kwh_m2_day, sunshine_h, t_min_c, t_max_c, rh_percent, u2_m_s, rain_mm } = *climate;
    [h_kwh_m2_day, sunshine_h, Some(t_min_c), Some(t_max_c), rh_percent, u2_m_s, rain_mm]
}

/// The number in a field, which is named by its key in the problem.
fn number_in(cell: &mut Cell, place: &str, month: Option<usize>, is_needed: bool) -> Option<f64> {
    let number = if is_needed { cell.needed() } else { cell.number() };
    if cell.problem.is_some() {
        let key = cell.name.rsplit('.').next().unwrap_or_default();
        let what = if cell.value.is_empty() {
            "it is empty; write a number".to_owned()
        } else {
            format!("“{}” is no number; write digits with a point, such as 12.5", cell.value)
        };
        cell.problem = Some(format!("{}.", refused(place, month, key, &what).sentence));
    }
    number
}
