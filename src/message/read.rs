//! The one way to read a message, in which a place may be a spot on the map.
//!
//! Degrees with letters and marks, and metres of altitude, would be taken for numbers of other fields: they are found
//! first, and the rest is read with a name in their stead.

use super::parse::parse;
use super::reading::{Fact, FactValue, Reading, Span};
use super::sentence;
use crate::language::{Field, Languages, fold};
use crate::spot::{Scanned, scan};

/// A letter with which no word of any language is long spelt.
const STAND_IN: char = 'q';

/// Reads a message: `preferred` is the code of the talk's language, `asked` the field that the last reply asked about.
///
/// Metres behind the degrees of a spot are its altitude, unless without them less of the message is understood: in
/// `place -8.2 35.1 5m lift` they are the lift.
///
/// Never fails and never panics; the work is bounded by [`super::MOST_CHARACTERS`].
pub fn read(text: &str, languages: &Languages, preferred: &str, asked: Option<Field>) -> Reading {
    let has_space = text.trim().contains(char::is_whitespace);
    if has_space
        && text.len() <= super::MOST_CHARACTERS
        && sentence::is_sentence(text, languages, preferred, asked.is_some())
    {
        return sentence::read(text, languages, preferred);
    }
    let reading = parse(text, languages, preferred, asked);
    let beginnings = beginnings(&reading, asked);
    // Most messages name no place, and no spot is looked for in them.
    if beginnings.is_empty() {
        return reading;
    }
    let folded = fold(text);
    // The folded text's bytes and the message's characters, one to the other.
    let byte_of = |at: usize| (0..folded.text.len()).find(|&byte| folded.origin(byte, byte + 1).0 >= at);
    let span_of = |start: usize, end: usize| {
        let (start, end) = folded.origin(start, end);
        Span { start, end }
    };
    let Some((start, scanned)) = beginnings.into_iter().find_map(|at| {
        let rest = folded.text.get(byte_of(at)?..)?;
        let start = folded.text.len() - rest.trim_start_matches(|letter: char| " :=,\n".contains(letter)).len();
        Some((start, scan(&folded.text[start..])?))
    }) else {
        return reading;
    };
    let without = |scanned: &Scanned| {
        let at = span_of(start, start + scanned.end);
        spotted(parse(&named(text, at), languages, preferred, asked), text, at)
    };
    let whole = without(&scanned);
    match scanned.without_metres() {
        Some(degrees) => {
            let without_metres = without(&degrees);
            if without_metres.facts.len() > whole.facts.len() { without_metres } else { whole }
        }
        None => whole,
    }
}

/// Characters at which a spot may begin: what was taken for a place's name, what follows the word for it, or the whole
/// message when the place was asked.
fn beginnings(reading: &Reading, asked: Option<Field>) -> Vec<usize> {
    let named = reading.facts.iter().filter(|fact| matches!(fact.value, FactValue::Place(_))).map(|fact| fact.at.start);
    let word = reading.asks.iter().filter(|(field, _)| *field == Field::Place).map(|(_, at)| at.end);
    let all: Vec<usize> = if asked == Some(Field::Place) { vec![0] } else { Vec::new() };
    all.into_iter().chain(named).chain(word).collect()
}

/// The text with a name that no language knows in the spot's stead, so that all else stays where it was; it ends in a
/// sign that parts it from what comes after.
fn named(text: &str, at: Span) -> String {
    let letter = |(place, letter): (usize, char)| match place {
        place if place + 1 == at.end => ';',
        place if (at.start..at.end).contains(&place) => STAND_IN,
        _ => letter,
    };
    text.chars().enumerate().map(letter).collect()
}

/// The spot's own text in the stead of that name.
fn spotted(mut reading: Reading, text: &str, at: Span) -> Reading {
    let name: String = text.chars().skip(at.start).take(at.end - at.start).collect();
    let name = name.trim().to_owned();
    reading.facts.retain(|fact| !matches!(fact.value, FactValue::Place(_)));
    let order = reading.facts.iter().position(|fact| fact.at.start > at.start).unwrap_or(reading.facts.len());
    reading.facts.insert(order, Fact { value: FactValue::Place(name.trim().to_owned()), at });
    // Where the place was asked for, the word for it need not stand before it, and the name is an unknown word.
    reading.troubles.retain(|trouble| trouble.at.start < at.start || trouble.at.start >= at.end);
    reading.near.retain(|near| near.at.start < at.start || near.at.start >= at.end);
    reading
}
