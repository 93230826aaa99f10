//! A filled sheet in its climate, and the year of one set on it.

use super::demand::Demand;
use crate::sizing::light::sky::skies_of;
use crate::sizing::light::sky::sky_of;
use crate::sizing::weather::climate::Climate;
use std::rc::Rc;

use serde::Serialize;

use super::design::Design;
use super::over_drive::{Drive, drive_of};
use super::sheet::CompleteSheet;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::{MonthSky, faiman_c};
use crate::sizing::operating::flow_table::FlowTable;
use crate::sizing::operating::year::{MonthWater, month_water};
use crate::sizing::parts::circuit::Circuit;
use crate::sizing::parts::pump::PumpLabel;
use crate::sizing::parts::suction::greatest_suction_m;
use crate::units::m3_s_from_l_h;

/// Light on the panels that no mean day passes, W/m².
const BRIGHTEST_W_M2: f64 = 1300.0;

/// One month of the year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MonthAdvice {
    pub month: u8,
    pub sun_kwh_m2_day: f64,
    #[serde(flatten)]
    pub water: MonthWater,
    pub eto_mm_day: f64,
    pub need_l_m2_day: f64,
    /// None when nothing is needed.
    pub area_m2: Option<f64>,
}

/// Everything that does not depend on which pump is taken.
#[derive(Debug, Clone)]
pub struct Site<'a> {
    pub filled: CompleteSheet,
    pub climate: &'a Climate,
    pub skies: Rc<Vec<MonthSky>>,
    pub demand: Demand,
    /// The most that the air pushes water up to a pump here.
    pub greatest_suction_m: f64,
}

/// A set with its year.
#[derive(Debug, Clone)]
pub struct Solved {
    pub design: Design,
    pub months: Vec<MonthAdvice>,
    pub design_month: u8,
    pub drive: Drive,
    tables: Tables,
}

/// A set's running points at the lift of the season, and at that of the other months where it is another and was asked for.
#[derive(Debug, Clone)]
struct Tables {
    season: Rc<FlowTable>,
    other: Option<Rc<FlowTable>>,
}

impl Solved {
    /// The design month's figures.
    pub fn month(&self) -> &MonthAdvice {
        &self.months[usize::from(self.design_month) - 1]
    }

    /// Area that the design month's water serves, m²; without limit where nothing is needed.
    pub fn area_m2(&self) -> f64 {
        self.month().area_m2.unwrap_or(f64::INFINITY)
    }

    /// The set's running points in a month.
    pub fn table_of(&self, month: u8, demand: &Demand) -> &FlowTable {
        self.tables.of(demand.season.contains(&month))
    }
}

impl Tables {
    fn of(&self, is_in_season: bool) -> &FlowTable {
        if is_in_season { &self.season } else { self.other.as_ref().unwrap_or(&self.season) }
    }
}

impl<'a> Site<'a> {
    /// Works out the light and the need.
    pub fn new(filled: CompleteSheet, climate: &'a Climate) -> Result<Self, SizingError> {
        let skies = Rc::new(skies_of(climate, filled.stance)?);
        Site::under(filled, climate, skies)
    }

    /// The same under skies that were worked out before, for the same stance.
    pub fn under(filled: CompleteSheet, climate: &'a Climate, skies: Rc<Vec<MonthSky>>) -> Result<Self, SizingError> {
        let demand = Demand::new(&filled, climate)?;
        let greatest_suction_m = greatest_suction_m(climate.place.alt_m)?;
        Ok(Site { filled, climate, skies, demand, greatest_suction_m })
    }

    /// What the well leaves to each pump, m³/s.
    pub fn well_share_m3_s(&self) -> f64 {
        self.filled.well_l_h.map_or(f64::INFINITY, |l_h| m3_s_from_l_h(l_h) / f64::from(self.filled.pump_count))
    }

    /// The most that each pump can lift in a month, m³/s: what the well leaves it, and nothing where it stands so high above the
    /// water that the air does not push it up.
    pub fn cap_m3_s(&self, month: u8) -> f64 {
        let filled = &self.filled;
        let suction_m = if self.in_season(month) { filled.suction_low_m() } else { filled.suction_m };
        if suction_m.is_some_and(|suction_m| suction_m > self.greatest_suction_m) {
            return 0.0;
        }
        self.well_share_m3_s()
    }

    /// Whether a month lies in the watering season.
    pub fn in_season(&self, month: u8) -> bool {
        self.demand.season.contains(&month)
    }

    /// A pump's set on this site.
    pub fn design(&self, label: &PumpLabel) -> Result<Design, SizingError> {
        Design::new(&self.filled, label, &self.skies, &self.demand, |bare| {
            let tables = self.tables(bare, |month| self.is_candidate(month))?;
            Ok(self.worst_month(&self.months(&tables, |month| self.is_candidate(month))?))
        })
    }

    /// How hard a set's pump is driven.
    pub fn drive(&self, design: &Design) -> Result<Drive, SizingError> {
        drive_of(design, &self.skies, &self.demand, self.filled.month)
    }

    /// A pump's set with all twelve months.
    pub fn solve(&self, label: &PumpLabel) -> Result<Solved, SizingError> {
        let design = self.design(label)?;
        let tables = self.tables(&design, |_| true)?;
        let months = self.months(&tables, |_| true)?;
        let design_month = self.worst_month(&months);
        let drive = self.drive(&design)?;
        Ok(Solved { design, months, design_month, drive, tables })
    }

