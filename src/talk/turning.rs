//! The step in progress: the talk as it moves, what there is to say so far, and the moves that all words share.

use chrono::{DateTime, Utc};

use super::about::about;
use super::advising::{AnswerError, Depth, answer_sheet};
use super::answer::say_more;
use super::guide::guide_step;
use super::known::PumpGap;
use super::placing::{is_rough, settle_place, whose_climate};
use super::safety::note_seen;
use super::say::Say;
use super::state::{Asked, Channel, Talk};
use super::stumble::count_stumble;
use super::testing::{own_numbers, tell_fact};
use super::topic::{Page, Topic};
use super::topic_text::more_of_topic;
use super::world::World;
use crate::language::{Command, DangerKind, Field};
use crate::message::{FactValue, NearMiss, Reading, Trouble, TroubleCode};
use crate::sizing::set::guess::Guess;
use crate::sizing::{Advice, SizingError};

/// Days after which a sheet is old, and the next message is asked whether it is still the same garden.
pub const SHEET_OLD_DAYS: i64 = 30;

/// A message, read.
#[derive(Debug, Clone, Copy)]
pub struct Heard<'a> {
    pub text: &'a str,
    pub reading: &'a Reading,
}

/// Where the talk stands now, and what there is to say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Step {
    pub talk: Talk,
    /// Nothing at all after the number has opted out.
    pub says: Vec<Say>,
    pub wants_person: bool,
    /// Everything held of the number is to be deleted; the talk is what stays, once the reply is worded.
    pub forget: bool,
    /// The danger that this message showed.
    pub danger: Option<DangerKind>,
    pub taken: Taken,
}

/// What a step took out of a message and worked out from it, beside what it says.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Taken {
    /// The advice that was said; it is worked out nowhere else.
    pub advice: Option<Box<Advice>>,
    /// What was stored, in the order of the message.
    pub facts: Vec<FactValue>,
    /// What looked like a value and was not stored, as it was written.
    pub not_taken: Vec<String>,
    /// What was not understood or not believed, and mistyped words that are asked about, with their positions.
    pub troubles: Vec<Trouble>,
    pub near: Vec<NearMiss>,
    /// Words that ask for something.
    pub commands: Vec<Command>,
    /// The word that did nothing, since it lives in a talk and this message has none.
    pub only_in_talk: Option<Command>,
    /// What was asked, by the names of the topics.
    pub topics: Vec<String>,
    /// Names of what is changed in the set only to compare.
    pub what_if: Vec<&'static str>,
}

impl Taken {
    /// What a reading says by itself; what is stored and worked out comes with the step.
    pub fn of(reading: &Reading) -> Self {
        let commands = reading.commands.iter().map(|(command, _)| *command).collect();
        Self { troubles: reading.troubles.clone(), near: reading.near.clone(), commands, ..Self::default() }
    }
}

/// How a message comes, and how far what is said to it is worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Manner {
    pub channel: Channel,
    pub depth: Depth,
}

impl From<Channel> for Manner {
    fn from(channel: Channel) -> Self {
        Self { channel, depth: Depth::Answer }
    }
}

/// A step under way.
pub struct Turning<'a> {
    pub world: &'a World,
    pub talk: Talk,
    pub heard: Heard<'a>,
    pub manner: Manner,
    pub now: DateTime<Utc>,
    pub says: Vec<Say>,
    pub wants_person: bool,
    pub forget: bool,
    pub taken: Taken,
    /// This message told the place.
    pub place_told: bool,
}

impl<'a> Turning<'a> {
    pub fn new(world: &'a World, talk: Talk, heard: Heard<'a>, manner: Manner, now: DateTime<Utc>) -> Self {
        let (says, wants_person, forget, place_told) = (Vec::new(), false, false, false);
        let taken = Taken::of(heard.reading);
        Turning { world, talk, heard, manner, now, says, wants_person, forget, taken, place_told }
    }

