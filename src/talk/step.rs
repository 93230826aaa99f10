//! The step itself: opting out and in, the words that do something, everything else as facts.

use chrono::{DateTime, TimeDelta, Utc};

use super::answer::Depth;
use super::buying::{say_changes, say_cost};
use super::gallon;
use super::guide::Topic;
use super::known::Known;
use super::safety::note_seen;
use super::say::Say;
use super::state::{Asked, Channel, Talk};
use super::world::World;
use crate::language::{Command, DangerKind, Field};
use crate::message::{FactValue, Reading};

/// Days after which a sheet is old, and the next message is asked whether it is still the same garden.
pub(super) const SHEET_OLD_DAYS: i64 = 30;

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
}

/// Takes one short message into a talk at a time.
pub fn step(world: &World, talk: &Talk, heard: Heard<'_>, now: DateTime<Utc>) -> Step {
    // A message goes on where a screen was left: what it showed no longer waits.
    let talk = Talk { ussd: None, ..talk.clone() };
    step_by(world, &talk, heard, now, Channel::Sms)
}

/// The same for any channel.
pub(super) fn step_by(world: &World, talk: &Talk, heard: Heard<'_>, now: DateTime<Utc>, channel: Channel) -> Step {
    let mut next = talk.clone();
    let since_last = talk.last_at.map_or(TimeDelta::zero(), |last| now - last);
    next.last_at = Some(now);
    note_language(&mut next, heard.reading);

    let asks_for = |command: Command| heard.reading.commands.iter().any(|(said, _)| *said == command);
    if talk.stopped {
        return while_stopped(next, asks_for(Command::Start), asks_for(Command::Forget));
    }
    if asks_for(Command::Stop) {
        stop(&mut next);
        return Step { talk: next, says: vec![Say::Stopped], ..Step::default() };
    }

    let mut turn = Turning::new(world, next, heard, channel, now);
    turn.take(since_last);
    turn.done()
}

/// Opts out: no question waits, and nothing is said of its own accord.
fn stop(talk: &mut Talk) {
    talk.stopped = true;
    talk.asked = None;
    talk.page = None;
    talk.reminders.clear();
}

/// A number that has opted out hears nothing, so `forget` cannot ask back: it deletes at once.
fn while_stopped(mut talk: Talk, starts: bool, forget: bool) -> Step {
    if starts {
        talk.stopped = false;
        talk.misread = 0;
        return Step { talk, says: vec![Say::Started], ..Step::default() };
    }
    Step { talk, forget, ..Step::default() }
}

/// The first language that shows is the talk's own; later only its name changes it.
fn note_language(talk: &mut Talk, reading: &Reading) {
    if (talk.language.is_none() || reading.language_named.is_some()) && reading.language.is_some() {
        talk.language.clone_from(&reading.language);
    }
}

/// A step under way.
pub(super) struct Turning<'a> {
    pub world: &'a World,
    pub talk: Talk,
    pub heard: Heard<'a>,
    pub channel: Channel,
    pub now: DateTime<Utc>,
    pub says: Vec<Say>,
    pub wants_person: bool,
    pub forget: bool,
    /// This message told the place.
    pub place_told: bool,
}

impl<'a> Turning<'a> {
    pub fn new(world: &'a World, talk: Talk, heard: Heard<'a>, channel: Channel, now: DateTime<Utc>) -> Self {
        let (says, wants_person, forget, place_told) = (Vec::new(), false, false, false);
        Turning { world, talk, heard, channel, now, says, wants_person, forget, place_told }
    }

    pub fn done(mut self) -> Step {
        if self.says.is_empty() && self.channel == Channel::Sms {
            // Whatever came, a grower is never left without a word.
            self.guide(Topic::Help);
        }
        note_seen(&mut self.talk, &self.says);
        Step { talk: self.talk, says: self.says, wants_person: self.wants_person, forget: self.forget, danger: None }
    }

    fn take(&mut self, since_last: TimeDelta) {
        let reading = self.heard.reading;
        let asked = self.talk.asked.take();
        // A flow in this very message is the newer one.
        let told = reading.facts.iter().map(|fact| fact.value.clone());
        let facts: Vec<FactValue> = gallon::settled(asked.as_ref(), reading).into_iter().chain(told).collect();
        let command = reading.commands.iter().map(|(command, _)| *command).find(|command| uses_sheet(*command));

        let is_old = since_last > TimeDelta::days(SHEET_OLD_DAYS) && !self.talk.known.is_empty();
        let renews = reading.commands.iter().any(|(command, _)| *command == Command::New);
        let takes_back = command == Some(Command::Remind) && reading.commands.iter().any(|(said, _)| *said == Command::No);
        if is_old && !renews && !takes_back && (!facts.is_empty() || !reading.asks.is_empty() || command.is_some()) {
            self.talk.misread = 0;
            self.talk.asked = Some(Asked::StillSame { facts, command });
            self.says.push(Say::StillSame);
            return;
        }
        if self.commanded(asked.as_ref(), &facts) {
            self.talk.misread = 0;
            return;
        }
        self.told(&facts);
    }

