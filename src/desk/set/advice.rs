//! An advice as staff read it: numbers with their units, and codes in words.

use crate::desk::frame::months::month_name;
use crate::desk::frame::words::said;
use crate::single::refused_sheet;
use crate::sizing::bucket::judging::{Doubt, Finding, Tested};
use crate::sizing::{Advice, SizingError};
use crate::talk::{AnswerError, Depth, Known, answer_sheet};
use crate::turn::{World, verdict_name};

/// What a page shows of an advice.
pub struct AdviceView {
    pub verdict: &'static str,
    pub lines: Vec<(&'static str, String)>,
    pub assumed: Vec<String>,
    pub cautions: Vec<&'static str>,
}

/// The advice on a sheet, or one sentence why there is none.
pub fn view_of(world: &World, known: &Known) -> Result<AdviceView, String> {
    if known.is_empty() {
        return Err("nothing is known yet; ask for the lift, the panels and the pipe".to_owned());
    }
    answer_sheet(world, known, Depth::Answer).map(|advice| view(&advice)).map_err(|error| why_none(world, &error))
}

/// Why there is no advice, in one sentence that goes on from a colon.
pub fn why_none(world: &World, error: &AnswerError) -> String {
    match error {
        AnswerError::Sizing(SizingError::Missing { name }) => {
            format!("the {} is not known; ask for it, or write it in", in_words(name))
        }
        other => refused_sheet(world, other).message,
    }
}

/// What the engine calls an input, as staff say it.
fn in_words(name: &str) -> String {
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
        other => return other.replace('_', " "),
    }
    .to_owned()
}

pub fn view(advice: &Advice) -> AdviceView {
    let design = advice.design();
    let (noon, wire, sheet) = (&advice.bright_noon, &advice.wire, &advice.sheet);
    let or_none = |value: Option<f64>, unit: &str| value.map_or("none".to_owned(), |value| format!("{value:.0} {unit}"));
    let mut lines = vec![
        ("Counted for", month_name(advice.design_month).to_owned()),
        ("Water on the mean day", format!("{:.1} m³", design.water.water_m3_day)),
        ("Nine times in ten between", format!("{:.1} and {:.1} m³", advice.water_low_m3_day, advice.water_high_m3_day)),
        ("Water on a poor day", format!("{:.1} m³", design.water.poor_day_m3)),
        ("Hours with water", format!("{:.1} h", design.water.pumping_hours)),
        ("Need", format!("{:.1} l/m² a day", design.need_l_m2_day)),
        ("Area served", design.area_m2.map_or("no need then".to_owned(), |area| format!("{area:.0} m²"))),
        ("Garden", sheet.garden_m2.map_or("not told".to_owned(), |garden| format!("{garden:.0} m²"))),
        ("Bright noon", format!("{:.1} l/min at {:.1} m head", noon.flow_l_min, noon.head_m)),
        ("Lost in the pipe", format!("{:.2} m in {:.0} mm", noon.pipe_loss_m, sheet.bore_mm)),
        ("At the pump", format!("{:.1} V, {:.1} A", noon.pump_v, noon.pump_a)),
        ("Cable", format!("{:.1} m of {} mm², {:.1} % drop", sheet.wire_m, sheet.wire_mm2, wire.drop_percent)),
        ("Breaker for DC", or_none(wire.breaker_a, "A")),
    ];
    if wire.string_fuse_a.is_some() {
        lines.push(("Fuse in each string", or_none(wire.string_fuse_a, "A")));
    }
    let money = &advice.money;
    let amount = |amount: Option<rust_decimal::Decimal>| {
        amount.map_or("no price".to_owned(), |amount| format!("{amount} {}", money.currency))
    };
    lines.push(("All parts", amount(money.first_cost)));
    lines.push(("Worn out a year", amount(money.yearly_cost)));
    lines.push(("Petrol a year", amount(money.petrol_yearly_cost)));
    if let Some(tested) = &advice.tested {
        lines.push(("Bucket tests", tests_in_words(tested)));
    }
    AdviceView {
        verdict: match advice.verdict.map(verdict_name) {
            Some("enough") => "Enough",
            Some("tight") => "Just enough",
            Some(_) => "Too little",
            None => "No garden told",
        },
        lines,
        assumed: advice.assumed.iter().map(|name| in_words(name)).collect(),
        cautions: cautions(advice),
    }
}

/// What the tests came to, the latest in full.
fn tests_in_words(tested: &Tested) -> String {
    let latest = match tested.findings.last() {
        Some(Finding::Judged { measured_l_min, ratio, doubt, .. }) => {
            let why_not = match doubt {
                None => "",
                Some(Doubt::Short) => ", timed for less than 30 s and not worked with",
                Some(Doubt::Surprising) => ", more than the label by a fifth: to be made again",
                Some(Doubt::Unbelievable) => ", too far from the label to be believed",
            };
            format!("the latest {measured_l_min:.0} l/min, {:.0} % of what is expected{why_not}", 100.0 * ratio)
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
