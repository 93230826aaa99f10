//! What a message asks in words: which topic it is, its answer, and what becomes of one that nobody understands.

use super::answer::Depth;
use super::buying::say_cost;
use super::say::Say;
use super::state::{Asked, Channel, TopicPage};
use super::step::Turning;
use crate::language::Command;
use crate::message::FactValue;
use crate::topics::{claimed, offered};

/// Turns in a row that may not get on before a person is told.
const STUMBLES: u8 = 2;

/// Most parts of one message that are answered in turn.
const ANSWERED: usize = 2;

impl Turning<'_> {
    /// The topics that a sentence asks about.
    pub(super) fn topics_asked(&self) -> Vec<String> {
        let text = self.heard.text;
        let Some(language) = self.language_place() else { return Vec::new() };
        let of = |part: &str| {
            claimed(&self.world.topics.ranked(part, language)).into_iter().map(str::to_owned).collect::<Vec<_>>()
        };
        let parts: Vec<&str> = text.split(['?', '!', '\n', ';']).flat_map(|part| part.split(". ")).collect();
        let long = parts.iter().filter(|part| part.split_whitespace().count() >= 3).count();
        let mut found = if long > 1 { parts.iter().flat_map(|part| of(part)).collect() } else { of(text) };
        let mut seen = Vec::new();
        found.retain(|topic: &String| {
            let is_new = !seen.contains(topic);
            seen.push(topic.clone());
            is_new
        });
        found.truncate(ANSWERED);
        found
    }

    fn language_place(&self) -> Option<usize> {
        let code = self.talk.language.as_deref().unwrap_or(&self.world.home_language);
        self.world.languages.position(code)
    }

    /// Takes a sentence: its facts are kept, its questions answered in turn.
    pub(super) fn take_sentence(&mut self, facts: &[FactValue]) {
        // What is told sounds like many things: beside facts only a question is one.
        let asks = facts.is_empty() || self.heard.reading.asks_something;
        let topics = if asks { self.topics_asked() } else { Vec::new() };
        if topics.is_empty() {
            return if facts.is_empty() { self.not_understood() } else { self.told(facts) };
        }
        self.talk.misread = 0;
        if !facts.is_empty() {
            facts.iter().for_each(|fact| self.tell(fact));
            if self.has_no_place(facts) {
                return;
            }
            self.says.push(Say::Told(Box::new(self.talk.known.clone())));
        }
        self.taken.topics.clone_from(&topics);
        for topic in &topics {
            self.answer_topic(topic);
        }
    }

    /// Says a topic's answer, and does what it stands for.
    fn answer_topic(&mut self, topic: &str) {
        match topic {
            "human" => {
                self.wants_person = true;
                self.says.push(Say::HandedOver);
                return;
            }
            "delete_me" => {
                self.talk.asked = Some(Asked::Forget);
                self.says.push(Say::ForgetSure);
                return;
            }
            "complaint" => self.wants_person = true,
            _ => {}
        }
        self.say_part(topic, 0);
        if topic == "price" && self.wanted().is_none() {
            self.answer(say_cost, Depth::Answer);
        }
    }

    /// One part of a topic's answer; the word more goes on where there is more.
    fn say_part(&mut self, topic: &str, part: usize) {
        let code = self.talk.language.as_deref().unwrap_or(&self.world.home_language);
        let parts = self
            .world
            .languages
            .get(code)
            .and_then(|language| language.topics.get(topic))
            .map_or(0, |text| text.more.len());
        self.says.push(Say::Topic { topic: topic.to_owned(), part });
        self.talk.page = None;
        self.talk.topic_page = (part < parts).then(|| TopicPage { topic: topic.to_owned(), told: part + 1 });
        if self.talk.topic_page.is_some() && self.says.len() == 1 {
            self.says.push(Say::NextWord(Command::More));
        }
    }

    /// Goes on with a topic; false where none was told.
    pub(super) fn more_of_topic(&mut self) -> bool {
        let Some(TopicPage { topic, told }) = self.talk.topic_page.take() else { return false };
        self.say_part(&topic, told);
        true
    }

    /// Takes the answer to which of two topics was meant.
    pub(super) fn chosen(&mut self, asked: Option<&Asked>) -> bool {
        let Some(Asked::WhichTopic { first, second }) = asked else { return false };
        let topic = match self.heard.text.trim() {
            "1" => first,
            "2" => second,
            _ => return false,
        };
        self.taken.topics.push(topic.clone());
        self.answer_topic(topic);
        true
    }

    /// Nothing is claimed: the nearest two as a choice, and a person the second time.
    fn not_understood(&mut self) {
        let place = self.language_place().filter(|_| self.manner.channel != Channel::Ussd);
        let ranked = place.map(|place| self.world.topics.ranked(self.heard.text, place)).unwrap_or_default();
        let [first, second] = offered(&ranked)[..] else { return self.misread() };
        let (first, second) = (first.to_owned(), second.to_owned());
        if self.talk.stumbles > 0 {
            return self.hand_over();
        }
        self.says.push(Say::WhichTopic { first: first.clone(), second: second.clone() });
        self.talk.asked = Some(Asked::WhichTopic { first, second });
    }

    /// A person is told that the talk does not get on.
    pub(super) fn hand_over(&mut self) {
        self.talk.misread = 0;
        self.talk.stumbles = 0;
        self.wants_person = true;
        self.says.push(Say::HandedOver);
    }

    /// Counts turns that did not get on, of whatever kind; after two of them in a row a person is told.
    pub(super) fn count_stumble(&mut self) {
        let is_stumble = |say: &Say| {
            matches!(
                say,
                Say::NothingUnderstood
                    | Say::NotUnderstood
                    | Say::DidYouMean { .. }
                    | Say::Refused(_)
                    | Say::PlaceUnknown { .. }
                    | Say::WhichTopic { .. }
            )
        };
        if !self.says.iter().any(is_stumble) {
            self.talk.stumbles = 0;
            return;
        }
        self.talk.stumbles = self.talk.stumbles.saturating_add(1);
        if self.talk.stumbles > STUMBLES {
            self.says.clear();
            self.talk.asked = None;
            self.hand_over();
        }
    }
}
