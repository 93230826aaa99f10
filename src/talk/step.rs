//! The step itself: opting out and in, the words that do something, everything else as facts.

use chrono::{DateTime, TimeDelta, Utc};

use super::advising::Depth;
use super::asking::{chosen, take_sentence};
use super::buying::{say_changes, say_cost};
use super::day::{month_of, say_when, stances};
use super::faults;
use super::gallon;
use super::known::Known;
use super::reminding;
use super::say::Say;
use super::state::{Asked, Channel, Talk};
use super::told::{answered_without_value, ask_or_answer, told};
use super::topic::Topic;
use super::turning::{Heard, Manner, SHEET_OLD_DAYS, Step, Taken, Turning, stop, uses_sheet};
use super::what_if;
use super::world::World;
use crate::language::{Command, Field};
use crate::message::{FactValue, Reading};

/// Takes one message into a talk at a time.
pub fn step(world: &World, talk: &Talk, heard: Heard<'_>, manner: Manner, now: DateTime<Utc>) -> Step {
    // A message goes on where a screen was left: what it showed no longer waits.
    let talk = Talk { ussd: None, ..talk.clone() };
    step_by(world, &talk, heard, manner, now)
}

/// What there is to say to a sheet as it is known, with no message: the answer, or the first question.
pub fn say_sheet(world: &World, talk: &Talk, now: DateTime<Utc>) -> Step {
    let talk = Talk { ussd: None, asked: None, test_waits: false, ..talk.clone() };
    let heard = Heard { text: "", reading: &Reading::default() };
    let mut turn = Turning::new(world, talk, heard, Channel::Sms.into(), now);
    if !turn.has_no_place(&[]) {
        ask_or_answer(&mut turn);
    }
    turn.done()
}

/// The same for a screen too.
pub(super) fn step_by(world: &World, talk: &Talk, heard: Heard<'_>, manner: Manner, now: DateTime<Utc>) -> Step {
    let mut next = talk.clone();
    let since_last = talk.last_at.map_or(TimeDelta::zero(), |last| now - last);
    next.last_at = Some(now);
    note_language(&mut next, heard.reading);

    let asks_for = |command: Command| heard.reading.commands.iter().any(|(said, _)| *said == command);
    if talk.stopped {
        return while_stopped(next, asks_for(Command::Start), asks_for(Command::Forget));
    }
    if manner.channel == Channel::Alone
        && let Some((word, _)) = heard.reading.commands.iter().find(|(word, _)| lives_in_a_talk(*word))
    {
        let taken = Taken { only_in_talk: Some(*word), ..Taken::of(heard.reading) };
        let wants_person = *word == Command::Person;
        return Step { talk: next, says: vec![Say::OnlyInTalk(*word)], wants_person, taken, ..Step::default() };
    }
    if asks_for(Command::Stop) {
        stop(&mut next);
        let taken = Taken::of(heard.reading);
        return Step { talk: next, says: vec![Say::Stopped], taken, ..Step::default() };
    }

    let mut turn = Turning::new(world, next, heard, manner, now);
    turn.take(since_last);
    turn.done()
}