    pub fn done(mut self) -> Step {
        if self.says.is_empty() && self.manner.channel != Channel::Ussd {
            // Whatever came, a grower is never left without a word.
            self.guide(Topic::Help);
        }
        self.wants_person |= count_stumble(&mut self.talk, &mut self.says);
        note_seen(&mut self.talk, &self.says);
        let mut taken = self.taken;
        taken.not_taken.extend(not_taken(self.heard));
        Step { talk: self.talk, says: self.says, wants_person: self.wants_person, forget: self.forget, taken, danger: None }
    }

    /// Takes a fact; a test waits to be judged until the set is known.
    pub fn tell(&mut self, fact: &FactValue) {
        tell_fact(self.world, &mut self.talk.known, fact, self.now);
        self.taken.facts.push(fact.clone());
        self.talk.test_waits |= matches!(fact, FactValue::Test(_));
    }

    /// The field to ask for next. A screen that closes for good with the answer waits for the garden too.
    pub fn wanted(&self) -> Option<Field> {
        let known = &self.talk.known;
        let garden = self.manner.channel == Channel::Ussd && known.sheet.garden_m2.is_none();
        known.most_wanted().or(garden.then_some(Field::Garden))
    }

    pub fn ask(&mut self, field: Field) {
        self.talk.asked = Some(Asked::Field { field });
        self.says.push(Say::Ask { field, beside_answer: false });
    }

    pub fn ask_wanted(&mut self) {
        if let Some(field) = self.wanted() {
            self.ask(field);
        }
    }

    /// Keeps the place by the name it has here; one that is not known, or is only near, is asked about.
    pub fn has_no_place(&mut self, facts: &[FactValue]) -> bool {
        match settle_place(self.world, &mut self.talk.known) {
            Ok(()) => {
                self.place_told = facts.iter().any(|fact| matches!(fact, FactValue::Place(_)));
                self.wants_person |= self.place_told && is_rough(self.world, &self.talk.known);
                false
            }
            Err(unsettled) => {
                let (asked, say) = *unsettled;
                self.taken.facts.retain(|fact| !matches!(fact, FactValue::Place(_)));
                self.talk.misread = 0;
                self.talk.asked = Some(asked);
                self.says.push(say);
                true
            }
        }
    }

    /// Takes the facts that came with a word, then does what the word asks.
    pub fn answer_on(&mut self, facts: &[FactValue], say: impl Fn(&Talk, &Advice) -> Vec<Say>, depth: Depth) {
        facts.iter().for_each(|fact| self.tell(fact));
        if !self.has_no_place(facts) {
            self.answer(say, depth);
        }
    }

    /// Works the sheet out and says it in one way or another; what is missing is asked instead.
    pub fn answer(&mut self, say: impl Fn(&Talk, &Advice) -> Vec<Say>, depth: Depth) {
        let depth = if self.manner.depth == Depth::WithFixes { Depth::WithFixes } else { depth };
        match answer_sheet(self.world, &self.talk.known, depth) {
            Ok(advice) => {
                let mut says = say(&self.talk, &advice);
                let before_safety = says.iter().position(|say| matches!(say, Say::Safety(_) | Say::HighVoltage));
                let at = before_safety.unwrap_or(says.len());
                let has_figures = !says.iter().any(|say| matches!(say, Say::Test(_)))
                    || says.iter().any(|say| matches!(say, Say::Answer { .. }));
                let beside = own_numbers(&advice).filter(|_| has_figures).into_iter();
                says.splice(at..at, beside.chain(whose_climate(self.world, &self.talk.known, self.place_told)));
                self.talk.test_waits = false;
                let guess = says.iter().find_map(|say| match say {
                    Say::AskGuess(guess) => asked_by(*guess),
                    _ => None,
                });
                self.says.extend(says);
                self.taken.advice = Some(Box::new(advice));
                self.talk.page = Some(Page::advice());
                if self.talk.known.sheet.garden_m2.is_none() {
                    self.talk.asked = Some(Asked::Field { field: Field::Garden });
                } else if let Some(field) = guess {
                    self.talk.asked = Some(Asked::Field { field });
                }
            }
            Err(AnswerError::Sizing(SizingError::Missing { .. })) => self.ask_wanted(),
            Err(AnswerError::Pump(PumpGap::HalfALabel | PumpGap::UnknownClass)) => self.ask(Field::Pump),
            Err(AnswerError::NoSet) => {
                self.says.push(Say::NoSet);
                self.talk.asked = Some(Asked::Field { field: Field::Garden });
            }
            Err(AnswerError::UnknownPlace(name)) => {
                let known = self.world.place_names().map(str::to_owned).collect();
                self.says.push(Say::PlaceUnknown { name, known });
            }
            // The message's limits lie inside the engine's, so no value that was taken comes here; a human looks at one that does.
            Err(AnswerError::Sizing(_)) => {
                self.wants_person = true;
                self.says.push(Say::HandedOver);
            }
        }
    }

