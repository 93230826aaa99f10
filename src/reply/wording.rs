//! Each thing that a talk says, in one language: the key of its words, its numbers written out, its rank.

use super::fit::{Joint, Wordings};
use super::numbers::{about, hundredths, plain};
use super::refusal::refused;
use crate::language::{Field, Language, Length, ReplyTrouble, ReplyValue as Value};
use crate::message::{Fact, FactValue, PumpFact, Trouble, TroubleCode, print, print_short};
use crate::sizing::set::verdict::Verdict;
use crate::talk::{Assumption, Known, Menu, PlaceSource, Say, Topic};

/// Ranks, what matters most first.
pub mod rank {
    pub const VERDICT: u8 = 0;
    pub const SAFETY: u8 = 1;
    pub const WARNING: u8 = 2;
    pub const QUESTION: u8 = 3;
    pub const TOLD: u8 = 4;
    pub const ASSUMED: u8 = 5;
    pub const MORE: u8 = 6;
    pub const NEXT: u8 = 7;
}

/// Characters of a grower's own words that a reply says back.
const QUOTED_CHARACTERS: usize = 20;

/// Places that a reply names.
const PLACES_NAMED: usize = 5;

/// Things taken for granted that a shortened list still names.
const ASSUMED_SHORT: [usize; 3] = [4, 2, 1];

