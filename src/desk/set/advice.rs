//! An advice as staff read it: numbers with their units, and codes in words.

use std::fmt::Display;

use crate::desk::frame::months::month_name;
use crate::desk::frame::words::{said, said_with};
use crate::single::refused_sheet;
use crate::sizing::advice::advise::SheetUsed;
use crate::sizing::advice::changes::{Change, Fix};
use crate::sizing::bucket::judging::{Finding, Tested};
use crate::sizing::{Advice, SizingError};
use crate::talk::{AnswerError, Depth, Known, answer_sheet};
use crate::terms::{StanceKind, Watering};
use crate::turn::{World, verdict_name};

/// What a page shows of an advice.
pub struct AdviceView {
    pub verdict: String,
    /// `enough`, `tight`, `short` or `open`: pages mark them apart.
    pub tone: &'static str,
    pub lines: Vec<(String, String)>,
    /// What was assumed, with the value that was taken.
    pub assumed: Vec<String>,
    pub cautions: Vec<String>,
    /// What would make it enough, each with what it comes to.
    pub cures: Vec<String>,
}

/// The advice on a sheet, or one sentence why there is none.
pub fn view_of(world: &World, known: &Known) -> Result<AdviceView, String> {
    if known.is_empty() {
        return Err(said("nothing is known yet; ask for the lift, the panels and the pipe").into_owned());
    }
    let advice = answer_sheet(world, known, Depth::WithFixes).map_err(|error| why_none(world, &error))?;
    Ok(view(world, &advice))
}

/// Why there is no advice, in one sentence that goes on from a colon.
pub fn why_none(world: &World, error: &AnswerError) -> String {
    match error {
        AnswerError::Sizing(SizingError::Missing { name }) => {
            said_with("the {what} is not known; ask for it, or write it in", &[("what", &said(in_words(name)))])
        }
        other => refused_sheet(world, other).message,
    }
}

/// What the engine calls an input, as staff say it.
fn in_words(name: &str) -> &str {
    match name {
        "lift_m" => "lift",
        "low_m" => "lift at low water",
        "pipe_m" => "length of the pipe",
        "bore_mm" => "bore of the pipe",
        "panel_count" => "number of panels",
        "panel_w" => "size of the panels",
        "stance" => "stance of the panels",
        "tilt_deg" => "tilt of the panels",
        "amps" => "current of the pump",
        "watering" => "way of watering",
        "wire_m" => "length of the cable",
        "wire_mm2" => "size of the cable",
        other => other,
    }
}

/// The value that was taken for an input.
fn taken(name: &str, sheet: &SheetUsed) -> Option<String> {
    Some(match name {
        "low_m" => format!("{} m", sheet.low_m),
        "bore_mm" => format!("{:.0} mm", sheet.bore_mm),
        "panel_count" => sheet.panel_count.to_string(),
        "panel_w" => format!("{:.0} W", sheet.panel_w),
        "stance" => said(stance_in_words(sheet.stance)).into_owned(),
        "tilt_deg" => format!("{:.0}°", sheet.tilt_deg),
        "amps" => format!("{:.1} A", sheet.pump.amps),
        "pump" => pump_in_words(sheet),
        "crop" => said(sheet.crop).into_owned(),
        "soil" => said(sheet.soil).into_owned(),
        "watering" => said(watering_in_words(sheet.watering)).into_owned(),
        "month" => said(month_name(sheet.month)).into_owned(),
        "wire_m" => format!("{:.0} m", sheet.wire_m),
        "wire_mm2" => format!("{} mm²", sheet.wire_mm2),
        "place" => sheet.place.clone(),
        _ => return None,
    })
}

fn stance_in_words(stance: StanceKind) -> &'static str {
    match stance {
        StanceKind::Flat => "flat",
        StanceKind::Fixed => "tilted and fixed",
        StanceKind::Turned => "turned by hand",
    }
}

fn watering_in_words(watering: Watering) -> &'static str {
    match watering {
        Watering::Furrow => "furrow",
        Watering::Hose => "hose",
        Watering::Drip => "drip",
        Watering::Tape => "drip tape",
        Watering::Sprinkler => "sprinkler",
    }
}

fn pump_in_words(sheet: &SheetUsed) -> String {
    let pump = &sheet.pump;
    let label = format!("{:.0} V, {:.0} l/h, {} m, {:.1} A", pump.label_v, pump.flow_l_h, pump.head_m, pump.amps);
    let class = pump.class.as_ref().map(|class| format!(" ({class})")).unwrap_or_default();
    format!("{} × {label}{class}", pump.count)
}

