//! The last look over a reading: one fact a field, troubles in order, what nobody explained.

use std::mem::discriminant;

use crate::language::Field;

use super::elements::Elements;
use super::reading::{Fact, FactValue, PumpFact, Reading, Span, Trouble, TroubleCode};
use crate::terms::TestSky;

/// Tells of words that nothing explained, a run of neighbours as one trouble.
pub fn unknown_words(
    reading: &mut Reading,
    elements: &Elements,
    unknown: &[usize],
    explained: &[usize],
    field: Option<Field>,
) {
    let mut last: Option<usize> = None;
    for &at in unknown.iter().filter(|at| !explained.contains(at)) {
        let element = elements.list[at];
        let (start, end) = elements.folded.origin(element.start, element.end);
        let goes_on = last.is_some_and(|last| last + 1 == at) && !element.parted;
        match reading.troubles.last_mut().filter(|_| goes_on) {
            Some(trouble) => trouble.at.end = end,
            None => {
                let at = Span { start, end };
                reading.troubles.push(Trouble { at, code: TroubleCode::NotUnderstood, field });
            }
        }
        last = Some(at);
    }
}

/// Puts the sky into the tests, the parts of the pump and of the stance together, keeps the latest of what was told
/// twice, and sorts.
pub fn finish(reading: &mut Reading, sky: Option<TestSky>) {
    reading.facts.sort_by_key(|fact| fact.at);
    // "panels flat" says how they stand and asks nothing.
    if reading.facts.iter().any(|fact| matches!(fact.value, FactValue::Stance { .. })) {
        reading.asks.retain(|(field, _)| *field != Field::Panel);
    }
    let Reading { facts, troubles, asks, .. } = reading;
    let mut next = 0;
    while let Some(fact) = facts.get_mut(next) {
        if let FactValue::Test(test) = &mut fact.value {
            test.sky = sky;
            next += 1;
            continue;
        }
        let kind = discriminant(&fact.value);
        match facts[..next].iter().position(|other| discriminant(&other.value) == kind) {
            None => next += 1,
            Some(earlier) => {
                let fact = facts.remove(next);
                let earlier = &mut facts[earlier];
                if let Some(at) = combine(earlier, fact) {
                    let field = Some(field_of(&earlier.value));
                    troubles.push(Trouble { at, code: TroubleCode::Twice, field });
                }
            }
        }
    }
    // Two crops are asked about, and none is taken: nothing tells which of them the garden is for.
    if troubles.iter().any(|trouble| trouble.code == TroubleCode::Twice && trouble.field == Some(Field::Crop)) {
        facts.retain(|fact| !matches!(fact.value, FactValue::Crop(_)));
    }
    // A field told and named again asks nothing.
    asks.retain(|(field, _)| facts.iter().all(|fact| field_of(&fact.value) != *field));
    low_below_lift(reading);
    reading.troubles.sort_by_key(|trouble| trouble.at);
    reading.commands.sort_by_key(|(_, at)| *at);
    reading.asks.sort_by_key(|(_, at)| *at);
}

/// Puts a later fact into an earlier one of the same field; gives where it contradicts it.
fn combine(earlier: &mut Fact, later: Fact) -> Option<Span> {
    let at = later.at;
    let whole = Span { start: earlier.at.start.min(at.start), end: earlier.at.end.max(at.end) };
    match (&mut earlier.value, later.value) {
        (FactValue::Pump(pump), FactValue::Pump(more)) => {
            earlier.at = whole;
            combine_pumps(pump, more).then_some(at)
        }
        (FactValue::Stance { code, tilt_deg }, FactValue::Stance { code: later_code, tilt_deg: later_tilt })
            if *code == later_code && (tilt_deg.is_none() || later_tilt.is_none() || *tilt_deg == later_tilt) =>
        {
            *tilt_deg = tilt_deg.or(later_tilt);
            earlier.at = whole;
            None
        }
        (value, later) if *value == later => None,
        (value, later) => {
            *value = later;
            earlier.at = at;
            Some(at)
        }
    }
}

/// The later word stands; true where it contradicts the earlier.
fn combine_pumps(pump: &mut PumpFact, more: PumpFact) -> bool {
    fn part<T: PartialEq>(old: &mut Option<T>, new: Option<T>) -> bool {
        let contradicts = matches!((&old, &new), (Some(old), Some(new)) if old != new);
        if new.is_some() {
            *old = new;
        }
        contradicts
    }
    let PumpFact { label_v, flow_l_h, head_m, amps, electronics, displacement, count, class } = more;
    let contradicts = [
        part(&mut pump.label_v, label_v),
        part(&mut pump.flow_l_h, flow_l_h),
        part(&mut pump.head_m, head_m),
        part(&mut pump.amps, amps),
        part(&mut pump.electronics, electronics),
        part(&mut pump.displacement, displacement),
        part(&mut pump.count, count),
        part(&mut pump.class, class),
    ];
    contradicts.contains(&true)
}

/// A river falls at low water, so the lift can only grow.
fn low_below_lift(reading: &mut Reading) {
    let mut lift = None;
    let mut low = None;
    for fact in &reading.facts {
        match fact.value {
            FactValue::LiftM(lift_m) => lift = Some(lift_m),
            FactValue::LowM(low_m) => low = Some((low_m, fact.at)),
            _ => {}
        }
    }
    if let (Some(lift_m), Some((low_m, at))) = (lift, low)
        && low_m < lift_m
    {
        let code = TroubleCode::LowBelowLift { lift_m, low_m };
        reading.troubles.push(Trouble { at, code, field: Some(Field::Low) });
    }
}

/// The field that a fact tells; a test tells of the pump.
fn field_of(value: &FactValue) -> Field {
    value.field().unwrap_or(Field::Pump)
}