    /// Does what the first word that asks for something asks; false when the message is to be taken as facts.
    fn commanded(&mut self, asked: Option<&Asked>, facts: &[FactValue]) -> bool {
        let reading = self.heard.reading;
        // "no remind" answers no question: the no belongs to the reminders.
        if reading.commands.iter().any(|(command, _)| *command == Command::Remind) {
            return self.word(Command::Remind, asked, facts).unwrap_or(false);
        }
        reading.commands.iter().find_map(|(command, _)| self.word(*command, asked, facts)).unwrap_or(false)
    }

    /// Does what a word asks. None for a word that other steps answer; some words only answer a question, and say false
    /// where none was asked.
    fn word(&mut self, command: Command, asked: Option<&Asked>, facts: &[FactValue]) -> Option<bool> {
        if matches!(command, Command::Help | Command::Setup | Command::Care | Command::More | Command::Person) {
            // The question still waits: a number alone answers it after this too.
            self.talk.asked = asked.filter(|asked| matches!(asked, Asked::Field { .. } | Asked::Gallon { .. })).cloned();
        }
        match command {
            Command::Yes => return Some(self.agreed(asked, facts)),
            Command::No => return Some(self.denied(asked, facts)),
            Command::Help => self.guide(Topic::Help),
            Command::Setup => self.guide(Topic::Setup),
            Command::Care => self.guide(Topic::Care),
            Command::Start => self.says.push(Say::Started),
            Command::Person => {
                self.wants_person = true;
                self.says.push(Say::HandedOver);
            }
            Command::New => {
                self.renew();
                if facts.is_empty() {
                    self.says.push(Say::NewSheet);
                    self.ask_wanted();
                } else {
                    self.told(facts);
                }
            }
            Command::Forget => {
                self.talk.asked = Some(Asked::Forget);
                self.says.push(Say::ForgetSure);
            }
            Command::More => {
                for fact in facts {
                    self.tell(fact);
                }
                self.more();
            }
            Command::Change => self.answer_on(facts, say_changes, Depth::WithFixes),
            Command::Cost => self.answer_on(facts, say_cost, Depth::Answer),
            Command::Sun => self.before_plan(facts, Turning::stances),
            Command::When => self.before_plan(facts, Turning::good_hours),
            Command::Remind => self.before_plan(facts, Turning::remind),
            // Without litres and seconds: how a test is made.
            Command::Test => self.guide(Topic::Test),
            Command::Stop => return None,
        }
        Some(true)
    }

    /// Takes the facts that came with a word for the day's plan.
    fn before_plan(&mut self, facts: &[FactValue], plan: fn(&mut Self)) {
        facts.iter().for_each(|fact| self.tell(fact));
        if !self.has_no_place(facts) {
            plan(self);
        }
    }

    fn renew(&mut self) {
        self.talk.known = Known::default();
        self.talk.doubted.clear();
        self.talk.test_waits = false;
        self.talk.page = None;
    }

    fn agreed(&mut self, asked: Option<&Asked>, facts: &[FactValue]) -> bool {
        match asked {
            Some(Asked::DidYouMean { command: Some(Command::Stop), .. }) => {
                stop(&mut self.talk);
                self.says.push(Say::Stopped);
            }
            Some(Asked::DidYouMean { facts: meant, command: None } | Asked::StillSame { facts: meant, command: None }) => {
                let all: Vec<FactValue> = meant.iter().chain(facts).cloned().collect();
                self.told(&all);
            }
            Some(
                Asked::DidYouMean { facts: meant, command: Some(command) }
                | Asked::StillSame { facts: meant, command: Some(command) },
            ) => {
                let all: Vec<FactValue> = meant.iter().chain(facts).cloned().collect();
                if self.word(*command, None, &all).is_none() {
                    self.told(&all);
                }
            }
            Some(Asked::Unusual { .. }) => self.told(facts),
            Some(Asked::Forget) => {
                self.forget = true;
                self.says.push(Say::Forgotten);
            }
            Some(Asked::Field { .. } | Asked::Gallon { .. }) | None => return false,
        }
        true
    }

    fn denied(&mut self, asked: Option<&Asked>, facts: &[FactValue]) -> bool {
        match asked {
            Some(Asked::Unusual { field }) => {
                self.talk.known.untell(*field);
                self.talk.doubted.retain(|doubted| doubted != field);
                if facts.is_empty() {
                    self.ask(*field);
                } else {
                    self.told(facts);
                }
            }
            Some(Asked::StillSame { facts: meanwhile, .. }) => {
                self.renew();
                let all: Vec<FactValue> = meanwhile.iter().chain(facts).cloned().collect();
                self.told(&all);
            }
            Some(Asked::Forget) => self.says.push(Say::Kept),
            Some(Asked::DidYouMean { facts: meant, .. })
                if facts.is_empty() && matches!(meant[..], [FactValue::Place(_)]) =>
            {
                self.ask(Field::Place);
            }
            Some(Asked::DidYouMean { .. }) if facts.is_empty() => match self.wanted() {
                Some(field) => self.ask(field),
                None => self.guide(Topic::Help),
            },
            Some(Asked::DidYouMean { .. }) => self.told(facts),
            Some(Asked::Field { .. } | Asked::Gallon { .. }) | None => return false,
        }
        true
    }
}

/// Words whose answer comes from the sheet.
fn uses_sheet(command: Command) -> bool {
    matches!(
        command,
        Command::More | Command::Cost | Command::Change | Command::Sun | Command::When | Command::Test | Command::Remind
    )
}
