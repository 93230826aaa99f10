//! The step itself.

use chrono::{DateTime, TimeDelta, Utc};

use super::answer::{AnswerError, Depth, answer_sheet, say_advice, say_more};
use super::buying::{say_changes, say_cost};
use super::known::PumpGap;
use super::placing::{is_rough, settle_place, whose_climate};
use super::say::Say;
use super::spotted::read;
use super::state::{Asked, Talk};
use super::world::World;
use crate::language::{Command, Field};
use crate::message::{FactValue, Reading, Trouble, TroubleCode};
use crate::sizing::{Advice, SizingError};

/// Days after which a sheet is old, and the next message is asked whether it is still the same garden.
const SHEET_OLD_DAYS: i64 = 30;

/// Messages in a row of which nothing was understood, after which a human takes over.
const MISREAD_LIMIT: u8 = 2;

/// Refused values that one reply speaks of.
const REFUSALS: usize = 2;

/// A message, read.
#[derive(Debug, Clone, Copy)]
pub struct Heard<'a> {
    pub text: &'a str,
    pub reading: &'a Reading,
}

/// Where the talk stands now, and what there is to say.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    pub talk: Talk,
    /// Nothing at all after the number has opted out.
    pub says: Vec<Say>,
    pub wants_person: bool,
}

/// Takes one message into a talk at a time.
pub fn step(world: &World, talk: &Talk, heard: Heard<'_>, now: DateTime<Utc>) -> Step {
    let mut next = talk.clone();
    let since_last = talk.last_at.map_or(TimeDelta::zero(), |last| now - last);
    next.last_at = Some(now);
    note_language(&mut next, heard.reading);

    let asks_for = |command: Command| heard.reading.commands.iter().any(|(said, _)| *said == command);
    if talk.stopped {
        if !asks_for(Command::Start) {
            return Step { talk: next, says: Vec::new(), wants_person: false };
        }
        next.stopped = false;
        next.misread = 0;
        return Step { talk: next, says: vec![Say::Started], wants_person: false };
    }
    if asks_for(Command::Stop) {
        next.stopped = true;
        next.asked = None;
        return Step { talk: next, says: vec![Say::Stopped], wants_person: false };
    }

    let mut turn = Turning { world, talk: next, heard, says: Vec::new(), wants_person: false, place_told: false };
    turn.take(since_last);
    if turn.says.is_empty() {
        // Whatever came, a grower is never left without a word.
        turn.says.push(Say::Help);
    }
    Step { talk: turn.talk, says: turn.says, wants_person: turn.wants_person }
}

/// The first language that shows is the talk's own; later only its name changes it.
fn note_language(talk: &mut Talk, reading: &Reading) {
    if (talk.language.is_none() || reading.language_named.is_some()) && reading.language.is_some() {
        talk.language.clone_from(&reading.language);
    }
}

/// A step under way.
struct Turning<'a> {
    world: &'a World,
    talk: Talk,
    heard: Heard<'a>,
    says: Vec<Say>,
    wants_person: bool,
    /// The place was told in this message.
    place_told: bool,
}

