//! From an advice to what is said of it.

use super::known::Known;
use super::safety::next_of;
use super::safety_line::Safety;
use super::say::{Assumption, ProposedSet, Say};
use super::state::Talk;
use crate::language::{Command, Field};
use crate::sizing::Advice;
use crate::sizing::advice::caution::Caution;
use crate::sizing::set::verdict::Verdict;
use crate::terms::StanceKind;

/// What the first answer shows: what was understood, the verdict with its numbers, what was assumed, a caution, a next word.
pub fn say_advice(talk: &Talk, advice: &Advice) -> Vec<Say> {
    let design = advice.design();
    let mut says = vec![Say::Told(Box::new(talk.known.clone()))];
    let is_unfit = advice.verdict == Some(Verdict::Unfit);
    if advice.cautions.contains(&Caution::NoWater) && !is_unfit {
        let lift_m = advice.sheet.low_m.max(advice.sheet.lift_m);
        says.push(Say::NoWater { lift_m });
    } else {
        says.push(Say::Answer {
            verdict: advice.verdict,
            water_m3_day: design.water.water_m3_day,
            area_m2: design.area_m2,
            month: advice.design_month,
        });
    }
    let burns = wire_burns(advice);
    let is_safe_wire = burns.is_none();
    says.extend(burns);
    let too_high = suction_too_high(advice);
    if too_high.is_none() && advice.over_driven {
        says.push(Say::OverDriven { cure: advice.over_driven_cure });
    }
    says.extend(mismatch(advice));
    // What can burn comes before what runs dry.
    if is_safe_wire && too_high.is_none() && advice.cautions.contains(&Caution::WellRunsDry) {
        says.push(Say::WellRunsDry);
    }
    says.extend(too_high);
    says.extend(hours(advice));
    if talk.known.sheet.lacks_panels() {
        says.push(proposal(advice));
    }
    let assumed = assumptions(advice, &talk.known);
    if !assumed.is_empty() {
        says.push(Say::Assumed(assumed));
    }
    says.push(safety_of(talk, advice));
    if talk.known.sheet.garden_m2.is_none() {
        says.push(Say::Ask { field: Field::Garden, beside_answer: true });
    } else if let Some(guess) = advice.ask_next.or(advice.would_make_sure) {
        says.push(Say::AskGuess(guess));
    } else {
        says.push(Say::NextWord(Command::More));
    }
    says
}

/// The design month in a grower's measures, where the set does it.
fn hours(advice: &Advice) -> Option<Say> {
    let does_it = matches!(advice.verdict, Some(Verdict::Enough | Verdict::Tight));
    let (hours, garden_m2) = (advice.needed_hours?, advice.sheet.garden_m2?);
    does_it.then_some(Say::Hours { hours, garden_m2, bed_minutes: advice.bed_minutes?, bed_cans: advice.bed_cans? })
}

/// The pump stands higher than air can push water.
fn suction_too_high(advice: &Advice) -> Option<Say> {
    let greatest_m = advice.sheet.greatest_suction_m;
    advice.cautions.contains(&Caution::SuctionTooHigh).then_some(Say::SuctionTooHigh { greatest_m })
}

/// The cable can burn.
pub fn wire_burns(advice: &Advice) -> Option<Say> {
    let (size_mm2, take_mm2) = (advice.wire.size_mm2, advice.wire.take_mm2);
    advice.cautions.contains(&Caution::CableTooThin).then_some(Say::WireBurns { size_mm2, take_mm2 })
}

/// Panels and pump of different voltages, in the trade's nominal volts: 12 for 36 cells.
fn mismatch(advice: &Advice) -> Option<Say> {
    let array = &advice.array.array;
    let panels_v = f64::from(array.series * array.cells) / 3.0;
    let pump_v = advice.sheet.pump.label_v;
    advice.cautions.contains(&Caution::VoltageMismatch).then_some(Say::Mismatch { panels_v, pump_v })
}

