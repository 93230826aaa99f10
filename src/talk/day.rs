//! The day's plan: the three stances of the cart, the good hours, and how often to water.

use chrono::{DateTime, Datelike, Utc};

use super::answer::safety_of;
use super::safety::next_of;
use super::safety_line::Safety;
use super::say::Say;
use super::state::Talk;
use super::world::World;
use crate::language::Command;
use crate::sizing::Advice;
use crate::sizing::advice::day_plan::{clock_h, day_stances, good_hours};
use crate::sizing::light::stance::TURNED_TILT_CAP_DEG;
use crate::sizing::need::crop::{Stage, crop_named};
use crate::sizing::need::soil::{interval_days, soil_named};

/// Lines of caution for whoever goes out to turn panels.
const WHILE_TURNING: [Safety; 3] = [Safety::TwoPeople, Safety::PanelsLive, Safety::SwitchOff];

/// Days between waterings that are worth telling apart; roots in a heap of days longer than this are watched by eye.
const LONGEST_INTERVAL_DAYS: f64 = 14.0;

/// The month that was asked for, else this one on the place's calendar.
pub fn month_of(world: &World, talk: &Talk, now: DateTime<Utc>) -> u8 {
    let this = || world.local_time(talk.known.place.as_deref(), now).month() as u8;
    talk.known.sheet.month.unwrap_or_else(this)
}

/// Which way the panels look and when the cart is turned; needs nothing but the place.
pub fn stances(world: &World, talk: &Talk, now: DateTime<Utc>) -> Vec<Say> {
    let known = &talk.known;
    let name = known.place.as_deref().unwrap_or(&world.home_place);
    let cap_deg = known.sheet.tilt_deg.unwrap_or(TURNED_TILT_CAP_DEG);
    let month = month_of(world, talk, now);
    // A talk's place and month are checked when they are told.
    let Some(plan) = world.place(name).and_then(|climate| day_stances(&climate, month, cap_deg).ok()) else {
        return vec![Say::NotUnderstood];
    };
    let caution = next_of(talk, &WHILE_TURNING).map(Say::Safety);
    std::iter::once(Say::Stances(Box::new(plan))).chain(caution).chain([Say::NextWord(Command::When)]).collect()
}

/// From when to when a bright day brings good flow; none where no water comes.
pub fn say_hours(world: &World, talk: &Talk, advice: &Advice) -> Option<Say> {
    let name = talk.known.place.as_deref().unwrap_or(&world.home_place);
    let month = advice.design_month;
    let (from, to) = good_hours(&advice.hours)?;
    let climate = world.place(name)?;
    let [from_h, to_h] = [from, to].map(|solar_hour| clock_h(&climate.place, month, solar_hour));
    Some(Say::GoodHours { month, from_h, to_h })
}

/// Good hours and days between waterings of an advice.
pub fn say_when(world: &World, talk: &Talk, advice: &Advice) -> Vec<Say> {
    let Some(hours) = say_hours(world, talk, advice) else {
        // Without water there is nothing to plan.
        return vec![Say::NoWater { lift_m: advice.sheet.low_m.max(advice.sheet.lift_m) }, safety_of(talk, advice)];
    };
    let mut says = vec![hours];
    let design = advice.design();
    let crop_and_soil = crop_named(advice.sheet.crop).and_then(|crop| Ok((crop, soil_named(advice.sheet.soil)?)));
    let days = crop_and_soil.and_then(|(crop, soil)| interval_days(crop, Stage::Mid, soil, design.eto_mm_day));
    // In a month that asks for no water there is nothing to space out.
    if let Ok(days) = days
        && design.need_l_m2_day > 0.0
    {
        let days = days.floor().clamp(1.0, LONGEST_INTERVAL_DAYS);
        says.push(Say::Interval {
            days,
            litres_m2: days * design.need_l_m2_day,
            crop: advice.sheet.crop,
            soil: advice.sheet.soil,
            soil_is_told: talk.known.sheet.soil.is_some(),
        });
    }
    says.push(safety_of(talk, advice));
    says.push(Say::NextWord(Command::Sun));
    says
}
