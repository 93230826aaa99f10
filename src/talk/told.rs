//! Facts taken into a talk: doubted, asked after, answered.

use super::answer::{AnswerError, Depth, answer_sheet, say_advice};
use super::gallon::asked_after;
use super::guide::{Page, Topic};
use super::known::PumpGap;
use super::placing::{is_rough, settle_place, whose_climate};
use super::say::Say;
use super::state::{Asked, Channel, Talk};
use super::step::{Turning, excerpt};
use super::testing::{own_numbers, say_test, tell_fact};
use crate::language::Field;
use crate::message::{FactValue, Trouble, TroubleCode, read};
use crate::sizing::{Advice, SizingError};

/// Messages in a row of which nothing was understood, after which a human takes over.
const MISREAD_LIMIT: u8 = 2;

/// Refusals that one message explains; the rest come up when it is sent again.
const REFUSALS: usize = 2;

impl Turning<'_> {
    /// Takes facts, then asks or answers.
    pub(super) fn told(&mut self, facts: &[FactValue]) {
        let reading = self.heard.reading;
        for fact in facts {
            self.tell(fact);
        }
        for guess in &reading.assumed_words {
            self.says.push(Say::TookWord(guess.taken_for.clone()));
        }
        if self.has_no_place(facts) {
            return;
        }
        let mut refused: Vec<&Trouble> = Vec::new();
        for trouble in reading.troubles.iter().filter(|trouble| trouble.code.is_refusal()) {
            let same = |other: &&Trouble| other.field == trouble.field && other.code.code() == trouble.code.code();
            if !refused.iter().any(same) {
                refused.push(trouble);
            }
        }
        // A mistyped word may say which field the numbers beside it are.
        let asks_which = |trouble: &&Trouble| matches!(trouble.code, TroubleCode::WhichField { .. });
        if !reading.near.is_empty() && refused.iter().all(asks_which) {
            refused.clear();
        }
        if let Some(first) = refused.first() {
            self.talk.misread = 0;
            let most = if self.manner.channel == Channel::Ussd { 1 } else { REFUSALS };
            self.says.extend(refused.iter().take(most).map(|trouble| Say::Refused((*trouble).clone())));
            if !facts.is_empty() {
                self.says.push(Say::Told(Box::new(self.talk.known.clone())));
            }
            self.talk.asked = asked_after(first);
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
        if reading.troubles.iter().any(|trouble| trouble.code == TroubleCode::TooLong) {
            self.says.push(Say::OnlyStartRead);
        }
        // Of a message by itself nobody is there to say that it is right: the answer stands, and that beside it.
        if self.manner.channel != Channel::Alone
            && let Some(doubt) = self.next_doubt()
        {
            self.says.push(Say::IsItRight(doubt));
            return;
        }
        if let Some((field, _)) = reading.asks.first() {
            if !facts.is_empty() {
                self.says.push(Say::Told(Box::new(self.talk.known.clone())));
            }
            self.about(*field);
            return;
        }
        let more_than_tests = facts.iter().any(|fact| !matches!(fact, FactValue::Test(_)));
        if more_than_tests && (self.wanted().is_some() || self.talk.test_waits) {
            self.says.push(Say::Told(Box::new(self.talk.known.clone())));
            self.says.extend(whose_climate(self.world, &self.talk.known, true).filter(|_| self.place_told));
        }
        self.ask_or_answer();
        if self.manner.channel == Channel::Alone {
            let doubt = self.doubts().next().cloned();
            self.says.extend(doubt.map(Say::Unusual));
        }
        self.pass_over();
    }

    /// Takes a fact; a test waits to be judged until the set is known.
    pub(super) fn tell(&mut self, fact: &FactValue) {
        tell_fact(self.world, &mut self.talk.known, fact, self.now);
        self.taken.facts.push(fact.clone());
        self.talk.test_waits |= matches!(fact, FactValue::Test(_));
    }

    /// What is missing most, or the answer.
    pub(super) fn ask_or_answer(&mut self) {
        match self.wanted() {
            Some(field) => self.ask(field),
            None if self.talk.test_waits => {
                let world = self.world;
                self.answer(|talk, advice| say_test(world, talk, advice), Depth::Answer);
            }
            None => self.answer(say_advice, Depth::Answer),
        }
    }

    /// A field named alone, or a question answered by `yes` to something that needed none, still leads on.
    fn understood_something(&self) -> bool {
        let reading = self.heard.reading;
        !reading.asks.is_empty() || !reading.commands.is_empty() || reading.language_named.is_some()
    }

    fn misread(&mut self) {
        let reading = self.heard.reading;
        if reading.troubles.is_empty() && reading.near.is_empty() {
            // Only words that carry nothing: a greeting.
            self.talk.misread = 0;
            match self.wanted().filter(|_| !self.talk.known.is_empty()) {
                Some(field) => self.ask(field),
                None => {
                    self.guide(Topic::Help);
                    self.talk.asked = self.wanted().map(|field| Asked::Field { field });
                }
            }
            return;
        }
        self.talk.misread = self.talk.misread.saturating_add(1);
        if self.talk.misread >= MISREAD_LIMIT {
            self.talk.misread = 0;
            self.wants_person = true;
            self.says.push(Say::HandedOver);
        } else if let Some(field) = self.wanted().filter(|_| !self.talk.known.is_empty()) {
            self.says.push(Say::NotUnderstood);
            self.ask(field);
        } else {
            self.says.push(Say::NothingUnderstood);
            self.talk.asked = self.wanted().map(|field| Asked::Field { field });
        }
    }

    /// The field to ask for next. A screen that closes for good with the answer waits for the garden too.
    pub(super) fn wanted(&self) -> Option<Field> {
        let known = &self.talk.known;
        let garden = self.manner.channel == Channel::Ussd && known.sheet.garden_m2.is_none();
        known.most_wanted().or(garden.then_some(Field::Garden))
    }

    pub(super) fn ask(&mut self, field: Field) {
        self.talk.asked = Some(Asked::Field { field });
        self.says.push(Say::Ask { field, beside_answer: false });
    }

    pub(super) fn ask_wanted(&mut self) {
        if let Some(field) = self.wanted() {
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

    /// Unusual values of this message.
    fn doubts(&self) -> impl Iterator<Item = &'_ Trouble> + use<'_> {
        let is_doubt = |code: &TroubleCode| matches!(code, TroubleCode::Unusual { .. } | TroubleCode::LowBelowLift { .. });
        self.heard.reading.troubles.iter().filter(move |trouble| is_doubt(&trouble.code))
    }

    /// An unusual value that was not asked back before.
    fn next_doubt(&mut self) -> Option<Trouble> {
        let is_new = |trouble: &&Trouble| trouble.field.is_some_and(|field| !self.talk.doubted.contains(&field));
        let doubt = self.doubts().find(is_new)?.clone();
        let field = doubt.field?;
        self.talk.doubted.push(field);
        self.talk.asked = Some(Asked::Unusual { field });
        Some(doubt)
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
        let command = reading.commands.first().map(|(command, _)| *command);
        let facts = reading.facts.into_iter().map(|fact| fact.value).collect();
        self.talk.asked = Some(Asked::DidYouMean { facts, command });
        let word = excerpt(self.heard.text, at.start, at.end);
        self.says.push(Say::DidYouMean { word, meant: meant.clone() });
    }

    /// Keeps the place by the name it has here; one that is not known, or is only near, is asked about.
    pub(super) fn has_no_place(&mut self, facts: &[FactValue]) -> bool {
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
    pub(super) fn answer_on(&mut self, facts: &[FactValue], say: impl Fn(&Talk, &Advice) -> Vec<Say>, depth: Depth) {
        facts.iter().for_each(|fact| self.tell(fact));
        if !self.has_no_place(facts) {
            self.answer(say, depth);
        }
    }

    /// Works the sheet out and says it in one way or another; what is missing is asked instead.
    pub(super) fn answer(&mut self, say: impl Fn(&Talk, &Advice) -> Vec<Say>, depth: Depth) {
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
                self.says.extend(says);
                self.taken.advice = Some(Box::new(advice));
                self.talk.page = Some(Page::advice());
                if self.talk.known.sheet.garden_m2.is_none() {
                    self.talk.asked = Some(Asked::Field { field: Field::Garden });
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
}