/// The place, and how far what is known of its weather was measured.
fn place_in_words(world: &World, name: &str) -> String {
    let Some(source) = world.place_source(name) else { return name.to_owned() };
    let station = [source.station, source.country].into_iter().flatten().collect::<Vec<_>>().join(", ");
    let mut words = name.to_owned();
    if let Some(km) = source.distance_km.filter(|_| !station.is_empty()) {
        let values: [(&str, &dyn Display); 2] = [("km", &format!("{km:.0}")), ("station", &station)];
        words.push_str(&said_with("; weather of {station}, {km} km away", &values));
    }
    if source.alt_assumed {
        words.push_str(&said_with("; {m} m high, not told", &[("m", &format!("{:.0}", source.alt_m))]));
    }
    if source.rough {
        words.push_str(&said("; only roughly known"));
    }
    words
}

/// One thing to do differently.
fn change_in_words(change: &Change) -> String {
    match *change {
        Change::BoreMm(mm) => said_with("pipe of {mm} mm", &[("mm", &format!("{mm:.0}"))]),
        Change::PanelCount(count) => said_with("{count} panels", &[("count", &count)]),
        Change::Turned => said("turn the panels by hand").into_owned(),
        Change::PumpCount(count) => said_with("{count} pumps, each with panels and pipe", &[("count", &count)]),
        Change::WireMm2(mm2) => said_with("cable of {mm2} mm²", &[("mm2", &mm2)]),
        Change::Watering(watering) => said_with("water by {way}", &[("way", &said(watering_in_words(watering)))]),
        Change::GardenM2(m2) => said_with("garden of {m2} m²", &[("m2", &format!("{m2:.0}"))]),
    }
}

fn cures(advice: &Advice) -> Vec<String> {
    let cure = |fix: &Fix| {
        let changes = fix.changes.iter().map(change_in_words).collect::<Vec<_>>().join(", ");
        let cost = fix.added_cost.map_or_else(
            || said("no price for it").into_owned(),
            |cost| {
                let sentence = if cost.is_sign_negative() { "{cost} less" } else { "{cost} more" };
                said_with(sentence, &[("cost", &format!("{} {}", cost.abs(), advice.money.currency))])
            },
        );
        let values: [(&str, &dyn Display); 3] =
            [("changes", &changes), ("area", &format!("{:.0}", fix.area_m2)), ("cost", &cost)];
        said_with("{changes}: then {area} m², {cost}", &values)
    };
    let mut cures: Vec<String> = advice.fixes.iter().map(cure).collect();
    if let Some(panels) = advice.over_driven_cure_panels {
        cures.push(said_with("with {count} panels the brushes last", &[("count", &panels)]));
    }
    cures
}

pub fn view(world: &World, advice: &Advice) -> AdviceView {
    let tone = advice.verdict.map_or("open", verdict_name);
    AdviceView {
        verdict: verdict_in_words(tone),
        tone,
        lines: lines(world, advice).into_iter().map(|(name, value)| (said(name).into_owned(), value)).collect(),
        assumed: assumed(advice),
        cautions: cautions(advice).into_iter().map(|caution| said(caution).into_owned()).collect(),
        cures: cures(advice),
    }
}

fn assumed(advice: &Advice) -> Vec<String> {
    let word = |name: &&str| {
        let value = taken(name, &advice.sheet).map(|value| format!(": {value}")).unwrap_or_default();
        format!("{}{value}", said(in_words(name)))
    };
    advice.assumed.iter().map(word).collect()
}

