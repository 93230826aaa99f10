//! What is said of bucket tests, of the day's plan and in reminders, at its longest.

use chrono::NaiveDate;

use super::super::fit::Room;
use super::MESSAGE;
use super::bundles::{BACK, Bundles, back};
use super::values::{answers, cautions, climates, own};
use crate::language::Command;
use crate::sizing::advice::day_plan::{DayStances, Facing};
use crate::sizing::bucket::judging::{Doubt, Finding, Health};
use crate::talk::{ReminderKind, Safety, Say};
use crate::terms::{CROPS, SOILS, TestSky};

impl Bundles {
    pub fn season(&mut self) {
        let taken = Say::TestTaken { outlet_m: 99.5, hour: 23, minute: 59, sky: TestSky::Cloudy };
        let on = |word| vec![Say::NextWord(word)];
        let tested = vec![judged(), vec![taken.clone()], answers(), own(), cautions()];
        self.add("test", &[MESSAGE], [tested.clone(), vec![climates(), on(Command::Care)]].concat());
        self.add("test", &[Room::Screen], [tested, vec![vec![Say::AlsoBySms], back()]].concat());
        self.add_on_answer("test-not-judged", vec![not_judged(), vec![taken], cautions(), on(Command::Care)]);
        self.add_on_answer("when", vec![good_hours(), intervals(), cautions(), on(Command::Sun)]);
        self.add_both("sun", vec![stances(), cautions(), on(Command::When)], &[BACK]);
        let lines = vec![Say::Safety(Safety::SwitchOff), Say::Safety(Safety::NeverDry)];
        self.add_both("remind", vec![reminders_set(), lines.clone()], &[BACK]);
        self.add_both("remind-no", vec![vec![Say::RemindersOff, Say::NoBrushes], lines.clone()], &[BACK]);
        self.add("reminder", &[MESSAGE], vec![reminders(), lines]);
    }
}

fn judged() -> Vec<Say> {
    [Health::Healthy, Health::Check, Health::Fault]
        .map(|health| Say::Test(finding(990.0, 1.4, Some(health), None)))
        .to_vec()
}

fn finding(measured_l_min: f64, ratio: f64, health: Option<Health>, doubt: Option<Doubt>) -> Finding {
    Finding::Judged { outlet_m: 99.5, measured_l_min, expected_l_min: 990.0, ratio, health, doubt }
}

fn not_judged() -> Vec<Say> {
    [
        finding(99_000.0, 990.0, Some(Health::Healthy), Some(Doubt::Unbelievable)),
        finding(990.0, 1.7, Some(Health::Healthy), Some(Doubt::Surprising)),
        finding(990.0, 0.9, None, Some(Doubt::Short)),
        finding(990.0, 0.7, Some(Health::Check), Some(Doubt::Short)),
        finding(990.0, 0.5, Some(Health::Fault), Some(Doubt::Short)),
        Finding::Cloudy,
        Finding::LowSun,
        Finding::NothingExpected { outlet_m: 99.5, measured_l_min: 99_000.0 },
    ]
    .map(Say::Test)
    .to_vec()
}

fn good_hours() -> Vec<Say> {
    (1..=12).map(|month| Say::GoodHours { month, from_h: 10.99, to_h: 22.99 }).collect()
}

fn intervals() -> Vec<Say> {
    let pairs = CROPS.into_iter().flat_map(|crop| SOILS.map(|soil| (crop, soil)));
    pairs
        .flat_map(|(crop, soil)| {
            [(true, true), (true, false), (false, true), (false, false)].map(|(soil_is_told, in_parts)| Say::Interval {
                days: 14.0,
                litres_m2: 999.0,
                in_parts,
                crop,
                soil,
                soil_is_told,
            })
        })
        .collect()
}

fn stances() -> Vec<Say> {
    let facing = |compass_deg: f64| Facing { compass_deg, tilt_deg: 45.0 };
    let stances = (1..=12).flat_map(|month| {
        [[45.0, 0.0, 315.0], [135.0, 180.0, 225.0]].map(|degrees| {
            Say::Stances(Box::new(DayStances {
                month,
                facings: degrees.map(facing),
                turn_at_h: [22.99, 22.99],
                gain_percent: 99.0,
            }))
        })
    });
    stances.collect()
}

fn reminders_set() -> Vec<Say> {
    let dates = (1..=12).filter_map(|month| NaiveDate::from_ymd_opt(2029, month, 28));
    dates.map(|date| Say::RemindersSet(ReminderKind::ALL.map(|kind| (kind, date)).to_vec())).collect()
}

fn reminders() -> Vec<Say> {
    (1..=12).map(|month| Say::LowWaterComes { month }).chain([Say::BrushesDue { hours: 9_900.0 }]).collect()
}
