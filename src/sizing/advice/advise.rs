//! The whole answer to one sheet: everything that a reply, a page or a JSON reader says comes out of here.

use crate::sizing::light::sky::bright_noon;
use crate::sizing::light::sky::sky_of;
use crate::sizing::set::over_drive::cure_over_drive;
use crate::sizing::set::spread::verdict_of;
use crate::sizing::set::spread::verdict_within;
use crate::sizing::weather::climate::Climate;
use rust_decimal::Decimal;
use serde::Serialize;

use super::caution::{Caution, Found, cautions};
use super::changes::{Fix, find_fixes};
use crate::sizing::bucket::judging::Tested;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::{Light, MonthSky};
use crate::sizing::money::costs::Money;
use crate::sizing::money::market::Market;
use crate::sizing::operating::point::operating_point_near;
use crate::sizing::operating::year::Lifter;
use crate::sizing::parts::pump_class::PumpClass;
use crate::sizing::parts::suction::greatest_suction_m;
use crate::sizing::parts::wire::{Wiring, breaker_a, string_fuse_a, wants_string_fuses};
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::set::site::{MonthAdvice, Site, Solved};
use crate::sizing::set::spread::water_range;
use crate::sizing::set::verdict::Verdict;
use crate::sizing::sun::day_types::BRIGHT_DAY;
use crate::terms::{StanceKind, Watering};
use crate::units::l_min_from_m3_s;

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
    /// Height of the pump above the water, where it was told to stand there.
    pub suction_m: Option<f64>,
    /// The most that the air pushes water up to a pump here.
    pub greatest_suction_m: f64,
    pub well_l_h: Option<f64>,
    pub garden_m2: Option<f64>,
    pub crop: &'static str,
    pub soil: &'static str,
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
    /// Range of the design month's water that nine cases in ten fall in.
    pub water_low_m3_day: f64,
    pub water_high_m3_day: f64,
    /// What would make it enough; looked for on request, see [`super::changes`].
    pub fixes: Vec<Fix>,
    /// At bright noon the voltage wears the brushes quickly.
    pub over_driven: bool,
    /// Panels, of the same kind, that would not over-drive the pump.
    pub over_driven_cure_panels: Option<u32>,
    pub wire: Wiring,
    pub money: Money,
    pub cautions: Vec<Caution>,
    /// What the set's bucket tests came to, where whoever judged them put it here.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tested: Option<Tested>,
}

impl Advice {
    /// The design month's figures.
    pub fn design(&self) -> &MonthAdvice {
        &self.months[usize::from(self.design_month) - 1]
    }
}

/// Works out a filled sheet in a climate. The market's classes stand in for a pump that was not told.
pub fn advise(filled: &CompleteSheet, climate: &Climate, market: &Market) -> Result<Advice, SizingError> {
    let site = Site::new(filled.clone(), climate)?;
    let (solved, class) = choose_pump(&site, market)?;
    advice_of(&site, &solved, class, market)
}

/// The same with the fixes looked for.
pub fn advise_with_fixes(filled: &CompleteSheet, climate: &Climate, market: &Market) -> Result<Advice, SizingError> {
    let site = Site::new(filled.clone(), climate)?;
    let (solved, class) = choose_pump(&site, market)?;
    let fixes = find_fixes(&site, &solved, market)?;
    Ok(Advice { fixes, ..advice_of(&site, &solved, class, market)? })
}

/// The pump that was told; else the class whose set is enough for least, and where none is, or no garden is told, the one
/// that serves the largest area. Classes without a price count as dearer than those with one, in the market's order.
pub fn choose_pump<'m>(site: &Site<'_>, market: &'m Market) -> Result<(Solved, Option<&'m PumpClass>), SizingError> {
    if let Some(label) = &site.filled.pump {
        return Ok((site.solve(label)?, None));
    }
    let mut largest: Option<(f64, &PumpClass)> = None;
    let mut cheapest: Option<(Option<Decimal>, Solved, &PumpClass)> = None;
    for class in &market.classes {
        let mut area_m2 = 0.0;
        let enough = site.solve_if(&class.label, |area| {
            area_m2 = area;
            site.filled.garden_m2.is_some_and(|garden| Verdict::of(area, garden) == Verdict::Enough)
        })?;
        if largest.is_none_or(|(so_far, _)| area_m2 > so_far) {
            largest = Some((area_m2, class));
        }
        if let Some(solved) = enough {
            if verdict_of(site, &solved)? != Some(Verdict::Enough) {
                continue;
            }
            let cost = market.first_cost(site, &solved);
            let is_cheaper = match (&cheapest, cost) {
                (None, _) => true,
                (Some((Some(before), ..)), Some(now)) => now < *before,
                (Some((None, ..)), Some(_)) => true,
                (Some(_), None) => false,
            };
            if is_cheaper {
                cheapest = Some((cost, solved, class));
            }
        }
    }
    match (cheapest, largest) {
        (Some((_, solved, class)), _) => Ok((solved, Some(class))),
        (None, Some((_, class))) => Ok((site.solve(&class.label)?, Some(class))),
        (None, None) => Err(SizingError::Missing { name: "pump" }),
    }
}

