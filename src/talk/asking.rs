//! What a message asks in words: which topic it is, its answer, and what becomes of one that nobody understands.

use super::advising::Depth;
use super::buying::say_cost;
use super::faults;
use super::say::Say;
use super::state::{Asked, Channel};
use super::told::{ask_or_answer, misread, told};
use super::topic_text::say_part;
use super::turning::Turning;
use crate::message::FactValue;
use crate::topics::{claimed, offered};

/// Most parts of one message that are answered in turn.
const ANSWERED: usize = 2;

/// Fewest words of a part that may be a question of its own.
const OWN_QUESTION: usize = 3;

/// The topics that a sentence asks about.
fn topics_asked(turning: &Turning<'_>) -> Vec<String> {
    let text = turning.heard.text;
    let Some(language) = language_place(turning) else { return Vec::new() };
    let of = |part: &str| -> Vec<String> {
        claimed(&turning.world.topics.ranked(part, language)).into_iter().map(str::to_owned).collect()
    };
    let parts: Vec<&str> = text.split(['?', '!', '\n', ';']).flat_map(|part| part.split(". ")).collect();
    let long = parts.iter().filter(|part| part.split_whitespace().count() >= OWN_QUESTION).count();
    let mut found = if long > 1 { parts.iter().flat_map(|part| of(part)).collect() } else { of(text) };
    let mut seen = Vec::new();
    found.retain(|topic: &String| {
        let is_new = !seen.contains(topic);
        seen.push(topic.clone());
        is_new
    });
    // A screen holds one answer.
    found.truncate(if turning.manner.channel == Channel::Ussd { 1 } else { ANSWERED });
    found
}

fn language_place(turning: &Turning<'_>) -> Option<usize> {
    let code = turning.talk.language.as_deref().unwrap_or(&turning.world.home_language);
    turning.world.languages.position(code)
}

/// Takes a sentence: its facts are kept, its questions answered in turn.
pub fn take_sentence(turning: &mut Turning<'_>, facts: &[FactValue]) {
    // What is told sounds like many things: beside facts only a question is one.
    let asks = facts.is_empty() || turning.heard.reading.asks_something;
    let topics = if asks { topics_asked(turning) } else { Vec::new() };
    if topics.is_empty() {
        return if facts.is_empty() { not_understood(turning) } else { told(turning, facts) };
    }
    turning.talk.misread = 0;
    if !facts.is_empty() {
        facts.iter().for_each(|fact| turning.tell(fact));
        if turning.has_no_place(facts) {
            return;
        }
        turning.says.push(Say::Told(Box::new(turning.talk.known.clone())));
    }
    turning.taken.topics.clone_from(&topics);
    for topic in &topics {
        answer_topic(turning, topic);
    }
}

/// Says a topic's answer, and does what it stands for.
fn answer_topic(turning: &mut Turning<'_>, topic: &str) {
    match topic {
        "human" => {
            turning.wants_person = true;
            turning.says.push(Say::HandedOver);
            return;
        }
        "delete_me" => {
            turning.talk.asked = Some(Asked::Forget);
            turning.says.push(Say::ForgetSure);
            return;
        }
        "complaint" => turning.wants_person = true,
        // What to buy follows from the site: from what is known, or after the next thing that is missing.
        "which_pump" | "how_many_panels" | "which_panel" => {
            turning.talk.known.no_panels |= turning.talk.known.sheet.lacks_panels();
            return ask_or_answer(turning);
        }
        // What can be looked for with hands and eyes is looked for, a question a message.
        fault if faults::begin(turning, fault) => return,
        _ => {}
    }
    let says = say_part(turning.world, &mut turning.talk, topic, 0);
    turning.says.extend(says);
    if topic == "price" && turning.wanted().is_none() {
        turning.answer(say_cost, Depth::Answer);
    }
}

/// Takes the answer to which of two topics was meant.
pub fn chosen(turning: &mut Turning<'_>, asked: Option<&Asked>) -> bool {
    let Some(Asked::WhichTopic { first, second }) = asked else { return false };
    let topic = match turning.heard.text.trim() {
        "1" => first,
        "2" => second,
        _ => return false,
    };
    turning.taken.topics.push(topic.clone());
    answer_topic(turning, topic);
    true
}

/// Nothing is claimed: the nearest two as a choice, and a person the second time.
fn not_understood(turning: &mut Turning<'_>) {
    let place = language_place(turning).filter(|_| turning.manner.channel == Channel::Sms);
    let ranked = place.map(|place| turning.world.topics.ranked(turning.heard.text, place)).unwrap_or_default();
    let [first, second] = offered(&ranked)[..] else { return misread(turning) };
    let (first, second) = (first.to_owned(), second.to_owned());
    if turning.talk.stumbles > 0 {
        turning.talk.stumbles = 0;
        turning.wants_person = true;
        turning.says.push(Say::HandedOver);
        return;
    }
    turning.says.push(Say::WhichTopic { first: first.clone(), second: second.clone() });
    turning.talk.asked = Some(Asked::WhichTopic { first, second });
}