impl Turning<'_> {
    fn take(&mut self, since_last: TimeDelta) {
        let reading = self.heard.reading;
        let facts: Vec<FactValue> = reading.facts.iter().map(|fact| fact.value.clone()).collect();
        let asked = self.talk.asked.take();

        if self.commanded(asked.as_ref(), &facts) {
            self.talk.misread = 0;
            return;
        }
        if let Some(Asked::StillSame { .. }) = asked {
            // Neither yes nor no: whatever came now is about the garden as it is now.
            self.talk.misread = 0;
        } else if since_last > TimeDelta::days(SHEET_OLD_DAYS) && !self.talk.known.is_empty() && !facts.is_empty() {
            self.talk.asked = Some(Asked::StillSame { facts });
            self.says.push(Say::StillSame);
            return;
        }
        self.told(&facts);
    }

    /// Does what a word asks; false when the message is to be taken as facts.
    fn commanded(&mut self, asked: Option<&Asked>, facts: &[FactValue]) -> bool {
        let said: Vec<Command> = self.heard.reading.commands.iter().map(|(command, _)| *command).collect();
        for command in &said {
            match command {
                Command::Yes => return self.agreed(asked, facts),
                Command::No => return self.denied(asked, facts),
                Command::Help => self.says.push(Say::Help),
                Command::Start => self.says.push(Say::Started),
                Command::Person => {
                    self.wants_person = true;
                    self.says.push(Say::HandedOver);
                }
                Command::New => {
                    self.renew();
                    if facts.is_empty() {
                        self.says.push(Say::NewSheet);
                        self.ask_most_wanted();
                    } else {
                        self.told(facts);
                    }
                }
                Command::Forget => {
                    self.talk.asked = Some(Asked::Forget);
                    self.says.push(Say::ForgetSure);
                }
                Command::More => self.answer_on(facts, say_more, Depth::Answer),
                Command::Change => self.answer_on(facts, say_changes, Depth::WithFixes),
                Command::Cost => self.answer_on(facts, say_cost, Depth::Answer),
                // Words whose answers other steps give once they know how.
                _ => continue,
            }
            return true;
        }
        false
    }

    fn renew(&mut self) {
        self.talk.known = super::known::Known::default();
        self.talk.doubted.clear();
    }

    fn agreed(&mut self, asked: Option<&Asked>, facts: &[FactValue]) -> bool {
        match asked {
            Some(Asked::DidYouMean { facts: meant } | Asked::StillSame { facts: meant }) => {
                let all: Vec<FactValue> = meant.iter().chain(facts).cloned().collect();
                self.told(&all);
            }
            Some(Asked::Unusual { .. }) => self.told(facts),
            Some(Asked::Forget) => {
                self.talk = Talk { last_at: None, language: self.talk.language.clone(), ..Talk::default() };
                self.says.push(Say::Forgotten);
            }
            Some(Asked::Field { .. }) | None => return false,
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
            Some(Asked::StillSame { facts: meanwhile }) => {
                self.renew();
                let all: Vec<FactValue> = meanwhile.iter().chain(facts).cloned().collect();
                self.told(&all);
            }
            Some(Asked::DidYouMean { facts: meant }) if facts.is_empty() && matches!(meant[..], [FactValue::Place(_)]) => {
                self.ask(Field::Place);
            }
            Some(Asked::DidYouMean { .. } | Asked::Forget) => {
                if facts.is_empty() {
                    self.says.push(Say::Help);
                } else {
                    self.told(facts);
                }
            }
            Some(Asked::Field { .. }) | None => return false,
        }
        true
    }

    /// Takes facts, then asks or answers.
    fn told(&mut self, facts: &[FactValue]) {
        let reading = self.heard.reading;
        for fact in facts {
            self.talk.known.tell(fact);
        }
        for guess in &reading.assumed_words {
            self.says.push(Say::TookWord(guess.taken_for.clone()));
        }
        if self.has_no_place(facts) {
            return;
        }
        // Two at once are as much as one message can mend.
        let mut refused: Vec<&Trouble> = Vec::new();
        for trouble in reading.troubles.iter().filter(|trouble| trouble.code.is_refusal()) {
            let same = |other: &&Trouble| other.field == trouble.field && other.code.code() == trouble.code.code();
            if refused.len() < REFUSALS && !refused.iter().any(same) {
                refused.push(trouble);
            }
        }
        if let Some(first) = refused.first() {
            self.talk.misread = 0;
            self.says.extend(refused.iter().map(|trouble| Say::Refused((*trouble).clone())));
            if !facts.is_empty() {
                self.says.push(Say::Told(Box::new(self.talk.known.clone())));
            }
            self.talk.asked = first.field.map(|field| Asked::Field { field });
            return;
        }
        if let Some(near) = reading.near.first() {
            self.did_you_mean(near.at, near.could_be.first());
            return;
        }
        if facts.is_empty() && !self.understood_something() {
            self.misread();
            return;
        }
        self.talk.misread = 0;
        if let Some(doubt) = self.next_doubt() {
            self.says.push(Say::IsItRight(doubt));
            return;
        }
        if let Some(field) = self.talk.known.most_wanted() {
            if !facts.is_empty() {
                self.says.push(Say::Told(Box::new(self.talk.known.clone())));
            }
            self.says.extend(whose_climate(self.world, &self.talk.known, true).filter(|_| self.place_told));
            self.ask(field);
            self.pass_over();
            return;
        }
        self.answer(say_advice, Depth::Answer);
        self.pass_over();
    }

    /// A field named alone, or a question answered by `yes` to something that needed none, still leads on.
    fn understood_something(&self) -> bool {
        let reading = self.heard.reading;
        !reading.asks.is_empty() || !reading.commands.is_empty() || reading.language_named.is_some()
    }

    fn misread(&mut self) {
        self.talk.misread = self.talk.misread.saturating_add(1);
        if self.talk.misread >= MISREAD_LIMIT {
            self.talk.misread = 0;
            self.wants_person = true;
            self.says.push(Say::HandedOver);
        } else if self.heard.reading.commands.is_empty() && self.talk.known.is_empty() {
            self.says.push(Say::NothingUnderstood);
        } else {
            self.says.push(Say::NothingUnderstood);
            self.ask_most_wanted();
        }
    }

    fn ask(&mut self, field: Field) {
        self.talk.asked = Some(Asked::Field { field });
        self.says.push(Say::Ask { field, beside_answer: false });
    }

    fn ask_most_wanted(&mut self) {
        if let Some(field) = self.talk.known.most_wanted() {
            self.ask(field);
        }
    }

    fn pass_over(&mut self) {
        let words: Vec<String> = self
            .heard
            .reading
            .troubles
            .iter()
            .filter(|trouble| trouble.code == TroubleCode::NotUnderstood)
            .map(|trouble| excerpt(self.heard.text, trouble.at.start, trouble.at.end))
            .collect();
        if !words.is_empty() {
            self.says.push(Say::PassedOver(words));
        }
    }

    /// An unusual value that was not asked back before.
    fn next_doubt(&mut self) -> Option<Trouble> {
        let doubt = self.heard.reading.troubles.iter().find(|trouble| {
            matches!(trouble.code, TroubleCode::Unusual { .. } | TroubleCode::LowBelowLift { .. })
                && trouble.field.is_some_and(|field| !self.talk.doubted.contains(&field))
        })?;
        let field = doubt.field?;
        self.talk.doubted.push(field);
        self.talk.asked = Some(Asked::Unusual { field });
        Some(doubt.clone())
    }

    /// Asks whether a mistyped word was meant so, keeping what the message says when read that way.
    fn did_you_mean(&mut self, at: crate::message::Span, meant: Option<&String>) {
        let Some(meant) = meant else {
            self.misread();
            return;
        };
        let chars: Vec<char> = self.heard.text.chars().collect();
        let corrected: String = chars[..at.start.min(chars.len())]
            .iter()
            .copied()
            .chain(meant.chars())
            .chain(chars[at.end.min(chars.len())..].iter().copied())
            .collect();
        let language = self.talk.language.as_deref().unwrap_or(&self.world.home_language);
        let reading = read(&corrected, &self.world.languages, language, None);
        self.talk.misread = 0;
        self.talk.asked = Some(Asked::DidYouMean { facts: reading.facts.into_iter().map(|fact| fact.value).collect() });
        let word = excerpt(self.heard.text, at.start, at.end);
        self.says.push(Say::DidYouMean { word, meant: meant.clone() });
    }

    /// Keeps the place by the name it has here; one that is not known, or is only near, is asked about.
    fn has_no_place(&mut self, facts: &[FactValue]) -> bool {
        match settle_place(self.world, &mut self.talk.known) {
            Ok(()) => {
                self.place_told = facts.iter().any(|fact| matches!(fact, FactValue::Place(_)));
                self.wants_person |= self.place_told && is_rough(self.world, &self.talk.known);
                false
            }
            Err((asked, say)) => {
                self.talk.misread = 0;
                self.talk.asked = Some(asked);
                self.says.push(say);
                true
            }
        }
    }

    /// Takes the facts that came with a word, then does what the word asks.
    fn answer_on(&mut self, facts: &[FactValue], say: fn(&Talk, &Advice) -> Vec<Say>, depth: Depth) {
        facts.iter().for_each(|fact| self.talk.known.tell(fact));
        if !self.has_no_place(facts) {
            self.answer(say, depth);
        }
    }

    /// Works the sheet out and says it in one way or another; what is missing is asked instead.
    fn answer(&mut self, say: fn(&Talk, &Advice) -> Vec<Say>, depth: Depth) {
        match answer_sheet(self.world, &self.talk.known, depth) {
            Ok(advice) => {
                let mut says = say(&self.talk, &advice);
                let before_safety = says.iter().position(|say| matches!(say, Say::Safety(_) | Say::HighVoltage));
                let at = before_safety.unwrap_or(says.len());
                says.splice(at..at, whose_climate(self.world, &self.talk.known, self.place_told));
                self.says.extend(says);
                self.talk.advices = self.talk.advices.wrapping_add(1);
                if self.talk.known.sheet.garden_m2.is_none() {
                    self.talk.asked = Some(Asked::Field { field: Field::Garden });
                }
            }
            Err(AnswerError::Sizing(SizingError::Missing { .. })) => self.ask_most_wanted(),
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
}

/// The characters of a text from one to another.
fn excerpt(text: &str, start: usize, end: usize) -> String {
    text.chars().skip(start).take(end.saturating_sub(start)).collect()
}
