//! Facts taken into a talk: doubted, asked after, answered.

use super::advising::Depth;
use super::answer::say_advice;
use super::gallon::asked_after;
use super::placing::whose_climate;
use super::say::Say;
use super::state::{Asked, Channel};
use super::testing::say_test;
use super::topic::Topic;
use super::turning::{Turning, excerpt};
use crate::language::{Answer, Field};
use crate::message::{FactValue, Trouble, TroubleCode, read};

/// Messages in a row of which nothing was understood, after which a human takes over.
pub const MISREAD_LIMIT: u8 = 2;

/// Refusals that one message explains; the rest come up when it is sent again.
const REFUSALS: usize = 2;

/// Takes facts, then asks or answers. A label that the tested pump has already may be a new pump's, and is asked about.
pub fn told(turning: &mut Turning<'_>, facts: &[FactValue]) {
    let is_again = facts.iter().any(|fact| match fact {
        FactValue::Pump(pump) => turning.talk.known.is_told_again(pump, turning.now),
        _ => false,
    });
    told_of(turning, facts, is_again && turning.manner.channel != Channel::Alone);
}

/// The same where it is said that the pump is the one that was tested.
pub fn told_surely(turning: &mut Turning<'_>, facts: &[FactValue]) {
    told_of(turning, facts, false);
}

fn told_of(turning: &mut Turning<'_>, facts: &[FactValue], may_be_new: bool) {
    let reading = turning.heard.reading;
    for fact in facts {
        turning.tell(fact);
    }
    for guess in &reading.assumed_words {
        turning.says.push(Say::TookWord(guess.taken_for.clone()));
    }
    if turning.has_no_place(facts) {
        return;
    }
    let mut refused: Vec<&Trouble> = Vec::new();
    // Of two crops none was taken.
    let is_refused = |trouble: &&Trouble| {
        trouble.code.is_refusal() || (trouble.code == TroubleCode::Twice && trouble.field == Some(Field::Crop))
    };
    for trouble in reading.troubles.iter().filter(is_refused) {
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
        turning.talk.misread = 0;
        let most = if turning.manner.channel == Channel::Ussd { 1 } else { REFUSALS };
        turning.says.extend(refused.iter().take(most).map(|trouble| Say::Refused((*trouble).clone())));
        if !facts.is_empty() {
            turning.says.push(Say::Told(Box::new(turning.talk.known.clone())));
        }
        turning.talk.asked = asked_after(first);
        return;
    }
    if let Some(near) = reading.near.first() {
        did_you_mean(turning, near.at, near.could_be.first());
        return;
    }
    if facts.is_empty() && !understood_something(turning) {
        misread(turning);
        return;
    }
    turning.talk.misread = 0;
    if reading.troubles.iter().any(|trouble| trouble.code == TroubleCode::TooLong) {
        turning.says.push(Say::OnlyStartRead);
    }
    // Of a message by itself nobody is there to say that it is right: the answer stands, and that beside it.
    if turning.manner.channel != Channel::Alone
        && let Some(doubt) = next_doubt(turning)
    {
        turning.says.push(Say::IsItRight(doubt));
        return;
    }
    if may_be_new {
        turning.talk.asked = Some(Asked::NewPump);
        turning.says.push(Say::IsNewPump);
        return;
    }
    if let Some((field, _)) = reading.asks.first() {
        if !facts.is_empty() {
            turning.says.push(Say::Told(Box::new(turning.talk.known.clone())));
        }
        turning.about(*field);
        return;
    }
    let more_than_tests = facts.iter().any(|fact| !matches!(fact, FactValue::Test(_)));
    if more_than_tests && (turning.wanted().is_some() || turning.talk.test_waits) {
        turning.says.push(Say::Told(Box::new(turning.talk.known.clone())));
        turning.says.extend(whose_climate(turning.world, &turning.talk.known, true).filter(|_| turning.place_told));
    }
    ask_or_answer(turning);
    if turning.manner.channel == Channel::Alone {
        let doubt = doubts(turning).next().cloned();
        turning.says.extend(doubt.map(Say::Unusual));
    }
    pass_over(turning);
}

/// That there is none of what was asked, or that it is not known; false where it answers nothing.
pub fn answered_without_value(turning: &mut Turning<'_>, answer: Answer, asked: Option<&Asked>) -> bool {
    let named = turning.heard.reading.asks.first().map(|(field, _)| *field);
    let field = named.or(asked.and_then(Asked::field)).or(turning.wanted());
    turning.talk.misread = 0;
    match (answer, field) {
        (Answer::None, Some(Field::Panel)) => {
            turning.talk.known.no_panels = turning.talk.known.sheet.lacks_panels();
            ask_or_answer(turning);
        }
        // Of any other part it is as if nothing had been told, and what is missing is asked on.
        (Answer::None, Some(field)) if turning.wanted() != Some(field) => ask_or_answer(turning),
        // How to find it out, once; after that a person helps.
        (_, Some(field)) if !turning.talk.explained.contains(&field) => {
            turning.talk.explained.push(field);
            turning.about(field);
        }
        (_, Some(_)) => {
            turning.wants_person = true;
            turning.says.push(Say::HandedOver);
        }
        (_, None) => return false,
    }
    true
}

