//! From an advice to what is said of it.

use super::known::Known;
use super::safety::next_of;
use super::safety_line::Safety;
use super::say::{Assumption, ProposedSet, Say};
use super::state::Talk;
use crate::language::{Command, Field};
use crate::sizing::Advice;
use crate::sizing::advice::caution::Caution;
use crate::terms::StanceKind;

/// What the first answer shows: what was understood, the verdict with its numbers, what was assumed, a caution, a next word.
pub fn say_advice(talk: &Talk, advice: &Advice) -> Vec<Say> {
    let design = advice.design();
    let mut says = vec![Say::Told(Box::new(talk.known.clone()))];
    if advice.cautions.contains(&Caution::NoWater) {
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
    let too_high = suction_too_high(advice);
    // A pump that moves no water is not worn out by too much of it.
    if too_high.is_none() && advice.over_driven && !advice.cautions.contains(&Caution::NoWater) {
        says.push(Say::OverDriven { panels: advice.over_driven_cure_panels });
    }
    if too_high.is_none() && advice.cautions.contains(&Caution::WellRunsDry) {
        says.push(Say::WellRunsDry);
    }
    says.extend(too_high);
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
    } else {
        says.push(Say::NextWord(Command::More));
    }
    says
}

/// The pump stands higher than air can push water.
fn suction_too_high(advice: &Advice) -> Option<Say> {
    let greatest_m = advice.sheet.greatest_suction_m;
    advice.cautions.contains(&Caution::SuctionTooHigh).then_some(Say::SuctionTooHigh { greatest_m })
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
    vec![
        Say::PoorDay { poor_day_m3: design.water.poor_day_m3, pumping_hours: design.water.pumping_hours },
        Say::Noon { flow_l_min: noon.flow_l_min, pipe_loss_m: noon.pipe_loss_m, bore_mm: advice.sheet.bore_mm },
        say_wire(advice),
        safety_of(talk, advice),
        Say::NextWord(Command::Help),
    ]
}

/// Cable and breaker.
pub fn say_wire(advice: &Advice) -> Say {
    let wire = &advice.wire;
    Say::Wire {
        wire_m: advice.sheet.wire_m,
        size_mm2: wire.size_mm2,
        breaker_a: wire.breaker_a,
        string_fuse_a: wire.string_fuse_a,
    }
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
