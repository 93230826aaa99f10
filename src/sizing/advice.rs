//! The whole answer to one sheet: everything that a reply, a page or a JSON reader says comes out of here.

use serde::Serialize;

use super::catalog::PumpClass;
use super::caution::{Caution, cautions};
use super::crop::Watering;
use super::daytypes::BRIGHT_DAY;
use super::design::{Climate, Demand, Design, bright_noon, sky_of};
use super::error::SizingError;
use super::flow_table::FlowTable;
use super::holding::meet;
use super::pump::PumpLabel;
use super::sheet::Filled;
use super::sky::{Light, MonthSky, faiman_c};
use super::stance::StanceKind;
use super::verdict::Verdict;
use super::wire::{Wiring, breaker_a, string_fuse_a};
use super::year::{MonthWater, month_water};
use crate::units::{l_min_from_m3_s, m3_s_from_l_h};

/// The sheet as it was worked with: what was told and what was taken for granted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetUsed {
    pub lift_m: f64,
    pub low_m: f64,
    pub pipe_m: f64,
    pub bore_mm: f64,
    pub panel_count: u32,
    pub panel_w: f64,
    pub stance: StanceKind,
    pub tilt_deg: f64,
    pub pump: PumpUsed,
    pub well_l_h: Option<f64>,
    pub garden_m2: Option<f64>,
    pub crop: &'static str,
    pub month: u8,
    pub watering: Watering,
    pub wire_m: f64,
    pub wire_mm2: f64,
    pub place: String,
}

/// The pump as it was worked with.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PumpUsed {
    pub label_v: f64,
    pub flow_l_h: f64,
    pub head_m: f64,
    pub amps: f64,
    pub electronics: bool,
    pub count: u32,
    /// The class it was taken from, where none was told.
    pub class: Option<String>,
}

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

/// Solar noon of the bright day in the design month, all pumps together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BrightNoon {
    pub flow_l_min: f64,
    pub head_m: f64,
    pub pipe_loss_m: f64,
    pub pump_v: f64,
    pub pump_a: f64,
    pub speed: f64,
}

/// Flow at a solar hour of the bright day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HourFlow {
    pub solar_hour: f64,
    pub flow_l_min: f64,
}

/// Will this set water this garden.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    pub sheet: SheetUsed,
    pub assumed: Vec<&'static str>,
    pub design_month: u8,
    /// Month in which the water stands lowest, 1..12.
    pub low_water_month: u8,
    pub months: Vec<MonthAdvice>,
    pub bright_noon: BrightNoon,
    pub hours: Vec<HourFlow>,
    pub verdict: Option<Verdict>,
    /// At bright noon the voltage wears the brushes quickly.
    pub over_driven: bool,
    /// Panels, of the same kind, that would not over-drive the pump.
    pub over_driven_cure_panels: Option<u32>,
    pub wire: Wiring,
    pub cautions: Vec<Caution>,
}

impl Advice {
    /// The design month's figures.
    pub fn design(&self) -> &MonthAdvice {
        &self.months[usize::from(self.design_month) - 1]
    }
}

/// Light on the panels that no mean day passes, W/m².
const BRIGHTEST_W_M2: f64 = 1300.0;

/// A set with its year.
struct Solved {
    design: Design,
    months: Vec<MonthAdvice>,
    design_month: u8,
}

impl Solved {
    fn area_m2(&self) -> f64 {
        self.months[usize::from(self.design_month) - 1].area_m2.unwrap_or(f64::INFINITY)
    }
}

/// Works out a filled sheet in a climate; `classes` stand in for a pump that was not told, cheapest first.
pub fn advise(filled: &Filled, climate: &Climate, classes: &[PumpClass]) -> Result<Advice, SizingError> {
    let skies = climate.skies(filled.stance)?;
    let demand = Demand::new(filled, climate)?;
    match &filled.pump {
        Some(label) => advise_pump(filled, climate, &skies, &demand, label, None),
        None => {
            let class = choose_class(filled, climate, &skies, &demand, classes)?;
            advise_pump(filled, climate, &skies, &demand, &class.label, Some(&class.name))
        }
    }
}

