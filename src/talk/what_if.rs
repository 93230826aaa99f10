//! What if: the set as it is and with something changed, side by side. The sheet is kept; `yes` takes the change.

use super::advising::{Depth, answer_sheet};
use super::answer::{safety_of, wire_burns};
use super::say::{Compared, Outcome, Say};
use super::state::{Asked, Channel};
use super::told::ask_or_answer;
use super::turning::Turning;
use crate::message::FactValue;
use crate::sizing::Advice;

/// Compares; a set that is not told whole is asked for first.
pub fn compare(turning: &mut Turning<'_>, supposed: &[FactValue]) {
    turning.taken.what_if = supposed.iter().flat_map(FactValue::names).collect();
    let world = turning.world;
    let known = &turning.talk.known;
    let mut changed = known.clone();
    for fact in supposed {
        changed.tell_at(fact, turning.now);
    }
    let (Ok(now), Ok(then)) = (answer_sheet(world, known, Depth::Answer), answer_sheet(world, &changed, Depth::Answer))
    else {
        ask_or_answer(turning);
        return;
    };
    turning.says.push(Say::Compared(Box::new(Compared {
        changed: supposed.to_vec(),
        now: outcome(&now),
        then: outcome(&then),
    })));
    // What can burn is said wherever it is; a screen has no room for more than the two beside it.
    turning.says.extend(wire_burns(&then));
    if turning.manner.channel != Channel::Ussd && then.over_driven && !now.over_driven {
        turning.says.push(Say::OverDriven { cure: then.over_driven_cure });
    }
    turning.says.push(safety_of(&turning.talk, &then));
    turning.talk.asked = Some(Asked::WhatIf { facts: supposed.to_vec() });
}

fn outcome(advice: &Advice) -> Outcome {
    let design = advice.design();
    Outcome { verdict: advice.verdict, water_m3_day: design.water.water_m3_day, area_m2: design.area_m2 }
}