/// Words that change or promise something which a message by itself does not have.
fn lives_in_a_talk(word: Command) -> bool {
    matches!(word, Command::Stop | Command::Start | Command::Forget | Command::Person | Command::Remind)
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

/// The first language that shows is the talk's own; later its name changes it, or a whole message in another. Which gallons
/// were meant may be said by a language's name.
fn note_language(talk: &mut Talk, reading: &Reading) {
    let gallons = matches!(talk.asked, Some(Asked::Gallon { .. })) && reading.gallon.is_some();
    let changes = talk.language.is_none() || (reading.language_named.is_some() && !gallons) || reading.language_is_whole;
    if changes && reading.language.is_some() {
        talk.language.clone_from(&reading.language);
    }
}

impl Turning<'_> {
    fn take(&mut self, since_last: TimeDelta) {
        let reading = self.heard.reading;
        let asked = self.talk.asked.take();
        // A flow in this very message is the newer one.
        let said = reading.facts.iter().map(|fact| fact.value.clone());
        let facts: Vec<FactValue> = gallon::settled(asked.as_ref(), reading).into_iter().chain(said).collect();
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
        if let Some(Asked::Unusual { field }) = asked
            && self.still_in_doubt(field, &facts)
        {
            return;
        }
        // Of a set that is told whole it can be worked out; else what is asked is a matter of the topics.
        if !reading.supposed.is_empty() && self.talk.known.most_wanted().is_none() {
            self.talk.misread = 0;
            let supposed: Vec<FactValue> = reading.supposed.iter().map(|fact| fact.value.clone()).collect();
            facts.iter().for_each(|fact| self.tell(fact));
            what_if::compare(self, &supposed);
            return;
        }
        if let (Some((answer, _)), true) = (reading.answer, facts.is_empty())
            && reading.troubles.iter().all(|trouble| !trouble.code.is_refusal())
            && answered_without_value(self, answer, asked.as_ref())
        {
            return;
        }
        if !reading.commands.iter().any(|(command, _)| *command == Command::More) {
            self.talk.topic_page = None;
        }
        if chosen(self, asked.as_ref()) {
            return;
        }
        if let Some(Asked::Unusual { field }) = asked
            && self.still_in_doubt(field, &facts)
        {
            return;
        }
        if self.commanded(asked.as_ref(), &facts) {
            self.talk.misread = 0;
            return;
        }
        let says_nothing = facts.is_empty() && reading.asks.is_empty() && reading.commands.is_empty();
        let is_plain = reading.near.is_empty() && !reading.troubles.iter().any(|trouble| trouble.code.is_refusal());
        if reading.is_sentence || says_nothing && is_plain && reading.language_named.is_none() {
            return take_sentence(self, &facts);
        }
        told(self, &facts);
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
            self.talk.asked = asked
                .filter(|asked| matches!(asked, Asked::Field { .. } | Asked::Gallon { .. } | Asked::Fault { .. }))
                .cloned();
        }
        match command {
            Command::Yes => return Some(self.agreed(asked, facts)),
            Command::No => return Some(self.denied(asked, facts)),
            // What was told beside such a word is served first, and the word named as the next one.
            Command::Help | Command::Setup | Command::Care | Command::Test if !facts.is_empty() => {
                told(self, facts);
                self.says.retain(|say| !matches!(say, Say::NextWord(_)));
                self.says.push(Say::NextWord(command));
            }
            Command::Help => self.guide(Topic::Help),
            Command::Setup => self.guide(Topic::Setup),
            Command::Care => self.guide(Topic::Care),
            // Without litres and seconds: how a test is made.
            Command::Test => self.guide(Topic::Test),
            Command::Start if facts.is_empty() => self.says.push(Say::Started),
            Command::Start => told(self, facts),
            Command::Person => {
                facts.iter().for_each(|fact| self.tell(fact));
                if !facts.is_empty() && !self.has_no_place(facts) {
                    self.says.push(Say::Told(Box::new(self.talk.known.clone())));
                }
                self.wants_person = true;
                self.says.push(Say::HandedOver);
            }
            Command::New => {
                self.renew();
                if facts.is_empty() {
                    self.says.push(Say::NewSheet);
                    self.ask_wanted();
                } else {
                    told(self, facts);
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

    /// Which way the panels look and when the cart is turned; needs nothing but the place.
    fn stances(&mut self) {
        self.says.extend(stances(self.world, &self.talk, self.now));
    }

    /// The good hours of a bright day and the days between waterings, in the month asked for or this one.
    fn good_hours(&mut self) {
        let told = self.talk.known.sheet.month;
        self.talk.known.sheet.month = Some(month_of(self.world, &self.talk, self.now));
        let world = self.world;
        self.answer(|talk, advice| say_when(world, talk, advice), Depth::Answer);
        self.talk.known.sheet.month = told;
    }

    /// Sets the reminders that were asked for, all without a word for one; with `no`, takes them back.
    fn remind(&mut self) {
        let kinds = reminding::asked_for(self.heard.reading);
        if self.heard.reading.commands.iter().any(|(command, _)| *command == Command::No) {
            self.says.push(reminding::take_back(&mut self.talk, &kinds));
            return;
        }
        let set = reminding::set(self.world, &mut self.talk, &kinds, self.now);
        self.says.extend(set.says);
        if set.wants_set {
            self.ask_wanted();
        }
        self.says.extend(reminding::caution(&self.talk));
    }

    fn renew(&mut self) {
        self.talk.known = Known::default();
        self.talk.doubted.clear();
        self.talk.explained.clear();
        self.talk.test_waits = false;
        self.talk.page = None;
        self.talk.search = None;
    }

    fn agreed(&mut self, asked: Option<&Asked>, facts: &[FactValue]) -> bool {
        match asked {
            Some(Asked::DidYouMean { command: Some(Command::Stop), .. }) => {
                stop(&mut self.talk);
                self.says.push(Say::Stopped);
            }
            Some(Asked::DidYouMean { facts: meant, command: None } | Asked::StillSame { facts: meant, command: None }) => {
                let all: Vec<FactValue> = meant.iter().chain(facts).cloned().collect();
                told(self, &all);
            }
            Some(
                Asked::DidYouMean { facts: meant, command: Some(command) }
                | Asked::StillSame { facts: meant, command: Some(command) },
            ) => {
                let all: Vec<FactValue> = meant.iter().chain(facts).cloned().collect();
                if self.word(*command, None, &all).is_none() {
                    told(self, &all);
                }
            }
            Some(Asked::Unusual { .. }) => told(self, facts),
            Some(Asked::Fault { step }) => faults::answered(self, step, true),
            Some(Asked::WhatIf { facts: changed }) => {
                let all: Vec<FactValue> = changed.iter().chain(facts).cloned().collect();
                told(self, &all);
            }
            Some(Asked::Forget) => {
                self.forget = true;
                self.says.push(Say::Forgotten);
            }
            Some(Asked::Field { .. } | Asked::Gallon { .. } | Asked::WhichTopic { .. }) | None => return false,
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
                    told(self, facts);
                }
            }
            Some(Asked::StillSame { facts: meanwhile, .. }) => {
                self.renew();
                let all: Vec<FactValue> = meanwhile.iter().chain(facts).cloned().collect();
                told(self, &all);
            }
            Some(Asked::Forget) => self.says.push(Say::Kept),
            Some(Asked::Fault { step }) => faults::answered(self, step, false),
            Some(Asked::WhatIf { .. }) if facts.is_empty() => self.says.push(Say::SheetKept),
            Some(Asked::WhatIf { .. }) => told(self, facts),
            Some(Asked::DidYouMean { facts: meant, .. })
                if facts.is_empty() && matches!(meant[..], [FactValue::Place(_)]) =>
            {
                self.ask(Field::Place);
            }
            Some(Asked::DidYouMean { .. }) if facts.is_empty() => match self.wanted() {
                Some(field) => self.ask(field),
                None => self.guide(Topic::Help),
            },
            Some(Asked::DidYouMean { .. }) => told(self, facts),
            Some(Asked::Field { .. } | Asked::Gallon { .. } | Asked::WhichTopic { .. }) | None => return false,
        }
        true
    }
}