/// The pieces of one saying.
///
/// # Errors
/// A key, a wording or a value that the language folder lacks; start-up renders every saying, so a grower never meets one.
pub fn pieces(language: &Language, say: &Say) -> Result<Vec<Wordings>, ReplyTrouble> {
    let words = Words { language };
    let one = |key: &str, values: &[(&str, Value<'_>)], rank: u8, must: bool| -> Result<Vec<Wordings>, ReplyTrouble> {
        Ok(vec![piece(language.replies.wordings(key, values)?, rank, must)])
    };
    match say {
        Say::Told(known) => Ok(vec![piece(words.told(known)?, rank::TOLD, false)]),
        Say::TookWord(word) => one("took-word", &[("word", word.as_str().into())], rank::TOLD, false),
        Say::Answer { verdict, water_m3_day, area_m2, month } => {
            Ok(vec![piece(words.answer(*verdict, *water_m3_day, *area_m2, *month)?, rank::VERDICT, true)])
        }
        Say::NoWater { lift_m } => one("no-water", &[("lift", words.number(*lift_m))], rank::VERDICT, true),
        Say::Assumed(things) => Ok(vec![piece(words.assumed(things)?, rank::ASSUMED, false)]),
        Say::OverDriven { cure: Some(cure) } => {
            let panels = ("panels", words.number(f64::from(cure.panel_count)));
            match (cure.verdict, cure.area_m2) {
                (Some(Verdict::Enough) | None, _) | (_, None) => one("over-driven", &[panels], rank::WARNING, false),
                (_, Some(area_m2)) => {
                    let area = ("area", words.text(about(area_m2)));
                    one("over-driven-less", &[panels, area], rank::WARNING, false)
                }
            }
        }
        Say::OverDriven { cure: None } => one("over-driven-always", &[], rank::WARNING, false),
        Say::WireBurns { size_mm2, take_mm2 } => {
            let size = ("size", words.number(*size_mm2));
            match take_mm2 {
                Some(take_mm2) => one("wire-burns", &[size, ("take", words.number(*take_mm2))], rank::WARNING, true),
                None => one("wire-burns-split", &[size], rank::WARNING, true),
            }
        }
        Say::Mismatch { panels_v, pump_v } => {
            let values = [("panels", words.number(panels_v.round())), ("pump", words.number(*pump_v))];
            one("mismatch", &values, rank::WARNING, false)
        }
        Say::Joined { series, parallel, unused } => words.joined(*series, *parallel, *unused),
        Say::WellRunsDry => one("well-runs-dry", &[], rank::WARNING, true),
        Say::HighVoltage => one("high-voltage", &[], rank::SAFETY, true).map(on_a_line),
        Say::Safety(line) => one("safety", &[("line", line.code().into())], rank::SAFETY, true).map(on_a_line),
        Say::NextWord(command) => {
            let word = language.command(*command).unwrap_or_default().to_uppercase();
            one("next-word", &[("word", word.into())], rank::NEXT, false)
        }
        Say::Ask { field, beside_answer } => {
            one("ask", &[("field", field.name().into())], rank::QUESTION, !beside_answer).map(on_a_line)
        }
        Say::Refused(trouble) => Ok(vec![piece(refused(language, trouble)?, rank::VERDICT, true)]),
        Say::IsItRight(trouble) => Ok(vec![piece(words.is_it_right(trouble)?, rank::VERDICT, true)]),
        Say::DidYouMean { word, meant } => {
            one("did-you-mean", &[("word", quoted(word).into()), ("meant", meant.as_str().into())], rank::VERDICT, true)
        }
        Say::PassedOver(passed) => one("passed-over", &[("words", quoted(&passed.join(" ")).into())], rank::MORE, false),
        Say::PlaceUnknown { name, known } => {
            let first = known.first().cloned().unwrap_or_default();
            let known = known.iter().take(PLACES_NAMED).map(|name| quoted(name)).collect::<Vec<_>>().join(", ");
            let values = [("name", quoted(name).into()), ("known", known.into()), ("first", quoted(&first).into())];
            one("place-unknown", &values, rank::VERDICT, true)
        }
        Say::SpotRefused => one("refused-spot", &[], rank::VERDICT, true),
        Say::Climate { source, is_new } => {
            let rank = if *is_new || source.rough { rank::WARNING } else { rank::ASSUMED };
            Ok(vec![piece(words.climate(source)?, rank, *is_new || source.rough)])
        }
        Say::NothingUnderstood => one("nothing-understood", &[], rank::VERDICT, true),
        Say::StillSame => one("still-same", &[], rank::VERDICT, true),
        Say::NewSheet => one("new-sheet", &[], rank::TOLD, false),
        Say::NotUnderstood => one("not-understood", &[], rank::VERDICT, true),
        Say::OnlyStartRead => one("only-start-read", &[], rank::MORE, false),
        Say::About(field) => one("about", &[("field", field.name().into())], rank::VERDICT, true),
        Say::Bore { is_told, pipe_m, bore_mm, pipe_loss_m } => {
            let values = [
                ("metres", words.number(*pipe_m)),
                ("bore", words.number(*bore_mm)),
                ("loss", words.text(about(*pipe_loss_m))),
            ];
            one(if *is_told { "bore-told" } else { "bore-best" }, &values, rank::VERDICT, true)
        }
        Say::Guide { topic, step } => match topic {
            Topic::Advice => Ok(Vec::new()),
            Topic::Setup => one("setup", &[("step", (*step).into())], rank::VERDICT, true),
            Topic::Care => one("care", &[("step", (*step).into())], rank::VERDICT, true),
            Topic::Help => one("help", &[("step", (*step).into())], rank::VERDICT, true),
            Topic::Test => one("test-how", &[("step", (*step).into())], rank::VERDICT, true),
        },
        Say::NoMore => one("no-more", &[], rank::VERDICT, true),
        Say::Menu(menu) => {
            let menu = match menu {
                Menu::Home => "home",
                Menu::Other => "other",
                Menu::Answered => "answered",
                Menu::Stopped => "stopped",
                Menu::Languages { .. } => "languages",
            };
            one("menu", &[("menu", menu.into())], rank::VERDICT, true).map(on_a_line)
        }
        Say::Choice(key, item) => {
            let texts = words.wordings("choice", &[("item", item.code().into())])?;
            Ok(on_a_line(vec![piece(texts.iter().map(|text| format!("{key} {text}")).collect(), rank::VERDICT, true)]))
        }
        Say::ChoiceOfLanguage(key, name) => Ok(on_a_line(vec![piece(vec![format!("{key} {name}")], rank::VERDICT, true)])),
        Say::NoSuchChoice => one("no-such-choice", &[], rank::VERDICT, true),
        Say::AlsoBySms => one("also-by-sms", &[], rank::NEXT, false),
        Say::Busy => one("busy", &[], rank::VERDICT, true),
        Say::Stopped => one("stopped", &[], rank::VERDICT, true),
        Say::Started => one("started", &[], rank::VERDICT, true),
        Say::HandedOver => one("handed-over", &[], rank::VERDICT, true),
        Say::ForgetSure => one("forget-sure", &[], rank::VERDICT, true),
        Say::Forgotten => one("forgotten", &[], rank::VERDICT, true),
        Say::Kept => one("kept", &[], rank::VERDICT, true),
        Say::PoorDay { poor_day_m3, pumping_hours } => one(
            "poor-day",
            &[("hours", words.text(about(*pumping_hours))), ("water", words.text(about(*poor_day_m3)))],
            rank::MORE,
            false,
        ),
        Say::Noon { flow_l_min, pipe_loss_m, bore_mm } => {
            let values = [
                ("flow", words.text(about(*flow_l_min))),
                ("loss", words.text(about(*pipe_loss_m))),
                ("bore", words.number(*bore_mm)),
            ];
            one("noon", &values, rank::MORE, false)
        }
        Say::Fix { place, changes, area_m2, added_cost, currency } => {
            let fix = words.fix(*place, changes, *area_m2, *added_cost, currency)?;
            // The first is the answer; the others are there if there is room.
            let weight = if *place == 1 { rank::VERDICT } else { rank::ASSUMED };
            Ok(vec![piece(fix, weight, *place == 1)])
        }
        Say::Proposal(set) => words.proposal(set),
        Say::NoSet => one("no-set", &[], rank::VERDICT, true),
        Say::Test(finding) => words.test(*finding),
        Say::TestTaken { outlet_m, hour, minute, sky } => words.test_taken(*outlet_m, *hour, *minute, *sky),
        Say::OwnNumbers { tests } => one("own-numbers", &[("tests", words.number(*tests as f64))], rank::WARNING, true),
        Say::SuctionTooHigh { greatest_m } => {
            one("suction-too-high", &[("metres", words.text(about(*greatest_m)))], rank::WARNING, true)
        }
        Say::Stances(plan) => words.stances(plan),
        Say::GoodHours { month, from_h, to_h } => words.good_hours(*month, *from_h, *to_h),
        Say::Interval { days, litres_m2, crop, soil, soil_is_told } => {
            words.interval(*days, *litres_m2, crop, soil, *soil_is_told)
        }
        Say::RemindersSet(reminders) => words.reminders(reminders),
        Say::RemindersOff => one("reminders-off", &[], rank::VERDICT, true),
        Say::NoBrushes => one("no-brushes", &[], rank::VERDICT, true),
        Say::BrushesDue { hours } => one("brushes-due", &[("hours", words.text(about(*hours)))], rank::VERDICT, true),
        Say::LowWaterComes { month } => words.low_water_comes(*month),
        Say::NothingToChange => one("nothing-to-change", &[], rank::VERDICT, true),
        Say::NoChangeHelps => one("no-change-helps", &[], rank::VERDICT, true),
        Say::Cost(money) => words.cost(money),
        Say::NoPrice(parts) => one("no-price", &[("parts", parts.join(", ").into())], rank::WARNING, false),
        Say::Wire { wire_m, size_mm2, breaker_a, string_fuse_a } => {
            words.wire(*wire_m, *size_mm2, *breaker_a, *string_fuse_a)
        }
    }
}

/// The same pieces, each on a line of its own.
fn on_a_line(pieces: Vec<Wordings>) -> Vec<Wordings> {
    pieces.into_iter().map(|piece| Wordings { joint: Joint::Line, ..piece }).collect()
}

/// A fact to a digit that its measure can carry: an acre is 4047 m2 to whoever paces it out.
fn readable(fact: Fact) -> Fact {
    let value = match fact.value {
        FactValue::LiftM(lift_m) => FactValue::LiftM(hundredths(lift_m)),
        FactValue::LowM(low_m) => FactValue::LowM(hundredths(low_m)),
        FactValue::PipeM(pipe_m) => FactValue::PipeM(hundredths(pipe_m)),
        FactValue::WireM(wire_m) => FactValue::WireM(hundredths(wire_m)),
        FactValue::BoreMm(bore_mm) => FactValue::BoreMm(hundredths(bore_mm)),
        FactValue::GardenM2(garden_m2) if garden_m2 >= 10.0 => FactValue::GardenM2(garden_m2.round()),
        FactValue::WellLH(well_l_h) => FactValue::WellLH(well_l_h.round()),
        FactValue::Pump(pump) => FactValue::Pump(PumpFact {
            flow_l_h: pump.flow_l_h.map(f64::round),
            head_m: pump.head_m.map(hundredths),
            ..pump
        }),
        other => other,
    };
    Fact { value, ..fact }
}

/// What a grower wrote, short enough to be said back.
fn quoted(text: &str) -> String {
    text.chars().take(QUOTED_CHARACTERS).collect()
}

pub fn piece(texts: Vec<String>, rank: u8, must: bool) -> Wordings {
    Wordings { rank, must, texts, joint: Joint::Space }
}

pub struct Words<'l> {
    pub language: &'l Language,
}