/// How the panels are joined, where there are several.
pub fn joined(advice: &Advice) -> Option<Say> {
    let array = &advice.array.array;
    let used = array.series * array.parallel * advice.sheet.pump.count;
    let unused = advice.sheet.panel_count - used;
    let is_one = array.series * array.parallel == 1 && unused == 0;
    (!is_one).then_some(Say::Joined { series: array.series, parallel: array.parallel, unused })
}

/// The set to buy.
fn proposal(advice: &Advice) -> Say {
    let sheet = &advice.sheet;
    Say::Proposal(Box::new(ProposedSet {
        panel_count: sheet.panel_count,
        panel_w: sheet.panel_w,
        pump_count: sheet.pump.count,
        label_v: sheet.pump.label_v,
        flow_l_h: sheet.pump.flow_l_h,
        bore_mm: sheet.bore_mm,
        wire_mm2: sheet.wire_mm2,
        breaker_a: advice.wire.breaker_a,
        first_cost: advice.money.first_cost,
        currency: advice.money.currency.clone(),
    }))
}

/// The poor day, the noon, the wiring: what `more` tells of an advice.
pub fn say_more(talk: &Talk, advice: &Advice) -> Vec<Say> {
    let design = advice.design();
    let noon = &advice.bright_noon;
    let mut says = vec![
        Say::PoorDay { poor_day_m3: design.water.poor_day_m3, pumping_hours: design.water.pumping_hours },
        Say::Noon { flow_l_min: noon.flow_l_min, pipe_loss_m: noon.pipe_loss_m, bore_mm: advice.sheet.bore_mm },
    ];
    says.extend(say_wire(advice));
    says.extend([safety_of(talk, advice), Say::NextWord(Command::Help)]);
    says
}

/// Cable, breaker and fuses, and how the panels are joined; of a cable that can burn the one to take.
pub fn say_wire(advice: &Advice) -> Vec<Say> {
    let wire = &advice.wire;
    let cable = Say::Wire {
        wire_m: advice.sheet.wire_m,
        size_mm2: wire.take_mm2.unwrap_or(wire.size_mm2),
        breaker_a: wire.breaker_a,
        string_fuse_a: wire.string_fuse_a,
    };
    wire_burns(advice).into_iter().chain([cable]).chain(joined(advice)).collect()
}

/// The line whose turn it is; an electrician's work is always said to be that.
pub fn safety_of(talk: &Talk, advice: &Advice) -> Say {
    if advice.cautions.contains(&Caution::Electrician) {
        return Say::HighVoltage;
    }
    Say::Safety(next_of(talk, &Safety::ALL).unwrap_or(Safety::SwitchOff))
}

/// What was taken for granted and would change the answer, what changes it most first.
fn assumptions(advice: &Advice, known: &Known) -> Vec<Assumption> {
    let sheet = &advice.sheet;
    let mut assumed = Vec::new();
    // What is proposed is said as that; only the rest is assumed.
    let proposed = known.sheet.lacks_panels();
    if proposed || known.pump.class.is_some() {
        // Nothing of the pump is assumed.
    } else if advice.sheet.pump.class.is_some() {
        let pump = &sheet.pump;
        assumed.push(Assumption::Pump { label_v: pump.label_v, flow_l_h: pump.flow_l_h, head_m: pump.head_m });
    } else if known.pump.label_v.is_none() {
        assumed.push(Assumption::PumpVolts(sheet.pump.label_v));
    }
    let is_assumed = |name: &str| advice.assumed.contains(&name);
    if is_assumed("bore_mm") && !proposed {
        assumed.push(Assumption::BoreMm(sheet.bore_mm));
    }
    if !proposed && (is_assumed("panel_count") || is_assumed("panel_w")) {
        assumed.push(Assumption::Panels { count: sheet.panel_count, watts: sheet.panel_w });
    }
    if is_assumed("stance") && sheet.stance == StanceKind::Flat {
        assumed.push(Assumption::Flat);
    }
    if is_assumed("crop") {
        assumed.push(Assumption::Crop(sheet.crop));
    }
    if is_assumed("watering") {
        assumed.push(Assumption::Watering(sheet.watering.name()));
    }
    if known.place.is_none() {
        assumed.push(Assumption::Place(sheet.place.clone()));
    }
    assumed
}
