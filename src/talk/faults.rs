//! Faults, one question a message, by the trees of the language folder; the engine says what it knows better than hands
//! and eyes do. A search ends in a mended pump, a test, a part, or a person who finds the steps already taken on the talk.

use super::advising::{Depth, answer_sheet};
use super::day::say_hours;
use super::say::Say;
use super::search::{Search, StepTaken};
use super::state::Asked;
use super::topic::Topic;
use super::turning::Turning;
use super::world::World;
use crate::language::{FaultTree, FaultTrees, Then};
use crate::sizing::Advice;

/// Begins to look for what was complained of; false where the folder has no tree of that name.
pub fn begin(turning: &mut Turning<'_>, name: &str) -> bool {
    let Some(first) = tree_of(turning, name).map(|tree| tree.first.clone()) else { return false };
    turning.talk.search = Some(Search { tree: name.to_owned(), ..Search::default() });
    let knows = match name {
        "starts_late" => Some(Then::StartsAt),
        "stops" => Some(Then::OverVoltage),
        "less_water" => Some(Then::ExpectedFlow),
        _ => None,
    };
    let says = knows.and_then(|then| worked_out(turning, then));
    turning.says.extend(says);
    go_to(turning, &first);
    true
}

/// Goes on from a step by its answer.
pub fn answered(turning: &mut Turning<'_>, step: &str, yes: bool) {
    let Some(search) = turning.talk.search.clone() else { return };
    let next = tree_of(turning, &search.tree)
        .and_then(|tree| tree.steps.get(step))
        .map(|step| if yes { step.yes.clone() } else { step.no.clone() });
    let Some(next) = next else { return };
    if let Some(search) = &mut turning.talk.search {
        search.taken.push(StepTaken { step: step.to_owned(), yes });
    }
    go_to(turning, &next);
}

/// Asks the step of that name, or ends where it is an ending.
fn go_to(turning: &mut Turning<'_>, next: &str) {
    let Some(name) = turning.talk.search.as_ref().map(|search| search.tree.clone()) else { return };
    let then = tree_of(turning, &name).and_then(|tree| tree.ends.get(next)).map(|end| end.then);
    let Some(then) = then else {
        turning.says.push(Say::FaultStep { tree: name, step: next.to_owned() });
        turning.talk.asked = Some(Asked::Fault { step: next.to_owned() });
        return;
    };
    if let Some(search) = &mut turning.talk.search {
        search.end = Some(next.to_owned());
    }
    turning.says.push(Say::FaultEnd { tree: name, end: next.to_owned() });
    match then {
        Then::Solved | Then::Part => {}
        Then::Test => turning.guide(Topic::Test),
        Then::Person => {
            turning.wants_person = true;
            turning.says.push(Say::HandedOver);
        }
        Then::StartsAt | Then::OverVoltage | Then::ExpectedFlow => {
            let says = worked_out(turning, then);
            turning.says.extend(says);
        }
    }
}

/// What the engine knows of a set that is told whole.
fn worked_out(turning: &Turning<'_>, then: Then) -> Option<Say> {
    let advice = answer_sheet(turning.world, &turning.talk.known, Depth::Answer).ok()?;
    match then {
        Then::StartsAt => say_hours(turning.world, &turning.talk, &advice),
        Then::OverVoltage => over_voltage(&advice),
        Then::ExpectedFlow => Some(Say::Noon {
            flow_l_min: advice.bright_noon.flow_l_min,
            pipe_loss_m: advice.bright_noon.pipe_loss_m,
            bore_mm: advice.sheet.bore_mm,
        }),
        Then::Solved | Then::Test | Then::Part | Then::Person => None,
    }
}

fn over_voltage(advice: &Advice) -> Option<Say> {
    advice.over_driven.then_some(Say::OverDriven { cure: advice.over_driven_cure })
}

fn trees<'w>(world: &'w World, language: Option<&str>) -> Option<&'w FaultTrees> {
    let home = || world.languages.get(&world.home_language);
    language.and_then(|code| world.languages.get(code)).or_else(home).map(|language| &language.faults)
}

fn tree_of<'w>(turning: &Turning<'w>, name: &str) -> Option<&'w FaultTree> {
    trees(turning.world, turning.talk.language.as_deref())?.get(name)
}
