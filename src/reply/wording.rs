//! Each thing that a talk says, in one language: the key of its words, its numbers written out.

use super::fit::{Joint, Wordings};
use super::folder::{danger_pieces, example_of, topic_pieces};
use super::numbers::{about, hundredths, plain};
use super::refusal::refused;
use super::weights::{Weight, weight};
use crate::language::{Language, Length, ReplyTrouble, ReplyValue as Value};
use crate::message::{Fact, FactValue, PumpFact, print, print_short};
use crate::sizing::set::verdict::Verdict;
use crate::talk::{Assumption, Known, Menu, PlaceSource, Say, Topic};

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
    let one = |key: &str, values: &[(&str, Value<'_>)]| -> Result<Vec<Wordings>, ReplyTrouble> {
        Ok(vec![piece(key, language.replies.wordings(key, values)?)])
    };
    match say {
        Say::Told(known) => Ok(vec![piece("told", words.told(known)?)]),
        Say::TookWord(word) => one("took-word", &[("word", word.as_str().into())]),
        Say::Answer { verdict, water_m3_day, area_m2, month } => {
            Ok(vec![piece("answer", words.answer(*verdict, *water_m3_day, *area_m2, *month)?)])
        }
        Say::NoWater { lift_m } => one("no-water", &[("lift", words.number(*lift_m))]),
        Say::Assumed(things) => Ok(vec![piece("assumed", words.assumed(things)?)]),
        Say::OverDriven { cure } => Ok(vec![piece("over-driven", words.over_driven(cure.as_ref())?)]),
        Say::WireBurns { size_mm2, take_mm2 } => {
            let size = ("size", words.number(*size_mm2));
            let texts = match take_mm2 {
                Some(take_mm2) => words.wordings("wire-burns", &[size, ("take", words.number(*take_mm2))])?,
                None => words.wordings("wire-burns-split", &[size])?,
            };
            Ok(vec![piece("wire-burns", texts)])
        }
        Say::Mismatch { panels_v, pump_v } => {
            one("mismatch", &[("panels", words.number(panels_v.round())), ("pump", words.number(*pump_v))])
        }
        Say::Joined { series, parallel, unused } => words.joined(*series, *parallel, *unused),
        Say::Hours { hours, garden_m2, bed_minutes, bed_cans } => {
            let seconds = (bed_minutes * 60.0).round();
            let values = [
                ("hours", words.text(about(*hours))),
                ("garden", words.number(garden_m2.round())),
                ("minutes", words.text((seconds / 60.0).floor())),
                ("seconds", words.text(seconds % 60.0)),
                ("cans", words.text(bed_cans.ceil())),
            ];
            one("hours", &values)
        }
        Say::AskGuess(guess) => one("ask-guess", &[("guess", guess.code().into())]).map(on_a_line),
        Say::WellRunsDry => one("well-runs-dry", &[]),
        Say::HighVoltage => one("high-voltage", &[]).map(on_a_line),
        Say::Safety(line) => one("safety", &[("line", line.code().into())]).map(on_a_line),
        Say::NextWord(command) => {
            let word = language.command(*command).unwrap_or_default().to_uppercase();
            one("next-word", &[("word", word.into())])
        }
        Say::Ask { field, beside_answer } => {
            let name = if *beside_answer { "ask-beside" } else { "ask" };
            let texts = words.wordings("ask", &[("field", field.name().into())])?;
            Ok(on_a_line(vec![piece(name, texts)]))
        }
        Say::Refused(trouble) => Ok(vec![piece("refused", refused(language, trouble)?)]),
        Say::IsItRight(trouble) => Ok(vec![piece("is-it-right", words.is_it_right(trouble)?)]),
        Say::Unusual(trouble) => Ok(vec![piece("unusual", words.unusual(trouble)?)]),
        Say::OnlyInTalk(command) => {
            let word = language.command(*command).unwrap_or_default().to_uppercase();
            one("only-in-talk", &[("word", word.into())])
        }
        Say::DidYouMean { word, meant } => {
            one("did-you-mean", &[("word", quoted(word).into()), ("meant", meant.as_str().into())])
        }
        Say::PassedOver(passed) => one("passed-over", &[("words", quoted(&passed.join(" ")).into())]),
        Say::PlaceUnknown { name, known } => {
            let first = known.first().cloned().unwrap_or_default();
            let known = known.iter().take(PLACES_NAMED).map(|name| quoted(name)).collect::<Vec<_>>().join(", ");
            let values = [("name", quoted(name).into()), ("known", known.into()), ("first", quoted(&first).into())];
            one("place-unknown", &values)
        }
        Say::SpotRefused => one("refused-spot", &[]),
        Say::Climate { source, is_new } => {
            let name = if *is_new || source.rough { "climate-new" } else { "climate" };
            Ok(vec![piece(name, words.climate(source)?)])
        }
        Say::NothingUnderstood => one("nothing-understood", &[]),
        Say::Danger { kind, line, also, emergency } => {
            Ok(danger_pieces(&language.danger, *kind, *line, *also, emergency.as_deref()))
        }
        Say::Topic { topic, part } => Ok(topic_pieces(language, topic, *part)),
        Say::WhichTopic { first, second } => {
            let values = [("first", example_of(language, first).into()), ("second", example_of(language, second).into())];
            one("which-topic", &values)
        }
        Say::StillSame => one("still-same", &[]),
        Say::NewSheet => one("new-sheet", &[]),
        Say::NotUnderstood => one("not-understood", &[]),
        Say::OnlyStartRead => one("only-start-read", &[]),
        Say::About(field) => one("about", &[("field", field.name().into())]),
        Say::Bore { is_told, pipe_m, bore_mm, pipe_loss_m } => {
            let values = [
                ("metres", words.number(*pipe_m)),
                ("bore", words.number(*bore_mm)),
                ("loss", words.text(about(*pipe_loss_m))),
            ];
            one(if *is_told { "bore-told" } else { "bore-best" }, &values)
        }
        Say::Guide { topic, step } => match topic {
            Topic::Advice => Ok(Vec::new()),
            Topic::Setup => one("setup", &[("step", (*step).into())]),
            Topic::Care => one("care", &[("step", (*step).into())]),
            Topic::Help => one("help", &[("step", (*step).into())]),
            Topic::Test => one("test-how", &[("step", (*step).into())]),
        },
        Say::FaultStep { tree, step } => {
            let text = language.faults.get(tree).and_then(|tree| tree.steps.get(step)).map(|step| step.ask.clone());
            fault(tree, step, text).map(|texts| vec![piece("fault-step", texts)])
        }
        Say::FaultEnd { tree, end } => {
            let text = language.faults.get(tree).and_then(|tree| tree.ends.get(end)).map(|end| end.say.clone());
            fault(tree, end, text).map(|texts| vec![piece("fault-end", texts)])
        }
        Say::Compared(compared) => Ok(vec![piece("compared", words.compared(compared)?)]),
        Say::SheetKept => one("sheet-kept", &[]),
        Say::NoMore => one("no-more", &[]),
        Say::Menu(menu) => {
            let menu = match menu {
                Menu::Home => "home",
                Menu::Other => "other",
                Menu::Answered => "answered",
                Menu::Stopped => "stopped",
                Menu::Languages { .. } => "languages",
            };
            one("menu", &[("menu", menu.into())]).map(on_a_line)
        }
        Say::Choice(key, item) => {
            let texts = words.wordings("choice", &[("item", item.code().into())])?;
            Ok(on_a_line(vec![piece("choice", texts.iter().map(|text| format!("{key} {text}")).collect())]))
        }
        Say::ChoiceOfLanguage(key, name) => Ok(on_a_line(vec![piece("choice", vec![format!("{key} {name}")])])),
        Say::NoSuchChoice => one("no-such-choice", &[]),
        Say::AlsoBySms => one("also-by-sms", &[]),
        Say::Busy => one("busy", &[]),
        Say::Stopped => one("stopped", &[]),
        Say::Started => one("started", &[]),
        Say::HandedOver => one("handed-over", &[]),
        Say::StillHandedOver => one("still-handed-over", &[]),
        Say::ForgetSure => one("forget-sure", &[]),
        Say::Forgotten => one("forgotten", &[]),
        Say::Kept => one("kept", &[]),
        Say::PoorDay { poor_day_m3, pumping_hours } => {
            one("poor-day", &[("hours", words.text(about(*pumping_hours))), ("water", words.text(about(*poor_day_m3)))])
        }
        Say::Noon { flow_l_min, pipe_loss_m, bore_mm } => {
            let values = [
                ("flow", words.text(about(*flow_l_min))),
                ("loss", words.text(about(*pipe_loss_m))),
                ("bore", words.number(*bore_mm)),
            ];
            one("noon", &values)
        }
        Say::Fix { place, changes, area_m2, added_cost, currency } => {
            let fix = words.fix(*place, changes, *area_m2, *added_cost, currency)?;
            // The first is the answer; the others are there if there is room.
            let name = if *place == 1 { "fix" } else { "fix-other" };
            Ok(vec![piece(name, fix)])
        }
        Say::Proposal(set) => words.proposal(set),
        Say::NoSet => one("no-set", &[]),
        Say::Test(finding) => words.test(*finding),
        Say::TestTaken { outlet_m, hour, minute, sky } => words.test_taken(*outlet_m, *hour, *minute, *sky),
        Say::OwnNumbers { tests } => one("own-numbers", &[("tests", count(*tests))]),
        Say::SuctionTooHigh { greatest_m } => one("suction-too-high", &[("metres", words.text(about(*greatest_m)))]),
        Say::Stances(plan) => words.stances(plan),
        Say::GoodHours { month, from_h, to_h } => words.good_hours(*month, *from_h, *to_h),
        Say::Interval { days, litres_m2, crop, soil, soil_is_told } => {
            words.interval(*days, *litres_m2, crop, soil, *soil_is_told)
        }
        Say::RemindersSet(reminders) => words.reminders(reminders),
        Say::RemindersOff => one("reminders-off", &[]),
        Say::NoBrushes => one("no-brushes", &[]),
        Say::BrushesDue { hours } => one("brushes-due", &[("hours", words.text(about(*hours)))]),
        Say::LowWaterComes { month } => words.low_water_comes(*month),
        Say::NothingToChange => one("nothing-to-change", &[]),
        Say::NoChangeHelps => one("no-change-helps", &[]),
        Say::Cost(money) => words.cost(money),
        Say::NoPrice(parts) => one("no-price", &[("parts", parts.join(", ").into())]),
        Say::Wire { wire_m, size_mm2, breaker_a, string_fuse_a } => {
            words.wire(*wire_m, *size_mm2, *breaker_a, *string_fuse_a)
        }
    }
}