/// Everything that is said of a set that was worked out.
pub fn advice_of(
    site: &Site<'_>,
    solved: &Solved,
    class: Option<&PumpClass>,
    market: &Market,
) -> Result<Advice, SizingError> {
    let filled = &site.filled;
    let (design, design_month) = (&solved.design, solved.design_month);
    let label = &design.pump_label;
    let circuit = design.circuit_of(design_month, &site.demand);
    let sky = sky_of(&site.skies, design_month);
    let cap_m3_s = site.well_share_m3_s();
    let pumps = f64::from(filled.pump_count);

    // The tabulated flow is a good guess to find the very one from.
    let table = solved.table_of(design_month, &site.demand);
    let running = |light: Light| operating_point_near(circuit, light, table.flow_m3_s(light)?);
    let noon = running(bright_noon(sky))?;
    let bright = BrightNoon {
        flow_l_min: l_min_from_m3_s(noon.flow_m3_s.min(cap_m3_s)) * pumps,
        head_m: noon.head_m,
        pipe_loss_m: circuit.pipe.loss_m(noon.flow_m3_s),
        pump_v: noon.pump_v,
        pump_a: noon.pump_a,
        speed: noon.speed,
    };
    let hours = hours_of_bright_day(sky, |light| Ok(l_min_from_m3_s(running(light)?.flow_m3_s.min(cap_m3_s)) * pumps))?;
    let over_driven = circuit.pump.over_drive_v().is_some_and(|limit| noon.pump_v > limit);
    let over_driven_cure_panels = if over_driven { cure_over_drive(site, label, design_month)? } else { None };

    let greatest_suction_m = greatest_suction_m(site.climate.place.alt_m)?;
    let range = water_range(site, solved)?;
    let wire = Wiring {
        size_mm2: design.conductor.size_mm2,
        drop_percent: if noon.pump_v > 0.0 { 100.0 * noon.pump_a * circuit.cable_ohm / noon.pump_v } else { 0.0 },
        breaker_a: breaker_a(circuit.isc_a()),
        string_fuse_a: string_fuse_a(circuit.parallel, circuit.panel.isc_a()),
    };
    let coldest_c = site.climate.weather.iter().map(|w| w.t_min_c).fold(f64::INFINITY, f64::min);
    let string_fuses = wants_string_fuses(circuit.parallel, circuit.panel.isc_a());
    let cold_open_v = circuit.panel.open_circuit_v(coldest_c)? * circuit.series;
    let found = Found { over_driven, noon: &noon, cap_m3_s, greatest_suction_m, string_fuses, cold_open_v, wire: &wire };
    let cautions = cautions(filled, &found);
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
                class: class.map(|class| class.name.clone()),
            },
            suction_m: filled.suction_m,
            greatest_suction_m,
            well_l_h: filled.well_l_h,
            garden_m2: filled.garden_m2,
            crop: filled.crop.name,
            soil: filled.soil.name,
            month: design_month,
            watering: filled.watering,
            wire_m: filled.wire_m,
            wire_mm2: design.conductor.size_mm2,
            place: site.climate.place.name.clone(),
        },
        assumed,
        design_month,
        low_water_month: site.demand.low_water_month,
        bright_noon: bright,
        hours,
        verdict: verdict_within(site, solved, &range),
        water_low_m3_day: range.low_m3_day,
        water_high_m3_day: range.high_m3_day,
        fixes: Vec::new(),
        over_driven,
        over_driven_cure_panels,
        cautions,
        tested: None,
        wire,
        money: market.money(site, solved),
        months: solved.months.clone(),
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