    /// A pump's set with all twelve months, where the area that it serves in its design month, m², is one that is wanted. The
    /// area comes of the season's months alone, and the others are left till it is known.
    pub fn solve_if(&self, label: &PumpLabel, wanted: impl FnOnce(f64) -> bool) -> Result<Option<Solved>, SizingError> {
        let design = self.design(label)?;
        let tables = self.tables(&design, |month| self.is_candidate(month))?;
        let candidates = self.months(&tables, |month| self.is_candidate(month))?;
        let design_month = self.worst_month(&candidates);
        let area = candidates.iter().find(|month| month.month == design_month).and_then(|month| month.area_m2);
        if !wanted(area.unwrap_or(f64::INFINITY)) {
            return Ok(None);
        }
        let tables = if tables.other.is_some() { tables } else { self.with_other(&design, tables, |_| true)? };
        let mut months = self.months(&tables, |month| !self.is_candidate(month))?;
        months.extend(candidates);
        months.sort_by_key(|month| month.month);
        let drive = self.drive(&design)?;
        Ok(Some(Solved { design, months, design_month, drive, tables }))
    }

    /// Area that a pump's set serves in its design month, m², and how hard it is driven: all that choosing a pump asks for.
    pub fn weigh(&self, label: &PumpLabel) -> Result<(f64, Drive), SizingError> {
        let design = self.design(label)?;
        let tables = self.tables(&design, |month| self.is_candidate(month))?;
        let candidates = self.months(&tables, |month| self.is_candidate(month))?;
        let design_month = self.worst_month(&candidates);
        let area = candidates.iter().find(|month| month.month == design_month).and_then(|month| month.area_m2);
        Ok((area.unwrap_or(f64::INFINITY), self.drive(&design)?))
    }

    /// Whether a month is among those of which one is the design month.
    fn is_candidate(&self, month: u8) -> bool {
        match self.filled.month {
            Some(asked) => month == asked,
            None => self.in_season(month),
        }
    }

    fn tables(&self, design: &Design, wanted: impl Fn(u8) -> bool) -> Result<Tables, SizingError> {
        let season = self.table(&design.season_circuit)?;
        self.with_other(design, Tables { season, other: None }, wanted)
    }

    /// With the table of the months outside the season, where their lift is another and one of them is wanted.
    fn with_other(&self, design: &Design, tables: Tables, wanted: impl Fn(u8) -> bool) -> Result<Tables, SizingError> {
        let is_wanted = design.other_circuit != design.season_circuit
            && self.climate.weather.iter().any(|weather| wanted(weather.month) && !self.in_season(weather.month));
        Ok(Tables { other: is_wanted.then(|| self.table(&design.other_circuit)).transpose()?, ..tables })
    }

    fn table(&self, circuit: &Circuit) -> Result<Rc<FlowTable>, SizingError> {
        let (coldest_c, hottest_c) = self.cell_range_c();
        Ok(Rc::new(FlowTable::new(circuit, coldest_c, hottest_c)?))
    }

    fn months(&self, tables: &Tables, wanted: impl Fn(u8) -> bool) -> Result<Vec<MonthAdvice>, SizingError> {
        let pumps = f64::from(self.filled.pump_count);
        self.climate
            .weather
            .iter()
            .filter(|weather| wanted(weather.month))
            .map(|weather| {
                let month = weather.month;
                let water =
                    month_water(sky_of(&self.skies, month), tables.of(self.in_season(month)), pumps, self.cap_m3_s(month))?;
                let need_l_m2_day = self.demand.of(month);
                Ok(MonthAdvice {
                    month,
                    sun_kwh_m2_day: weather.h_kwh_m2_day,
                    water,
                    eto_mm_day: weather.eto_mm_day,
                    need_l_m2_day,
                    area_m2: (need_l_m2_day > 0.0).then(|| water.water_m3_day * 1000.0 / need_l_m2_day),
                })
            })
            .collect()
    }

    /// The month asked for, or the season's month whose water serves the smallest area; of a season in which nothing is
    /// needed, the month with the least water.
    fn worst_month(&self, months: &[MonthAdvice]) -> u8 {
        if let Some(month) = self.filled.month {
            return month;
        }
        let rank = |month: &MonthAdvice| (month.area_m2.unwrap_or(f64::INFINITY), month.water.water_m3_day);
        let mut of_season = months.iter().filter(|month| self.in_season(month.month));
        let Some(mut worst) = of_season.next() else { return self.demand.season[0] };
        for month in of_season {
            if rank(month) < rank(worst) {
                worst = month;
            }
        }
        worst.month
    }

    /// Range of cell temperature over the year, degC: from the coldest night to full light at the warmest hour.
    pub fn cell_range_c(&self) -> (f64, f64) {
        let weather = &self.climate.weather;
        let coldest = weather.iter().map(|w| w.t_min_c).fold(f64::INFINITY, f64::min);
        let hottest =
            weather.iter().map(|w| faiman_c(BRIGHTEST_W_M2, w.t_max_c, w.u2_m_s)).fold(f64::NEG_INFINITY, f64::max);
        (coldest, hottest)
    }
}