/// The class whose set serves the garden for least, classes being in order of cost; where none does, or no garden is
/// told, the one that serves the largest area.
fn choose_class<'a>(
    filled: &Filled,
    climate: &Climate,
    skies: &[MonthSky],
    demand: &Demand,
    classes: &'a [PumpClass],
) -> Result<&'a PumpClass, SizingError> {
    let mut best: Option<(&PumpClass, f64)> = None;
    for class in classes {
        let area_m2 = solve(filled, climate, skies, demand, &class.label)?.area_m2();
        if filled.garden_m2.is_some_and(|garden| Verdict::of(area_m2, garden) == Verdict::Enough) {
            return Ok(class);
        }
        if best.is_none_or(|(_, so_far)| area_m2 > so_far) {
            best = Some((class, area_m2));
        }
    }
    best.map(|(class, _)| class).ok_or(SizingError::Missing { name: "pump" })
}

fn solve(
    filled: &Filled,
    climate: &Climate,
    skies: &[MonthSky],
    demand: &Demand,
    label: &PumpLabel,
) -> Result<Solved, SizingError> {
    let design = Design::new(filled, label, skies, demand, |bare| {
        let months = year(filled, climate, skies, demand, bare)?;
        Ok(design_month(filled, demand, &months))
    })?;
    let months = year(filled, climate, skies, demand, &design)?;
    let design_month = design_month(filled, demand, &months);
    Ok(Solved { design, months, design_month })
}

fn year(
    filled: &Filled,
    climate: &Climate,
    skies: &[MonthSky],
    demand: &Demand,
    design: &Design,
) -> Result<Vec<MonthAdvice>, SizingError> {
    let (coldest_c, hottest_c) = cell_range_c(climate);
    let season_table = FlowTable::new(&design.season_circuit, coldest_c, hottest_c)?;
    let other_table = if design.other_circuit == design.season_circuit {
        None
    } else {
        Some(FlowTable::new(&design.other_circuit, coldest_c, hottest_c)?)
    };
    let pumps = f64::from(filled.pump_count);
    let cap_m3_s = well_share_m3_s(filled);
    climate
        .weather
        .iter()
        .map(|weather| {
            let month = weather.month;
            let in_season = demand.season.contains(&month);
            let table = if in_season { &season_table } else { other_table.as_ref().unwrap_or(&season_table) };
            let water = month_water(sky_of(skies, month), table, pumps, cap_m3_s)?;
            let need_l_m2_day = demand.of(month);
            let area_m2 = (need_l_m2_day > 0.0).then(|| water.water_m3_day * 1000.0 / need_l_m2_day);
            Ok(MonthAdvice {
                month,
                sun_kwh_m2_day: weather.h_kwh_m2_day,
                water,
                eto_mm_day: weather.eto_mm_day,
                need_l_m2_day,
                area_m2,
            })
        })
        .collect()
}

/// Range of cell temperature over the year, degC: from the coldest night to full light at the warmest hour in still air.
fn cell_range_c(climate: &Climate) -> (f64, f64) {
    let coldest = climate.weather.iter().map(|w| w.t_min_c).fold(f64::INFINITY, f64::min);
    let hottest =
        climate.weather.iter().map(|w| faiman_c(BRIGHTEST_W_M2, w.t_max_c, w.u2_m_s)).fold(f64::NEG_INFINITY, f64::max);
    (coldest, hottest)
}

/// What the well leaves to each pump, m³/s.
fn well_share_m3_s(filled: &Filled) -> f64 {
    filled.well_l_h.map_or(f64::INFINITY, |l_h| m3_s_from_l_h(l_h) / f64::from(filled.pump_count))
}

/// The month asked for, or the season's month whose water serves the smallest area; of a season in which nothing is
/// needed, the month with the least water.
fn design_month(filled: &Filled, demand: &Demand, months: &[MonthAdvice]) -> u8 {
    if let Some(month) = filled.month {
        return month;
    }
    let rank = |month: u8| {
        let of_month = &months[usize::from(month) - 1];
        (of_month.area_m2.unwrap_or(f64::INFINITY), of_month.water.water_m3_day)
    };
    let mut best = demand.season[0];
    for &month in &demand.season {
        if rank(month) < rank(best) {
            best = month;
        }
    }
    best
}