impl Words<'_> {
    pub fn text(&self, number: f64) -> Value<'static> {
        self.language.numbers.write(number).into()
    }

    pub fn number(&self, number: f64) -> Value<'static> {
        self.text(plain(number))
    }

    pub fn wordings(&self, key: &str, values: &[(&str, Value<'_>)]) -> Result<Vec<String>, ReplyTrouble> {
        self.language.replies.wordings(key, values)
    }

    /// The sheet as a message that could be sent again, with its units and without.
    fn told(&self, known: &Known) -> Result<Vec<String>, ReplyTrouble> {
        let facts: Vec<Fact> = known.facts().into_iter().map(readable).collect();
        let mut texts = self.wordings("told", &[("sheet", print(&facts, self.language).into())])?;
        let last = self.wordings("told", &[("sheet", print_short(&facts, self.language).into())])?;
        texts.extend(last.into_iter().skip(1));
        Ok(texts)
    }

    fn answer(
        &self,
        verdict: Option<Verdict>,
        water_m3_day: f64,
        area_m2: Option<f64>,
        month: u8,
    ) -> Result<Vec<String>, ReplyTrouble> {
        let months = self.wordings("month", &[("month", format!("m{month}").into())])?;
        let verdict = match verdict {
            Some(Verdict::Enough) => "enough",
            Some(Verdict::Tight) => "tight",
            Some(Verdict::Short) => "short",
            Some(Verdict::Unfit) => "unfit",
            None => "open",
        };
        let water = self.text(about(water_m3_day));
        let mut texts = Vec::new();
        for month in months {
            let month: Value<'_> = month.into();
            let water = water.clone();
            texts.extend(match area_m2 {
                Some(area) => self.wordings(
                    "answer",
                    &[("verdict", verdict.into()), ("water", water), ("month", month), ("area", self.text(about(area)))],
                )?,
                None => self.wordings("answer-no-need", &[("water", water), ("month", month)])?,
            });
        }
        texts.sort_by_key(|text| std::cmp::Reverse(text.chars().count()));
        Ok(texts)
    }

    /// All that was assumed, then fewer things in fewer letters.
    fn assumed(&self, things: &[Assumption]) -> Result<Vec<String>, ReplyTrouble> {
        let mut long = Vec::new();
        let mut tiny = Vec::new();
        for thing in things {
            let mut texts = self.assumption(thing)?;
            let last = texts.pop().unwrap_or_default();
            long.push(texts.into_iter().next().unwrap_or_else(|| last.clone()));
            tiny.push(last);
        }
        let mut lists = vec![long.join(", "), tiny.join(", ")];
        lists.extend(ASSUMED_SHORT.into_iter().filter(|few| *few < tiny.len()).map(|few| tiny[..few].join(", ")));
        lists
            .into_iter()
            .map(|list| self.language.replies.format("assumed", Length::Long, &[("things", list.into())]))
            .collect()
    }

    fn assumption(&self, thing: &Assumption) -> Result<Vec<String>, ReplyTrouble> {
        let word = |table: &str, key: &str| -> Value<'static> {
            self.language.word(table, key).unwrap_or_default().to_owned().into()
        };
        match thing {
            Assumption::Pump { label_v, flow_l_h, head_m } => self.wordings(
                "assumed-pump",
                &[("volts", self.number(*label_v)), ("flow", self.number(*flow_l_h)), ("head", self.number(*head_m))],
            ),
            Assumption::PumpVolts(volts) => self.wordings("assumed-volts", &[("volts", self.number(*volts))]),
            Assumption::BoreMm(bore) => self.wordings("assumed-bore", &[("bore", self.number(*bore))]),
            Assumption::Flat => self.wordings("assumed-flat", &[]),
            Assumption::Panels { count, watts } => {
                let panels = format!("{count}x{}", self.language.numbers.write(plain(*watts)));
                self.wordings("assumed-panels", &[("panels", panels.into())])
            }
            Assumption::Crop(crop) => self.wordings("assumed-crop", &[("crop", word("crops", crop))]),
            Assumption::Watering(way) => self.wordings("assumed-watering", &[("watering", word("watering", way))]),
            Assumption::Place(place) => self.wordings("assumed-place", &[("place", place.as_str().into())]),
        }
    }

    /// The town whose climate it is and how far away; the altitude worked with, or where it is rough the station's.
    fn climate(&self, source: &PlaceSource) -> Result<Vec<String>, ReplyTrouble> {
        let town = ("town", source.station.as_deref().unwrap_or_default().into());
        let distance = ("distance", self.number(source.distance_km.unwrap_or_default().round()));
        let altitude = |alt_m: f64| ("altitude", self.number(alt_m.round()));
        match source {
            PlaceSource { rough: true, station_alt_m, .. } => {
                self.wordings("climate-rough", &[town, distance, altitude(station_alt_m.unwrap_or_default())])
            }
            PlaceSource { alt_assumed: true, alt_m, .. } => {
                self.wordings("climate-spot-level", &[town, distance, altitude(*alt_m)])
            }
            PlaceSource { distance_km: Some(km), alt_m, .. } if *km > 0.0 => {
                self.wordings("climate-spot", &[town, distance, altitude(*alt_m)])
            }
            _ => self.wordings("climate-town", &[town]),
        }
    }

    fn is_it_right(&self, trouble: &Trouble) -> Result<Vec<String>, ReplyTrouble> {
        let field = trouble.field.unwrap_or(Field::Lift);
        let field_word = self.language.field(field).unwrap_or_default();
        match &trouble.code {
            TroubleCode::LowBelowLift { lift_m, low_m } => {
                self.wordings("low-below-lift", &[("low", self.number(*low_m)), ("lift", self.number(*lift_m))])
            }
            TroubleCode::Unusual { value, unit, .. } => {
                let unit = unit.and_then(|unit| self.language.unit(unit)).unwrap_or_default();
                self.wordings(
                    "is-it-right",
                    &[("field", field_word.into()), ("value", self.number(*value)), ("unit", unit.into())],
                )
            }
            _ => refused(self.language, trouble),
        }
    }

    /// How panels are joined, in plain words.
    fn joined(&self, series: u32, parallel: u32, unused: u32) -> Result<Vec<Wordings>, ReplyTrouble> {
        let mut pieces = Vec::new();
        if series * parallel > 1 {
            let how = match (series, parallel) {
                (_, 1) => "row",
                (1, _) => "side",
                _ => "both",
            };
            let values = [
                ("how", how.into()),
                ("series", self.number(f64::from(series))),
                ("parallel", self.number(f64::from(parallel))),
            ];
            pieces.push(piece(self.wordings("joined", &values)?, rank::WARNING, false));
        }
        if unused > 0 {
            let left = self.wordings("left-over", &[("panels", self.number(f64::from(unused)))])?;
            pieces.push(piece(left, rank::MORE, false));
        }
        Ok(pieces)
    }

    fn wire(
        &self,
        wire_m: f64,
        size_mm2: f64,
        breaker_a: Option<f64>,
        string_fuse_a: Option<f64>,
    ) -> Result<Vec<Wordings>, ReplyTrouble> {
        let metres = ("metres", self.number(wire_m));
        let size = ("size", self.number(size_mm2));
        let wire = match breaker_a {
            Some(amps) => self.wordings("wire", &[metres, size, ("breaker", self.number(amps))])?,
            None => self.wordings("wire-no-breaker", &[metres, size])?,
        };
        let mut pieces = vec![piece(wire, rank::WARNING, true)];
        if let Some(amps) = string_fuse_a {
            let fuse = self.wordings("string-fuse", &[("fuse", self.number(amps))])?;
            pieces.push(piece(fuse, rank::WARNING, true));
        }
        Ok(pieces)
    }
}
