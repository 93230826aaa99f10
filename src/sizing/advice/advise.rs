//! The whole answer to one sheet: everything that a reply, a page or a JSON reader says comes out of here.

use serde::Serialize;

use super::caution::{Caution, Found, cautions};
use super::changes::{Fix, find_fixes};
use super::choice::choose_pump;
use super::cure::{Cure, cure_of};
use crate::sizing::bucket::judging::Tested;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::{Light, MonthSky, bright_noon, sky_of};
use crate::sizing::money::costs::Money;
use crate::sizing::money::market::Market;
use crate::sizing::operating::point::operating_point_near;
use crate::sizing::operating::year::Lifter;
use crate::sizing::parts::array::Array;
use crate::sizing::parts::circuit::OperatingPoint;
use crate::sizing::parts::pump_class::PumpClass;
use crate::sizing::parts::wire::{Wiring, breaker_a, is_too_thin, string_fuse_a, thick_enough, wants_string_fuses};
use crate::sizing::set::guess::Guess;
use crate::sizing::set::over_drive::Drive;
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::set::site::{MonthAdvice, Site, Solved};
use crate::sizing::set::spread::{turning_guess, verdict_within, water_range, would_make_sure};
use crate::sizing::set::verdict::Verdict;
use crate::sizing::sun::day_types::BRIGHT_DAY;
use crate::sizing::weather::climate::Climate;
use crate::terms::{PipeKind, StanceKind, Watering};
use crate::units::l_min_from_m3_s;

/// A bed, m², and a can, litres, as growers count (practice).
const BED_M2: f64 = 10.0;
const CAN_L: f64 = 15.0;

/// The sheet as it was worked with: what was told and what was taken for granted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetUsed {
    pub lift_m: f64,
    pub low_m: f64,
    pub pipe_m: f64,
    pub pipe_kind: PipeKind,
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
    pub displacement: bool,
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

/// The panels of each pump, as they are joined.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ArrayUsed {
    #[serde(flatten)]
    pub array: Array,
    /// Working voltage at full power.
    pub work_v: f64,
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
    pub array: ArrayUsed,
    pub verdict: Option<Verdict>,
    /// Hours of flow that the garden needs on a day of the design month.
    pub needed_hours: Option<f64>,
    /// Minutes of that flow for a bed of 10 m², and cans of 15 litres.
    pub bed_minutes: Option<f64>,
    pub bed_cans: Option<f64>,
    /// What is still to be told and could turn the verdict.
    pub ask_next: Option<Guess>,
    /// What would make a set sure that is `tight` only for lack of certainty.
    pub would_make_sure: Option<Guess>,
    /// Range of the design month's water that nine cases in ten fall in.
    pub water_low_m3_day: f64,
    pub water_high_m3_day: f64,
    /// What would make it enough; looked for on request, see [`super::changes`].
    pub fixes: Vec<Fix>,
    /// At bright noon the voltage wears the brushes quickly.
    pub over_driven: bool,
    /// Panels, of the same kind, that would not over-drive the pump.
    pub over_driven_cure_panels: Option<u32>,
    /// The same with what it does to the verdict.
    pub over_driven_cure: Option<Cure>,
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
    let cap_m3_s = site.cap_m3_s(design_month);
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
    let over_driven = solved.drive > Drive::Fit;
    let cure = if over_driven { cure_of(site, label)? } else { None };
    let greatest_suction_m = site.greatest_suction_m;
    let range = water_range(site, solved)?;
    let wire = wiring(site, solved, &noon)?;
    let coldest_c = site.climate.weather.iter().map(|w| w.t_min_c).fold(f64::INFINITY, f64::min);
    let string_fuses = wants_string_fuses(circuit.parallel, circuit.panel.isc_a());
    let cold_open_v = circuit.panel.open_circuit_v(coldest_c)? * circuit.series;
    let cable_too_thin = is_too_thin(&design.conductor, circuit.isc_a());
    let voltage_mismatch = design.array.is_mismatched(label.label_v);
    let found = Found {
        over_driven,
        cable_too_thin,
        voltage_mismatch,
        noon: &noon,
        cap_m3_s,
        greatest_suction_m,
        string_fuses,
        cold_open_v,
        wire: &wire,
    };
    let cautions = cautions(filled, &found);
    let mut assumed = filled.assumed.clone();
    if label.amps.is_none() {
        assumed.push("amps");
    }
    let garden = Measures::of(solved.month(), filled.garden_m2);
    Ok(Advice {
        sheet: SheetUsed {
            lift_m: filled.lift_m,
            low_m: filled.low_m,
            pipe_m: filled.pipe_m,
            pipe_kind: filled.pipe_kind.unwrap_or_default(),
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
                displacement: label.displacement,
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
        array: ArrayUsed { array: design.array, work_v: design.array.working_v() },
        verdict: verdict_within(site, solved, Some(&range)),
        needed_hours: garden.needed_hours,
        bed_minutes: garden.bed_minutes,
        bed_cans: garden.bed_cans,
        ask_next: turning_guess(site, solved, &range),
        would_make_sure: would_make_sure(site, solved, &range),
        water_low_m3_day: range.low_m3_day,
        water_high_m3_day: range.high_m3_day,
        fixes: Vec::new(),
        over_driven,
        over_driven_cure_panels: cure.map(|cure| cure.panel_count),
        over_driven_cure: cure,
        cautions,
        tested: None,
        wire,
        money: market.money(site, solved),
        months: solved.months.clone(),
    })
}

/// The design month in a grower's measures.
struct Measures {
    needed_hours: Option<f64>,
    bed_minutes: Option<f64>,
    bed_cans: Option<f64>,
}

impl Measures {
    /// At the mean flow while water comes; nothing where nothing is needed or nothing comes.
    fn of(month: &MonthAdvice, garden_m2: Option<f64>) -> Measures {
        let need_l_m2 = month.need_l_m2_day;
        let (water, hours) = (month.water.water_m3_day, month.water.pumping_hours);
        let flow_l_h = (need_l_m2 > 0.0 && hours > 0.0 && water > 0.0).then(|| water * 1000.0 / hours);
        let bed_l = BED_M2 * need_l_m2;
        Measures {
            needed_hours: flow_l_h.and_then(|flow_l_h| Some(need_l_m2 * garden_m2? / flow_l_h)),
            bed_minutes: flow_l_h.map(|flow_l_h| bed_l / flow_l_h * 60.0),
            bed_cans: (need_l_m2 > 0.0).then_some(bed_l / CAN_L),
        }
    }
}

/// Cable, breaker and fuses of one pump, and the cable to take where this one can burn.
fn wiring(site: &Site<'_>, solved: &Solved, noon: &OperatingPoint) -> Result<Wiring, SizingError> {
    let design = &solved.design;
    let circuit = design.circuit_of(solved.design_month, &site.demand);
    let isc_a = circuit.isc_a();
    let take_mm2 = if is_too_thin(&design.conductor, isc_a) { thick_enough(isc_a).map(|c| c.size_mm2) } else { None };
    Ok(Wiring {
        size_mm2: design.conductor.size_mm2,
        take_mm2,
        drop_percent: if noon.pump_v > 0.0 { 100.0 * noon.pump_a * circuit.cable_ohm / noon.pump_v } else { 0.0 },
        breaker_a: breaker_a(isc_a),
        string_fuse_a: string_fuse_a(circuit.parallel, circuit.panel.isc_a()),
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