fn advise_pump(
    filled: &Filled,
    climate: &Climate,
    skies: &[MonthSky],
    demand: &Demand,
    label: &PumpLabel,
    class: Option<&str>,
) -> Result<Advice, SizingError> {
    let Solved { design, months, design_month } = solve(filled, climate, skies, demand, label)?;
    let circuit = design.circuit_of(design_month, demand);
    let sky = sky_of(skies, design_month);
    let cap_m3_s = well_share_m3_s(filled);
    let pumps = f64::from(filled.pump_count);

    let light = bright_noon(sky);
    let noon = meet(circuit, light)?;
    let bright = BrightNoon {
        flow_l_min: l_min_from_m3_s(noon.flow_m3_s.min(cap_m3_s)) * pumps,
        head_m: noon.head_m,
        pipe_loss_m: circuit.pipe.loss_m(noon.flow_m3_s),
        pump_v: noon.pump_v,
        pump_a: noon.pump_a,
        speed: noon.speed,
    };
    let hours =
        hours_of_bright_day(sky, |light| Ok(l_min_from_m3_s(meet(circuit, light)?.flow_m3_s.min(cap_m3_s)) * pumps))?;
    let over_driven = circuit.pump.over_drive_v().is_some_and(|limit| noon.pump_v > limit);
    let over_driven_cure_panels =
        if over_driven { cure_over_drive(filled, label, skies, demand, design_month)? } else { None };

    let area_m2 = months[usize::from(design_month) - 1].area_m2;
    let verdict = filled.garden_m2.map(|garden| Verdict::of(area_m2.unwrap_or(f64::INFINITY), garden));
    let wire = Wiring {
        size_mm2: design.conductor.size_mm2,
        drop_percent: if noon.pump_v > 0.0 { 100.0 * noon.pump_a * circuit.cable_ohm / noon.pump_v } else { 0.0 },
        breaker_a: breaker_a(circuit.isc_a()),
        string_fuse_a: string_fuse_a(f64::from(design.strings), circuit.panel.isc_a()),
    };
    let coldest_c = climate.weather.iter().map(|w| w.t_min_c).fold(f64::INFINITY, f64::min);
    let cold_open_v = circuit.panel.open_circuit_v(coldest_c) * circuit.series;
    let mut assumed = filled.assumed.clone();
    if label.amps.is_none() {
        assumed.push("amps");
    }
    Ok(Advice {
        sheet: SheetUsed {
            lift_m: filled.lift_m,
            low_m: filled.low_m,
            pipe_m: filled.pipe_m,
            bore_mm: design.bore_mm,
            panel_count: filled.panel_count,
            panel_w: filled.panel_w,
            stance: filled.stance.kind,
            tilt_deg: filled.stance.tilt_deg,
            pump: PumpUsed {
                label_v: label.label_v,
                flow_l_h: label.flow_l_h,
                head_m: label.head_m,
                amps: circuit.pump.rated_a,
                electronics: label.electronics,
                count: filled.pump_count,
                class: class.map(str::to_owned),
            },
            well_l_h: filled.well_l_h,
            garden_m2: filled.garden_m2,
            crop: filled.crop.name,
            month: design_month,
            watering: filled.watering,
            wire_m: filled.wire_m,
            wire_mm2: design.conductor.size_mm2,
            place: climate.place.name.clone(),
        },
        assumed,
        design_month,
        low_water_month: demand.low_water_month,
        bright_noon: bright,
        hours,
        verdict,
        over_driven,
        over_driven_cure_panels,
        cautions: cautions(over_driven, filled, &noon, cap_m3_s, &wire, cold_open_v),
        wire,
        months,
    })
}

fn hours_of_bright_day(
    sky: &MonthSky,
    flow_l_min: impl Fn(Light) -> Result<f64, SizingError>,
) -> Result<Vec<HourFlow>, SizingError> {
    let (sunrise, sunset) = sky.daylight_h();
    (0..24)
        .map(f64::from)
        .filter(|hour| *hour > sunrise && *hour < sunset)
        .map(|solar_hour| {
            let light = sky.at(BRIGHT_DAY, solar_hour);
            Ok(HourFlow { solar_hour, flow_l_min: flow_l_min(light)? })
        })
        .collect()
}

/// The most panels of the same kind, fewer than now, that do not over-drive the pump at the bright noon of a month.
fn cure_over_drive(
    filled: &Filled,
    label: &PumpLabel,
    skies: &[MonthSky],
    demand: &Demand,
    month: u8,
) -> Result<Option<u32>, SizingError> {
    let light = bright_noon(sky_of(skies, month));
    for panel_count in (1..filled.panel_count).rev() {
        let fewer = Filled { panel_count, ..filled.clone() };
        let design = Design::new(&fewer, label, skies, demand, |_| Ok(month))?;
        let circuit = design.circuit_of(month, demand);
        let noon = meet(circuit, light)?;
        if circuit.pump.over_drive_v().is_none_or(|limit| noon.pump_v <= limit) {
            return Ok(Some(panel_count));
        }
    }
    Ok(None)
}