    /// Tells about a field, and takes a number alone as its answer next.
    pub fn about(&mut self, field: Field) {
        self.says.extend(about(self.world, &self.talk, field));
        self.talk.asked = Some(Asked::Field { field });
    }

    /// Begins to tell something.
    pub fn guide(&mut self, topic: Topic) {
        self.guide_from(topic, 0);
    }

    fn guide_from(&mut self, topic: Topic, at: usize) {
        match guide_step(&self.talk, topic, at) {
            Some((says, page)) => {
                self.says.extend(says);
                self.talk.page = Some(page);
            }
            None => {
                self.talk.page = None;
                self.says.push(Say::NoMore);
            }
        }
    }

    /// Goes on where the last message ended.
    pub fn more(&mut self) {
        if let Some(says) = more_of_topic(self.world, &mut self.talk) {
            self.says.extend(says);
            return;
        }
        match self.talk.page {
            Some(Page { topic, told }) if topic != Topic::Advice => self.guide_from(topic, told),
            Some(Page { told, .. }) if told > 1 => {
                self.talk.page = None;
                self.says.push(Say::NoMore);
            }
            _ => {
                self.answer(say_more, Depth::Answer);
                if let Some(page) = &mut self.talk.page {
                    page.told = 2;
                }
            }
        }
    }
}

/// Opts out: no question waits, and nothing is said of its own accord.
pub fn stop(talk: &mut Talk) {
    talk.stopped = true;
    talk.asked = None;
    talk.page = None;
    talk.reminders.clear();
}

/// What looked like a value and was not taken.
fn not_taken(heard: Heard<'_>) -> impl Iterator<Item = String> {
    let part = |trouble: &Trouble| excerpt(heard.text, trouble.at.start, trouble.at.end);
    heard.reading.troubles.iter().filter_map(move |trouble| {
        let text = part(trouble);
        let is_value =
            trouble.code.is_refusal() || trouble.code == TroubleCode::NotUnderstood && text.chars().any(char::is_numeric);
        is_value.then_some(text)
    })
}

/// The characters of a text from one to another.
pub fn excerpt(text: &str, start: usize, end: usize) -> String {
    text.chars().skip(start).take(end.saturating_sub(start)).collect()
}

/// Words whose answer comes from the sheet.
pub fn uses_sheet(command: Command) -> bool {
    matches!(
        command,
        Command::More | Command::Cost | Command::Change | Command::Sun | Command::When | Command::Test | Command::Remind
    )
}

/// The field whose answer a guess would become.
fn asked_by(guess: Guess) -> Option<Field> {
    match guess {
        Guess::Amps => Some(Field::Pump),
        Guess::PanelV => Some(Field::Panel),
        Guess::BoreMm => Some(Field::Bore),
        Guess::LowM => Some(Field::Low),
        Guess::BucketTest => None,
    }
}
