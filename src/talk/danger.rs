//! What a talk does when somebody is in danger: the line at once, and for an hour nothing else of its own accord.

use chrono::{DateTime, TimeDelta, Utc};

use super::in_danger::InDanger;
use super::say::Say;
use super::state::Talk;
use super::turning::Step;
use super::world::World;
use crate::danger::Alarm;
use crate::language::{DangerKind, DangerLine};

/// How long the talk stays with a danger.
const HOUR: TimeDelta = TimeDelta::hours(1);

/// Whether a talk still stays with a danger.
pub fn danger_of(talk: &Talk, now: DateTime<Utc>) -> Option<InDanger> {
    talk.danger.filter(|danger| now - danger.at < HOUR)
}

/// Answers a message that shows a danger, whatever else stands in it and whether or not the number has opted out.
pub fn step_danger(world: &World, talk: &Talk, text: &str, now: DateTime<Utc>) -> Option<Step> {
    let preferred = talk.language.as_deref().and_then(|code| world.languages.position(code));
    let Alarm { kinds, language } = world.ears.hear(text, preferred)?;
    let kind = *kinds.first()?;
    // Somebody who is told one thing twice is told the next thing.
    let line = match danger_of(talk, now) {
        Some(before) if before.kind == kind && before.said == DangerLine::First => DangerLine::Again,
        _ => DangerLine::First,
    };
    let mut next = talk.clone();
    // Whoever is frightened writes in the language that is nearest.
    if let Some(language) = world.languages.at(language) {
        next.language = Some(language.code.clone());
    }
    let breathing = (kinds.contains(&DangerKind::NotBreathing) && line == DangerLine::First)
        .then_some(DangerKind::NotBreathing)
        .filter(|also| *also != kind);
    Some(Step { danger: Some(kind), ..said(world, next, InDanger { kind, at: now, said: line }, breathing, now) })
}

/// Answers what else is written in the hour after: `ok`, `help`, `is it safe now` and all that is no sheet.
pub fn step_after_danger(world: &World, talk: &Talk, text: &str, now: DateTime<Utc>) -> Option<Step> {
    let before = danger_of(talk, now)?;
    let heard = world.ears.aftermath(text);
    let line = if heard.asks_safe {
        DangerLine::Safe
    } else if heard.tells_over {
        DangerLine::Over
    } else if before.said == DangerLine::Again {
        DangerLine::First
    } else {
        DangerLine::Again
    };
    Some(said(world, talk.clone(), InDanger { said: line, ..before }, None, now))
}

fn said(world: &World, talk: Talk, danger: InDanger, also: Option<DangerKind>, now: DateTime<Utc>) -> Step {
    let say = Say::Danger { kind: danger.kind, line: danger.said, also, emergency: world.emergency.clone() };
    let talk = Talk { danger: Some(danger), misread: 0, last_at: Some(now), ..talk };
    Step { talk, says: vec![say], wants_person: true, ..Step::default() }
}

/// Takes the talk's own questions out of a step in the hour after a danger; what is asked of it is still answered, and the
/// message goes to a person too.
pub fn without_questions(mut step: Step) -> Step {
    step.says.retain(|say| !matches!(say, Say::Ask { .. }));
    step.talk.asked = None;
    step.wants_person = true;
    step
}
