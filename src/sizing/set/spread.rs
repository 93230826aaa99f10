//! How sure a water figure is: what is uncertain is carried through the engine, not guessed at.

use super::site::{Site, Solved};
use super::verdict::SURE_FROM;
use super::verdict::Verdict;
use crate::sizing::error::{SizingError, within};
use crate::sizing::light::sky::MonthSky;
use crate::sizing::light::sky::sky_of;
use crate::sizing::operating::flow_table::{Dusty, FlowTable};
use crate::sizing::operating::year::month_water;
use crate::sizing::parts::circuit::Circuit;
use crate::sizing::parts::pump::{LabelShare, Pump};
use crate::sizing::weather::place::Weather;

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

/// The design month's water in a case, m³ a day: factors 0.1..2, lift -150..150 m, shares as a pump has them.
pub fn water_in_case(site: &Site<'_>, solved: &Solved, case: Case) -> Result<f64, SizingError> {
    within("radiation", case.radiation, 0.1, 2.0)?;
    within("light", case.light, 0.1, 2.0)?;
    within("lift_m", case.lift_m, -150.0, 150.0)?;
    water_of(site, solved, &table_in(site, solved, case)?, case)
}

/// The set of a case, tabulated: it depends on the pump's share and on the lift, not on the light.
fn table_in(site: &Site<'_>, solved: &Solved, case: Case) -> Result<FlowTable, SizingError> {
    let circuit = solved.design.circuit_of(solved.design_month, &site.demand);
    let share = site.filled.label_share;
    let changed = LabelShare { flow: share.flow + case.label, head: share.head + case.label };
    let circuit = Circuit {
        pump: Pump::from_label(&solved.design.pump_label, changed)?,
        static_head_m: (circuit.static_head_m + case.lift_m).max(0.0),
        ..*circuit
    };
    let (coldest_c, hottest_c) = sky_of(&site.skies, solved.design_month).cell_range_c();
    FlowTable::new(&circuit, coldest_c, hottest_c)
}

/// The water of a tabulated set in the light of a case, m³ a day.
fn water_of(site: &Site<'_>, solved: &Solved, table: &FlowTable, case: Case) -> Result<f64, SizingError> {
    let month = solved.design_month;
    let dusty = Dusty { table, light: case.light };
    let weather = &site.climate.weather[usize::from(month) - 1];
    let brighter = Weather { h_kwh_m2_day: weather.h_kwh_m2_day * case.radiation, ..*weather };
    let other_sky;
    let sky = if case.radiation == 1.0 {
        sky_of(&site.skies, month)
    } else {
        other_sky = MonthSky::new(site.climate.place.lat_deg, &brighter, site.filled.stance)?;
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
    let as_believed = solved.table_of(solved.design_month, &site.demand);
    let (mut down, mut up) = (0.0, 0.0);
    let mut add = |less: f64, more: f64| {
        down += (believed - less.min(more)).max(0.0).powi(2);
        up += (less.max(more) - believed).max(0.0).powi(2);
    };
    let in_light = |case: Case| water_of(site, solved, as_believed, case);
    add(
        in_light(Case { radiation: 1.0 - radiation, ..Case::BELIEVED })?,
        in_light(Case { radiation: 1.0 + radiation, ..Case::BELIEVED })?,
    );
    add(
        in_light(Case { light: 1.0 - DUST_SPREAD, ..Case::BELIEVED })?,
        in_light(Case { light: 1.0 + DUST_SPREAD, ..Case::BELIEVED })?,
    );
    let of_set = |case: Case| water_in_case(site, solved, case);
    add(of_set(Case { label: -LABEL_SPREAD, ..Case::BELIEVED })?, of_set(Case { label: LABEL_SPREAD, ..Case::BELIEVED })?);
    add(
        of_set(Case { lift_m: LIFT_SPREAD_M, ..Case::BELIEVED })?,
        of_set(Case { lift_m: -LIFT_SPREAD_M, ..Case::BELIEVED })?,
    );
    Ok(WaterRange { low_m3_day: (believed - down.sqrt()).max(0.0), high_m3_day: believed + up.sqrt() })
}

/// Whether a set is enough for the garden; none without a garden. Besides the area on the mean day, `enough` asks for the
/// low end of the water's range to reach 0.9 of the need.
pub fn verdict_of(site: &Site<'_>, solved: &Solved) -> Result<Option<Verdict>, SizingError> {
    let verdict = site.filled.garden_m2.map(|garden_m2| Verdict::of(solved.area_m2(), garden_m2));
    if verdict != Some(Verdict::Enough) {
        return Ok(verdict);
    }
    Ok(verdict_within(site, solved, &water_range(site, solved)?))
}

/// The same where the range is known already.
pub fn verdict_within(site: &Site<'_>, solved: &Solved, range: &WaterRange) -> Option<Verdict> {
    let garden_m2 = site.filled.garden_m2?;
    let verdict = Verdict::of(solved.area_m2(), garden_m2);
    let need_l_m2_day = solved.month().need_l_m2_day;
    let is_unsure = need_l_m2_day > 0.0 && range.low_m3_day * 1000.0 / need_l_m2_day < SURE_FROM * garden_m2;
    Some(if verdict == Verdict::Enough && is_unsure { Verdict::Tight } else { verdict })
}