fn lines(world: &World, advice: &Advice) -> Vec<(&'static str, String)> {
    let design = advice.design();
    let (noon, wire, sheet) = (&advice.bright_noon, &advice.wire, &advice.sheet);
    let or_none = |value: Option<f64>, unit: &str| {
        value.map_or_else(|| said("none").into_owned(), |value| format!("{value:.0} {unit}"))
    };
    let area =
        |value: Option<f64>, other: &str| value.map_or_else(|| said(other).into_owned(), |area| format!("{area:.0} m²"));
    let stance = said(stance_in_words(sheet.stance));
    let mut lines = vec![
        ("Place", place_in_words(world, &sheet.place)),
        ("Panels", format!("{} × {:.0} W, {stance}", sheet.panel_count, sheet.panel_w)),
        ("Pump", pump_in_words(sheet)),
        ("Lift", format!("{} m, {} m", sheet.lift_m, sheet.low_m)),
        ("Counted for", said(month_name(advice.design_month)).into_owned()),
        ("Water on the mean day", format!("{:.1} m³", design.water.water_m3_day)),
        ("Nine times in ten between", format!("{:.1} – {:.1} m³", advice.water_low_m3_day, advice.water_high_m3_day)),
        ("Water on a poor day", format!("{:.1} m³", design.water.poor_day_m3)),
        ("Hours with water", format!("{:.1} h", design.water.pumping_hours)),
        ("Need a day", format!("{:.1} l/m²", design.need_l_m2_day)),
        ("Area served", area(design.area_m2, "no need then")),
        ("Garden", area(sheet.garden_m2, "not told")),
        ("Bright noon", format!("{:.1} l/min, {:.1} m", noon.flow_l_min, noon.head_m)),
        ("Lost in the pipe", format!("{:.2} m, {:.0} mm", noon.pipe_loss_m, sheet.bore_mm)),
        ("At the pump", format!("{:.1} V, {:.1} A", noon.pump_v, noon.pump_a)),
        ("Cable", format!("{:.1} m, {} mm², {:.1} %", sheet.wire_m, sheet.wire_mm2, wire.drop_percent)),
        ("Breaker for DC", or_none(wire.breaker_a, "A")),
    ];
    if wire.string_fuse_a.is_some() {
        lines.push(("Fuse in each string", or_none(wire.string_fuse_a, "A")));
    }
    let money = &advice.money;
    let amount = |amount: Option<rust_decimal::Decimal>| {
        amount.map_or_else(|| said("no price").into_owned(), |amount| format!("{amount} {}", money.currency))
    };
    lines.push(("All parts", amount(money.first_cost)));
    lines.push(("Worn out a year", amount(money.yearly_cost)));
    lines.push(("Petrol a year", amount(money.petrol_yearly_cost)));
    if let Some(tested) = &advice.tested {
        lines.push(("Bucket tests", tests_in_words(tested)));
    }
    lines
}

/// What the tests came to, the latest in full.
fn tests_in_words(tested: &Tested) -> String {
    let latest = match tested.findings.last() {
        Some(Finding::Judged { measured_l_min, ratio, .. }) => {
            format!("the latest {measured_l_min:.0} l/min, {:.0} % of what is expected", 100.0 * ratio)
        }
        Some(Finding::Cloudy) => "the latest under clouds, not judged".to_owned(),
        Some(Finding::LowSun) => "the latest with the sun too low, not judged".to_owned(),
        Some(Finding::NothingExpected { outlet_m, .. }) => {
            format!("the latest at {outlet_m} m, where the label gives nothing; not judged")
        }
        None => "none".to_owned(),
    };
    match tested.own {
        Some(own) => format!(
            "{latest}; worked with {:.0} % of the label’s flow and {:.0} % of its head, by {} of {}",
            100.0 * own.flow,
            100.0 * own.head,
            tested.used,
            tested.findings.len()
        ),
        None => format!("{latest}; the label’s numbers stand"),
    }
}

fn cautions(advice: &Advice) -> Vec<&'static str> {
    use crate::sizing::advice::caution::Caution;
    let word = |caution: &Caution| match caution {
        Caution::OverDriven => "Too many panels: at bright noon the pump's brushes wear quickly.",
        Caution::WellRunsDry => "The pump can take more than the well gives: it may run dry.",
        Caution::SuctionTooHigh => "The pump stands higher above the water than it can draw at this altitude.",
        Caution::NoWater => "The pump never reaches the outlet, even at bright noon.",
        Caution::DcBreaker => "The breaker must be rated for DC, and does not trip for a stalled pump.",
        Caution::StringFuses => "Each string of panels wants a fuse of its own.",
        Caution::NoBreakerSize => "No usual breaker carries this current: split the set.",
        Caution::Electrician => "Over 60 V on a cold morning: a licensed electrician and the local rules.",
        #[allow(unreachable_patterns, reason = "a caution that the physics learns is shown at once, if without detail")]
        _ => "See the full advice.",
    };
    advice.cautions.iter().map(word).collect()
}

/// A verdict by its name in the database.
pub fn verdict_in_words(name: &str) -> String {
    let words = match name {
        "enough" => "Enough",
        "tight" => "Just enough",
        "short" => "Too little",
        _ => "No garden told",
    };
    said(words).into_owned()
}
