//! What a grower asks to be reminded of: brushes after the hours they have run, and the water's low season.

use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, TimeDelta, Utc};

use super::advising::{Depth, answer_sheet};
use super::known::Known;
use super::reminder::{Reminder, ReminderKind};
use super::safety::{next_of, note_seen};
use super::safety_line::Safety;
use super::say::Say;
use super::state::Talk;
use super::turning::Step;
use super::world::World;
use crate::language::Field;
use crate::message::Reading;
use crate::sizing::Advice;
use crate::sizing::money::market::needed_share;

/// Hours that a small brushed pump of no known class runs (practice: about a year of daylight use).
const LIFE_WHEN_NOT_KNOWN_H: f64 = 1500.0;

/// Share of its running life after which brushes are looked at (practice).
const LOOK_AT_SHARE: f64 = 0.8;

/// Days before the month of low water that the reminder comes.
const DAYS_BEFORE_LOW: u64 = 14;

/// Hour of the place's clock at which reminders come.
const MORNING_H: u32 = 7;

/// Longest count of days ahead: a pump that seldom runs is not reminded of after ten years.
const FARTHEST_DAYS: u64 = 3653;

/// The reminders that a message asks for: all of them without a word for one.
pub fn asked_for(reading: &Reading) -> Vec<ReminderKind> {
    let named = |field: Field| reading.asks.iter().any(|(asked, _)| *asked == field);
    match (named(Field::Pump), named(Field::Low)) {
        (true, false) => vec![ReminderKind::Brushes],
        (false, true) => vec![ReminderKind::LowWater],
        _ => ReminderKind::ALL.to_vec(),
    }
}

/// Ends reminders.
pub fn take_back(talk: &mut Talk, kinds: &[ReminderKind]) -> Say {
    talk.reminders.retain(|reminder| !kinds.contains(&reminder.kind));
    Say::RemindersOff
}

/// What came of setting reminders.
pub struct Set {
    pub says: Vec<Say>,
    /// Hours are counted once the set is known, and it is not.
    pub wants_set: bool,
}

/// Sets reminders of these kinds; the count of one that is there already goes on until it has come.
pub fn set(world: &World, talk: &mut Talk, kinds: &[ReminderKind], now: DateTime<Utc>) -> Set {
    let advice = answer_sheet(world, &talk.known, Depth::Answer).ok();
    for kind in kinds {
        if reminds_of(talk, *kind) {
            continue;
        }
        let reminder = match kind {
            ReminderKind::Brushes => advice.as_ref().and_then(|advice| brushes(world, &talk.known, advice, now)),
            ReminderKind::LowWater => low_water(world, &talk.known, advice.as_ref(), now),
        };
        talk.reminders.extend(reminder);
    }
    talk.reminders.sort_by_key(|reminder| reminder.due_at);
    let mut says = Vec::new();
    if !talk.reminders.is_empty() {
        let dated = talk.reminders.iter().map(|reminder| {
            let date = world.local_time(talk.known.place.as_deref(), reminder.due_at).date_naive();
            (reminder.kind, date)
        });
        says.push(Say::RemindersSet(dated.collect()));
    }
    let lacks_brushes = kinds.contains(&ReminderKind::Brushes) && !reminds_of(talk, ReminderKind::Brushes);
    match &advice {
        Some(advice) if lacks_brushes && kinds == [ReminderKind::Brushes] => says.push(if advice.sheet.pump.electronics {
            Say::NoBrushes
        } else {
            Say::NoWater { lift_m: advice.sheet.low_m.max(advice.sheet.lift_m) }
        }),
        _ => {}
    }
    Set { says, wants_set: lacks_brushes && advice.is_none() }
}

/// The line of caution beside them.
pub fn caution(talk: &Talk) -> Option<Say> {
    next_of(talk, &[Safety::SwitchOff, Safety::NeverDry]).map(Say::Safety)
}

fn reminds_of(talk: &Talk, kind: ReminderKind) -> bool {
    talk.reminders.iter().any(|reminder| reminder.kind == kind)
}

/// A reminder has come due; the one of low water comes again next year.
pub fn remind(world: &World, talk: &Talk, kind: ReminderKind, now: DateTime<Utc>) -> Step {
    let mut talk = talk.clone();
    let Some(at) = talk.reminders.iter().position(|reminder| reminder.kind == kind && reminder.due_at <= now) else {
        return Step { talk, ..Step::default() };
    };
    let reminder = talk.reminders.remove(at);
    if talk.stopped {
        return Step { talk, ..Step::default() };
    }
    let month = world.local_time(talk.known.place.as_deref(), now + TimeDelta::days(DAYS_BEFORE_LOW as i64)).month() as u8;
    let mut says = vec![match kind {
        ReminderKind::Brushes => Say::BrushesDue { hours: reminder.hours.unwrap_or(LIFE_WHEN_NOT_KNOWN_H) },
        ReminderKind::LowWater => Say::LowWaterComes { month },
    }];
    if kind == ReminderKind::LowWater {
        let advice = answer_sheet(world, &talk.known, Depth::Answer).ok();
        talk.reminders.extend(low_water(world, &talk.known, advice.as_ref(), now));
    }
    let lines: &[Safety] = match kind {
        ReminderKind::Brushes => &[Safety::SwitchOff],
        ReminderKind::LowWater => &[Safety::NeverDry],
    };
    says.extend(next_of(&talk, lines).map(Say::Safety));
    note_seen(&mut talk, &says);
    Step { talk, says, ..Step::default() }
}

/// The morning of a day on the clocks that `local` shows.
fn morning(date: NaiveDate, local: DateTime<FixedOffset>) -> Option<DateTime<Utc>> {
    Some(date.and_hms_opt(MORNING_H, 0, 0)?.and_local_timezone(*local.offset()).single()?.to_utc())
}

/// The day by which the pump will have run most of its life, counted from today over the hours that the garden needs.
fn brushes(world: &World, known: &Known, advice: &Advice, now: DateTime<Utc>) -> Option<Reminder> {
    if advice.sheet.pump.electronics {
        return None;
    }
    let life_h = known.life_h(&world.market).unwrap_or(LIFE_WHEN_NOT_KNOWN_H) * LOOK_AT_SHARE;
    let local = world.local_time(known.place.as_deref(), now);
    let mut run_h = 0.0;
    for days in 1..=FARTHEST_DAYS {
        let date = local.date_naive().checked_add_days(Days::new(days))?;
        let month = &advice.months[date.month0() as usize];
        if month.need_l_m2_day > 0.0 {
            run_h += needed_share(month, advice.sheet.garden_m2) * month.water.pumping_hours;
        }
        if run_h >= life_h {
            let due_at = morning(date, local)?;
            return Some(Reminder { kind: ReminderKind::Brushes, due_at, hours: Some(life_h) });
        }
    }
    None
}

/// Two weeks before the month of low water, next time it comes.
fn low_water(world: &World, known: &Known, advice: Option<&Advice>, now: DateTime<Utc>) -> Option<Reminder> {
    let name = known.place.as_deref().unwrap_or(&world.home_place);
    let month = match advice {
        Some(advice) => advice.low_water_month,
        None => world.place(name)?.place.low_water()?,
    };
    let local = world.local_time(known.place.as_deref(), now);
    (0..=1).find_map(|years| {
        let first = NaiveDate::from_ymd_opt(local.year() + years, month.into(), 1)?;
        let due_at = morning(first.checked_sub_days(Days::new(DAYS_BEFORE_LOW))?, local)?;
        (due_at > now).then_some(Reminder { kind: ReminderKind::LowWater, due_at, hours: None })
    })
}
