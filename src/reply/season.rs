//! What a set's season brings, in words: bucket tests, the day's plan, reminders.

use chrono::{Datelike, NaiveDate};

use super::fit::Wordings;
use super::numbers::about;
use super::wording::{Words, piece};
use crate::language::{Length, ReplyTrouble, ReplyValue as Value};
use crate::sizing::advice::day_plan::{DayStances, Facing};
use crate::sizing::bucket::judging::{Doubt, Finding, Health};
use crate::talk::{ReminderKind, Say};
use crate::terms::TestSky;

/// Points of the compass from north over east, by which panels are faced.
const POINTS: [&str; 8] = ["north", "north_east", "east", "south_east", "south", "south_west", "west", "north_west"];

/// Below this tilt, degrees, panels lie as good as flat, and where they look says nothing.
const AS_GOOD_AS_FLAT_DEG: f64 = 5.0;

impl Words<'_> {
    pub fn test(&self, finding: Finding) -> Result<Vec<Wordings>, ReplyTrouble> {
        let percent = |ratio: f64| ("percent", self.text(about(100.0 * ratio)));
        let flow = |l_min: f64| ("flow", self.text(about(l_min)));
        let texts = match finding {
            Finding::Judged { measured_l_min, ratio, doubt: Some(Doubt::Unbelievable), .. } => {
                self.wordings("test-not-used", &[flow(measured_l_min), percent(ratio)])?
            }
            Finding::Judged { measured_l_min, ratio, doubt: Some(Doubt::Surprising), .. } => {
                self.wordings("test-again", &[flow(measured_l_min), percent(ratio)])?
            }
            Finding::Judged { measured_l_min, ratio, health: None, .. } => {
                self.wordings("test-unsure", &[flow(measured_l_min), percent(ratio)])?
            }
            Finding::Judged { measured_l_min, ratio, health: Some(health), doubt, .. } => {
                let values = [("health", health_code(health).into()), flow(measured_l_min), percent(ratio)];
                let mut pieces = vec![piece("test", self.wordings("test-judged", &values)?)];
                if doubt == Some(Doubt::Short) {
                    pieces.push(piece("test-short", self.wordings("test-short", &[])?));
                }
                return Ok(pieces);
            }
            Finding::Cloudy => self.wordings("test-cloudy", &[])?,
            Finding::LowSun => self.wordings("test-low-sun", &[])?,
            Finding::NothingExpected { outlet_m, .. } => {
                self.wordings("test-nothing-expected", &[("outlet", self.number(outlet_m))])?
            }
        };
        Ok(vec![piece("test", texts)])
    }

    pub fn test_taken(&self, outlet_m: f64, hour: u32, minute: u32, sky: TestSky) -> Result<Vec<Wordings>, ReplyTrouble> {
        let sky = match sky {
            TestSky::Clear => "clear",
            TestSky::Hazy => "hazy",
            TestSky::Cloudy => "cloudy",
        };
        let sky = self.language.word("sky", sky).unwrap_or_default();
        let values = [("outlet", self.number(outlet_m)), ("time", clock(hour, minute).into()), ("sky", sky.into())];
        Ok(vec![piece("test-taken", self.wordings("test-taken", &values)?)])
    }

    pub fn stances(&self, plan: &DayStances) -> Result<Vec<Wordings>, ReplyTrouble> {
        let months = self.wordings("month", &[("month", format!("m{}", plan.month).into())])?;
        let facings: Vec<Vec<String>> = plan.facings.iter().map(|facing| self.facing(facing)).collect::<Result<_, _>>()?;
        let [turn, again] = plan.turn_at_h.map(at_clock);
        let mut texts = Vec::new();
        // Long words everywhere, then short ones: months and ways of facing have as many wordings as the folder gives them.
        let most = facings.iter().map(Vec::len).chain([months.len()]).max().unwrap_or_default();
        for at in 0..most {
            let nth = |wordings: &[String]| -> Value<'static> {
                wordings.get(at).or(wordings.last()).cloned().unwrap_or_default().into()
            };
            texts.extend(self.wordings(
                "stances",
                &[
                    ("month", nth(&months)),
                    ("first", nth(&facings[0])),
                    ("turn", turn.clone().into()),
                    ("second", nth(&facings[1])),
                    ("again", again.clone().into()),
                    ("third", nth(&facings[2])),
                    ("percent", self.text(plan.gain_percent.round())),
                ],
            )?);
        }
        texts.sort_by_key(|text| std::cmp::Reverse(text.chars().count()));
        Ok(vec![piece("stances", texts)])
    }

    fn facing(&self, facing: &Facing) -> Result<Vec<String>, ReplyTrouble> {
        let tilt_deg = (facing.tilt_deg / 5.0).round() * 5.0;
        let point = if tilt_deg < AS_GOOD_AS_FLAT_DEG {
            "up"
        } else {
            POINTS[(facing.compass_deg / 45.0).round() as usize % POINTS.len()]
        };
        self.wordings("facing", &[("point", point.into()), ("tilt", self.number(tilt_deg))])
    }

    pub fn good_hours(&self, month: u8, from_h: f64, to_h: f64) -> Result<Vec<Wordings>, ReplyTrouble> {
        let mut texts = Vec::new();
        for month in self.wordings("month", &[("month", format!("m{month}").into())])? {
            let values = [("month", month.into()), ("from", at_clock(from_h).into()), ("to", at_clock(to_h).into())];
            texts.extend(self.wordings("good-hours", &values)?);
        }
        texts.sort_by_key(|text| std::cmp::Reverse(text.chars().count()));
        Ok(vec![piece("good-hours", texts)])
    }

    pub fn interval(&self, say: &Say) -> Result<Vec<Wordings>, ReplyTrouble> {
        let Say::Interval { days, litres_m2, in_parts, crop, soil, soil_is_told } = *say else { return Ok(Vec::new()) };
        let often = match (days <= 1.0, in_parts) {
            (true, _) => "daily",
            (false, true) => "parts",
            (false, false) => "days",
        };
        let word = |table: &str, key: &str| self.language.word(table, key).unwrap_or_default().to_owned();
        let values = [
            ("often", often.into()),
            ("days", self.number(days)),
            ("litres", self.text(about(litres_m2))),
            ("crop", word("crops", crop).into()),
            ("soil", word("soils", soil).into()),
        ];
        let key = if soil_is_told { "interval" } else { "interval-soil-taken" };
        Ok(vec![piece("interval", self.wordings(key, &values)?)])
    }

    pub fn reminders(&self, reminders: &[(ReminderKind, NaiveDate)]) -> Result<Vec<Wordings>, ReplyTrouble> {
        let (mut long, mut tiny) = (Vec::new(), Vec::new());
        for (kind, date) in reminders {
            let date = self.date(*date)?;
            let texts = self.wordings("reminder", &[("kind", kind.name().into()), ("date", date.into())])?;
            long.extend(texts.first().cloned());
            tiny.extend(texts.into_iter().next_back());
        }
        let list = |parts: &[String]| self.wordings("reminders-set", &[("list", parts.join(", ").into())]);
        let mut texts = list(&long)?;
        texts.truncate(1);
        texts.extend(list(&tiny)?.pop());
        Ok(vec![piece("reminders-set", texts)])
    }

    /// A day as it is written, its month in the fewest letters.
    fn date(&self, date: NaiveDate) -> Result<String, ReplyTrouble> {
        let month = self.wordings("month", &[("month", format!("m{}", date.month()).into())])?.pop().unwrap_or_default();
        let values = [
            ("day", self.number(f64::from(date.day()))),
            ("month", month.into()),
            // A year is no number: nothing is grouped.
            ("year", date.year().to_string().into()),
        ];
        self.language.replies.format("date", Length::Long, &values)
    }

    pub fn low_water_comes(&self, month: u8) -> Result<Vec<Wordings>, ReplyTrouble> {
        let mut texts = Vec::new();
        for month in self.wordings("month", &[("month", format!("m{month}").into())])? {
            texts.extend(self.wordings("low-water-comes", &[("month", month.into())])?);
        }
        texts.sort_by_key(|text| std::cmp::Reverse(text.chars().count()));
        Ok(vec![piece("low-water-comes", texts)])
    }
}

fn health_code(health: Health) -> &'static str {
    match health {
        Health::Healthy => "healthy",
        Health::Check => "check",
        Health::Fault => "fault",
    }
}

fn clock(hour: u32, minute: u32) -> String {
    format!("{hour}:{minute:02}")
}

/// An hour of the clock to five minutes: nobody turns a cart to the minute.
fn at_clock(hour: f64) -> String {
    let fives = (hour * 12.0).round() as u32 % (24 * 12);
    clock(fives / 12, fives % 12 * 5)
}