/// What is missing most, or the answer.
pub fn ask_or_answer(turning: &mut Turning<'_>) {
    match turning.wanted() {
        Some(field) => turning.ask(field),
        None if turning.talk.test_waits => {
            let world = turning.world;
            turning.answer(|talk, advice| say_test(world, talk, advice), Depth::Answer);
        }
        None => turning.answer(say_advice, Depth::Answer),
    }
}

/// A field named alone, or a question answered by `yes` to something that needed none, still leads on.
fn understood_something(turning: &Turning<'_>) -> bool {
    let reading = turning.heard.reading;
    !reading.asks.is_empty() || !reading.commands.is_empty() || reading.language_named.is_some()
}

/// Says that nothing was understood, asks what is wanted most, or tells a person.
pub fn misread(turning: &mut Turning<'_>) {
    let reading = turning.heard.reading;
    if reading.troubles.is_empty() && reading.near.is_empty() && !reading.is_sentence {
        // Only words that carry nothing: a greeting.
        turning.talk.misread = 0;
        match turning.wanted().filter(|_| !turning.talk.known.is_empty()) {
            Some(field) => turning.ask(field),
            None => {
                turning.guide(Topic::Help);
                turning.talk.asked = turning.wanted().map(|field| Asked::Field { field });
            }
        }
        return;
    }
    turning.talk.misread = turning.talk.misread.saturating_add(1);
    if turning.talk.misread >= MISREAD_LIMIT {
        turning.talk.misread = 0;
        turning.wants_person = true;
        turning.says.push(Say::HandedOver);
    } else if let Some(field) = turning.wanted().filter(|_| !turning.talk.known.is_empty()) {
        turning.says.push(Say::NotUnderstood);
        turning.ask(field);
    } else {
        turning.says.push(Say::NothingUnderstood);
        turning.talk.asked = turning.wanted().map(|field| Asked::Field { field });
    }
}

fn pass_over(turning: &mut Turning<'_>) {
    let words: Vec<String> = turning
        .heard
        .reading
        .troubles
        .iter()
        .filter(|trouble| trouble.code == TroubleCode::NotUnderstood)
        .map(|trouble| excerpt(turning.heard.text, trouble.at.start, trouble.at.end))
        .collect();
    if !words.is_empty() {
        turning.says.push(Say::PassedOver(words));
    }
}

/// Unusual values of this message.
fn doubts<'a>(turning: &Turning<'a>) -> impl Iterator<Item = &'a Trouble> + use<'a> {
    let is_doubt = |code: &TroubleCode| matches!(code, TroubleCode::Unusual { .. } | TroubleCode::LowBelowLift { .. });
    turning.heard.reading.troubles.iter().filter(move |trouble| is_doubt(&trouble.code))
}

/// An unusual value that was not asked back before.
fn next_doubt(turning: &mut Turning<'_>) -> Option<Trouble> {
    let is_new = |trouble: &&Trouble| trouble.field.is_some_and(|field| !turning.talk.doubted.contains(&field));
    let doubt = doubts(turning).find(is_new)?.clone();
    let field = doubt.field?;
    turning.talk.doubted.push(field);
    turning.talk.asked = Some(Asked::Unusual { field });
    Some(doubt)
}

/// Asks whether a mistyped word was meant so, keeping what the message says when read that way.
fn did_you_mean(turning: &mut Turning<'_>, at: crate::message::Span, meant: Option<&String>) {
    let Some(meant) = meant else {
        misread(turning);
        return;
    };
    let chars: Vec<char> = turning.heard.text.chars().collect();
    let corrected: String = chars[..at.start.min(chars.len())]
        .iter()
        .copied()
        .chain(meant.chars())
        .chain(chars[at.end.min(chars.len())..].iter().copied())
        .collect();
    let language = turning.talk.language.as_deref().unwrap_or(&turning.world.home_language);
    let reading = read(&corrected, &turning.world.languages, language, None);
    turning.talk.misread = 0;
    let command = reading.commands.first().map(|(command, _)| *command);
    let facts = reading.facts.into_iter().map(|fact| fact.value).collect();
    turning.talk.asked = Some(Asked::DidYouMean { facts, command });
    let word = excerpt(turning.heard.text, at.start, at.end);
    turning.says.push(Say::DidYouMean { word, meant: meant.clone() });
}
