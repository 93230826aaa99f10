//! How sure a water figure is: what is uncertain is carried through the engine, not guessed at.

use super::circuit::Circuit;
use super::design::sky_of;
use super::error::SizingError;
use super::flow_table::FlowTable;
use super::pump::Pump;
use super::site::{Site, Solved};
use super::sky::{Light, MonthSky};
use super::year::{Lifter, month_water};

/// Half-widths that nine cases in ten keep to: the share of its label that a pump gives, in flow and head alike; dust and age of
/// the panels, relative; a lift given to the metre, m (all practice).
pub const LABEL_SPREAD: f64 = 0.10;
pub const DUST_SPREAD: f64 = 0.055;
pub const LIFT_SPREAD_M: f64 = 0.5;

/// Range of the design month's water, m³ a day, that nine cases in ten fall in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterRange {
    pub low_m3_day: f64,
    pub high_m3_day: f64,
}

/// What is taken for certain in one case: factors on radiation and on light, the pump's share, metres added to the lift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Case {
    pub radiation: f64,
    pub light: f64,
    pub label: f64,
    pub lift_m: f64,
}

impl Case {
    /// Everything as it is believed to be.
    pub const BELIEVED: Case = Case { radiation: 1.0, light: 1.0, label: 0.0, lift_m: 0.0 };
}

/// The design month's water in a case, m³ a day.
pub fn water_in_case(site: &Site<'_>, solved: &Solved, case: Case) -> Result<f64, SizingError> {
    let month = solved.design_month;
    let circuit = solved.design.circuit_of(month, &site.demand);
    let share = site.filled.label_share;
    let changed = super::pump::LabelShare { flow: share.flow + case.label, head: share.head + case.label };
    let circuit = Circuit {
        pump: Pump::from_label(&solved.design.pump_label, changed)?,
        static_head_m: (circuit.static_head_m + case.lift_m).max(0.0),
        ..*circuit
    };
    let (coldest_c, hottest_c) = site.cell_range_c();
    let table = FlowTable::new(&circuit, coldest_c, hottest_c)?;
    let dusty = Dusty { table: &table, light: case.light };
    let other_sky;
    let sky = if case.radiation == 1.0 {
        sky_of(&site.skies, month)
    } else {
        let weather = &site.climate.weather[usize::from(month) - 1];
        let h_kwh_m2_day = weather.h_kwh_m2_day * case.radiation;
        other_sky = MonthSky::new(
            site.climate.place.lat_deg,
            &super::place::Weather { h_kwh_m2_day, ..*weather },
            site.filled.stance,
        )?;
        &other_sky
    };
    let water = month_water(sky, &dusty, f64::from(site.filled.pump_count), site.well_share_m3_s())?;
    Ok(water.water_m3_day)
}

/// The range: each uncertain input is moved to both ends of its own range with the others as believed, and the water's moves
/// down, and up, are added as independent ones are, `sqrt(sum of squares)`.
pub fn water_range(site: &Site<'_>, solved: &Solved) -> Result<WaterRange, SizingError> {
    let believed = solved.month().water.water_m3_day;
    let radiation = site.climate.radiation_spread;
    let (mut down, mut up) = (0.0, 0.0);
    for (less, more) in [
        (Case { radiation: 1.0 - radiation, ..Case::BELIEVED }, Case { radiation: 1.0 + radiation, ..Case::BELIEVED }),
        (Case { light: 1.0 - DUST_SPREAD, ..Case::BELIEVED }, Case { light: 1.0 + DUST_SPREAD, ..Case::BELIEVED }),
        (Case { label: -LABEL_SPREAD, ..Case::BELIEVED }, Case { label: LABEL_SPREAD, ..Case::BELIEVED }),
        (Case { lift_m: LIFT_SPREAD_M, ..Case::BELIEVED }, Case { lift_m: -LIFT_SPREAD_M, ..Case::BELIEVED }),
    ] {
        let (less, more) = (water_in_case(site, solved, less)?, water_in_case(site, solved, more)?);
        down += (believed - less.min(more)).max(0.0).powi(2);
        up += (less.max(more) - believed).max(0.0).powi(2);
    }
    Ok(WaterRange { low_m3_day: (believed - down.sqrt()).max(0.0), high_m3_day: believed + up.sqrt() })
}

/// A table under panels that are dustier or cleaner than believed.
struct Dusty<'t> {
    table: &'t FlowTable,
    light: f64,
}

impl Lifter for Dusty<'_> {
    fn flow_m3_s(&self, light: Light) -> Result<f64, SizingError> {
        self.table.flow_m3_s(Light { poa_w_m2: light.poa_w_m2 * self.light, ..light })
    }
}
