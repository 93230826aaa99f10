//! Bucket tests: taken into the sheet with the moment they were made at, and what they come to.

use chrono::{DateTime, Days, TimeDelta, Timelike, Utc};

use super::answer::safety_of;
use super::known::Known;
use super::say::Say;
use super::state::Talk;
use super::world::World;
use crate::language::Command;
use crate::message::{FactValue, TestFact};
use crate::sizing::Advice;
use crate::sizing::bucket::judging::{Finding, Health};
use crate::sizing::bucket::test::BucketTest;
use crate::terms::TestSky;

/// A clock that runs this much ahead of ours still tells the time of today's test.
const CLOCKS_APART: TimeDelta = TimeDelta::minutes(15);

/// Takes a fact into what is known; a test takes the moment of its clock time, or now.
pub fn tell_fact(world: &World, known: &mut Known, fact: &FactValue, now: DateTime<Utc>) {
    match fact {
        FactValue::Test(test) => {
            let test = bucket_test(world, known, test, now);
            known.tell_test(test);
        }
        fact => known.tell_at(fact, now),
    }
}

/// A test at its moment: the latest time that the place's clocks stood so. A sky that was not told is clear.
fn bucket_test(world: &World, known: &Known, test: &TestFact, now: DateTime<Utc>) -> BucketTest {
    let local = world.local_time(known.place.as_deref(), now);
    let at = test.clock.and_then(|(hour, minute)| {
        let today = local.date_naive().and_hms_opt(hour.into(), minute.into(), 0)?;
        let at = today.and_local_timezone(*local.offset()).single()?.to_utc();
        if at > now + CLOCKS_APART { at.checked_sub_days(Days::new(1)) } else { Some(at) }
    });
    BucketTest {
        litres: test.litres,
        seconds: test.seconds,
        outlet_m: test.outlet_m,
        at: at.unwrap_or(now),
        sky: test.sky.unwrap_or(TestSky::Clear),
        set_then: None,
    }
}

/// What the latest test says of the pump, and what water comes with the numbers that now hold.
pub fn say_test(world: &World, talk: &Talk, advice: &Advice) -> Vec<Say> {
    let mut says = Vec::new();
    let tests = &talk.known.tests;
    let finding = advice.tested.as_ref().and_then(|tested| tested.findings.last().copied());
    let mut next = Command::More;
    let mut is_used = false;
    if let (Some(test), Some(finding)) = (tests.last(), finding) {
        if matches!(finding, Finding::Judged { health: Some(Health::Fault), .. }) {
            next = Command::Care;
        }
        is_used = matches!(finding, Finding::Judged { doubt: None, .. });
        let outlet_m = test.outlet_m.unwrap_or(advice.sheet.lift_m);
        let local = world.local_time(talk.known.place.as_deref(), test.at);
        says.push(Say::Test(finding));
        says.push(Say::TestTaken { outlet_m, hour: local.hour(), minute: local.minute(), sky: test.sky });
    }
    if is_used {
        says.push(Say::Answer {
            verdict: advice.verdict,
            water_m3_day: advice.design().water.water_m3_day,
            area_m2: advice.design().area_m2,
            month: advice.design_month,
        });
    }
    says.push(safety_of(talk, advice));
    says.push(Say::NextWord(next));
    says
}

/// That the figures are the set's own, where they are.
pub fn own_numbers(advice: &Advice) -> Option<Say> {
    advice.tested.as_ref().filter(|tested| tested.own.is_some()).map(|tested| Say::OwnNumbers { tests: tested.used })
}