/// The text of a step or an ending, which a checked folder has.
fn fault(tree: &str, name: &str, text: Option<String>) -> Result<Vec<String>, ReplyTrouble> {
    text.map(|text| vec![text]).ok_or_else(|| ReplyTrouble::MissingKey { key: format!("{tree}.{name}") })
}

/// The same pieces, each on a line of its own.
fn on_a_line(pieces: Vec<Wordings>) -> Vec<Wordings> {
    pieces.into_iter().map(|piece| Wordings { joint: Joint::Line, ..piece }).collect()
}

/// A fact to a digit that its measure can carry: an acre is 4047 m2 to whoever paces it out.
pub fn readable(fact: Fact) -> Fact {
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

/// The code under which language folders word a verdict.
pub fn verdict_code(verdict: Option<Verdict>) -> &'static str {
    match verdict {
        Some(Verdict::Enough) => "enough",
        Some(Verdict::Tight) => "tight",
        Some(Verdict::Short) => "short",
        Some(Verdict::Unfit) => "unfit",
        None => "open",
    }
}

/// What a grower wrote, short enough to be said back.
fn quoted(text: &str) -> String {
    text.chars().take(QUOTED_CHARACTERS).collect()
}

/// How many, to choose a plural by.
pub fn count(many: usize) -> Value<'static> {
    Value::Count(u32::try_from(many).unwrap_or(u32::MAX))
}

/// A piece by its name in the table of weights.
pub fn piece(name: &str, texts: Vec<String>) -> Wordings {
    let Weight { rank, must } = weight(name);
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
        let verdict = verdict_code(verdict);
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
                self.wordings("assumed-panels", &[("panels", panels.into()), ("count", (*count).into())])
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
}
