//! Reading a message in which a place may be a spot on the map.
//!
//! Degrees with letters and marks, and metres of altitude, would be taken for numbers of other fields: they are found
//! first, and the rest is read without them.

use crate::atlas::spot::{Scanned, scan};
use crate::language::{Field, Languages, fold};
use crate::message::{Fact, FactValue, Reading, Span, TroubleCode, parse};

/// Reads a message as [`parse`] does, spots included.
///
/// Metres behind the degrees are the altitude, unless without them less of the message is understood: in `place -8.2
/// 35.1 5m lift` they are the lift.
pub fn read(text: &str, languages: &Languages, preferred: &str, asked: Option<Field>) -> Reading {
    let reading = parse(text, languages, preferred, asked);
    let folded = fold(text);
    // The folded text's bytes and the message's characters, one to the other.
    let byte_of = |at: usize| (0..folded.text.len()).find(|&byte| folded.origin(byte, byte + 1).0 >= at);
    let span_of = |start: usize, end: usize| {
        let (start, end) = folded.origin(start, end);
        Span { start, end }
    };
    let Some((start, scanned)) = beginnings(&reading, asked).into_iter().find_map(|at| {
        let rest = folded.text.get(byte_of(at)?..)?;
        let start = folded.text.len() - rest.trim_start_matches(|letter: char| " :=,\n".contains(letter)).len();
        Some((start, scan(&folded.text[start..])?))
    }) else {
        return reading;
    };
    let without = |scanned: &Scanned| {
        let at = span_of(start, start + scanned.end);
        let rest = parse(&cut_out(text, at), languages, preferred, asked.filter(|&field| field != Field::Place));
        placed(rest, text, at)
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

/// The text with spaces in the stead of some characters, so that all others stay where they were; the first is a sign
/// that parts what stands before from what comes after.
fn cut_out(text: &str, at: Span) -> String {
    let blank = |(place, letter): (usize, char)| match place {
        place if place == at.start => ';',
        place if (at.start..at.end).contains(&place) => ' ',
        _ => letter,
    };
    text.chars().enumerate().map(blank).collect()
}

fn placed(mut reading: Reading, text: &str, at: Span) -> Reading {
    let name: String = text.chars().skip(at.start).take(at.end - at.start).collect();
    reading.facts.retain(|fact| !matches!(fact.value, FactValue::Place(_)));
    let order = reading.facts.iter().position(|fact| fact.at.start > at.start).unwrap_or(reading.facts.len());
    reading.facts.insert(order, Fact { value: FactValue::Place(name.trim().to_owned()), at });
    reading.asks.retain(|(field, _)| *field != Field::Place);
    reading.troubles.retain(|trouble| trouble.code != TroubleCode::Empty && trouble.field != Some(Field::Place));
    reading
}
