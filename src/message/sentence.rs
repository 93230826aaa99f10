//! A message that is a sentence, not a sheet: what it denies, supposes, asks or tells of others is taken out before the
//! grammar reads it, and a number counts only beside its field's own word or in a unit of that field alone.

use crate::language::{Command, Field, Languages, Piece, PieceKind, SentenceWords, Turn, fold};
use crate::units::Unit;

use super::element::{Element, ElementKind};
use super::elements;
use super::parse::parse;
use super::phrases::{Word, at_word, turns_of, words_of};
use super::reading::{Fact, FactValue, Reading, Span, Trouble, TroubleCode};

/// Words within which a number's field must be named.
const NEAR: usize = 9;

/// Numbers that make a sheet, whatever is asked beside them.
const SHEET_NUMBERS: usize = 3;

/// Tenths of a message's words that make it a sheet.
const SHEET_TENTHS: usize = 6;

/// Words that nobody knows which an answer to a question may have.
const STRANGE: usize = 2;

/// Words of a message so short that a field's word first says what it is.
const SHORT: usize = 4;

/// Words before a thing in which it is told to be so.
const TOLD_WITHIN: usize = 5;

/// Words that a denial may be parted by from what it denies.
const DENIED_WITHIN: usize = 4;

/// Numbers that name what was not taken.
const NAMED: usize = 3;

/// Smallest number that is named when it is not taken.
const NAMED_FROM: f64 = 10.0;

/// Whether more of a message is words than what a sheet is made of.
pub fn is_sentence(text: &str, languages: &Languages, preferred: &str, asked: bool) -> bool {
    let elements = elements::elements(text, languages, languages.position(preferred));
    let list = &elements.list;
    let of_sheet = list.iter().filter(|element| is_of_sheet(element)).count();
    let words = list.iter().filter(|element| !matches!(element.kind, ElementKind::Nothing)).count();
    if words <= 1 || of_sheet == words {
        return false;
    }
    if begins_with_yes_or_no(list) && words <= SHORT {
        return false;
    }
    let turns = turns_of(languages, preferred);
    let words_of = words_of(&elements.folded.text);
    let has = |turn| (0..words_of.len()).any(|at| at_word(&turns, turn, &words_of, at, languages).is_some());
    let turned = has(Turn::Denies) || has(Turn::Supposes) || has(Turn::Others);
    // "the pipe has no leak 40 m" in answer to a question is that answer.
    if turned && !asked {
        return true;
    }
    let numbers = list.iter().filter(|element| matches!(element.kind, ElementKind::Number(_))).count();
    // "it is about 40 m" answers a question; "is it 40 m" asks one.
    let first_words = if asked { 1 } else { 2 };
    // A sheet with a question behind it is a sheet.
    let asks = text.contains(['?', '؟'])
        || (0..words_of.len().min(first_words)).any(|at| at_word(&turns, Turn::Asks, &words_of, at, languages).is_some());
    if asks && numbers < SHEET_NUMBERS {
        return true;
    }
    let unknown = list.iter().filter(|element| matches!(element.kind, ElementKind::Unknown | ElementKind::Near)).count();
    if unknown == 0 || asked && unknown <= STRANGE || begins_with_field(list) && words <= SHORT {
        return false;
    }
    of_sheet * 10 < words * SHEET_TENTHS
}

/// A field's word first: "crop quinoa", "place Upper Kito".
fn begins_with_field(list: &[Element]) -> bool {
    list.first().and_then(Element::meanings).is_some_and(|meanings| meanings.field.is_some())
}

/// "no thanks": it answers first of all.
fn begins_with_yes_or_no(list: &[Element]) -> bool {
    let command = list.first().and_then(Element::meanings).and_then(|meanings| meanings.command);
    matches!(command, Some(Command::Yes | Command::No))
}

fn is_of_sheet(element: &Element) -> bool {
    match element.kind {
        ElementKind::Number(_) | ElementKind::Clock(..) => true,
        ElementKind::Word(meanings) => {
            meanings.field.is_some()
                || meanings.measure.is_some()
                || meanings.value.is_some()
                || meanings.number.is_some()
                || meanings.class.is_some()
                || meanings.command.is_some()
                || meanings.language
        }
        _ => false,
    }
}

/// Reads a sentence.
pub(super) fn read(text: &str, languages: &Languages, preferred: &str) -> Reading {
    let folded = fold(text);
    let words = words_of(&folded.text);
    let turns = turns_of(languages, preferred);
    let asks = folded_questions(&folded.text, &words, &turns, languages);
    let mut gone = vec![false; words.len()];
    let supposes = supposed_words(&words, &turns, languages, &asks);
    for at in 0..words.len() {
        take_out(at, &words, &turns, languages, &asks, &mut gone);
    }
    let spans: Vec<Span> = words.iter().map(|word| span(&folded, word.piece)).collect();
    let blank = blanked(text, &spans, &gone);
    let mut reading = parse(&blank, languages, preferred, None);
    // No word is corrected to a near one here.
    if !reading.assumed_words.is_empty() {
        for guess in &reading.assumed_words {
            for (span, gone) in spans.iter().zip(&mut gone) {
                *gone |= span.start < guess.at.end && guess.at.start < span.end;
            }
        }
        reading = parse(&blanked(text, &spans, &gone), languages, preferred, None);
    }
    let elements = elements::elements(&blank, languages, languages.position(preferred));
    let supported = |fact: &Fact| is_supported(fact, &elements, &turns, &words, languages);
    let language = reading.language.clone();
    let mut facts = reading.facts;
    facts.retain(supported);
    let commands =
        reading.commands.into_iter().filter(|(command, at)| is_command(*command, *at, &elements, &words)).collect();
    let supposed = if supposes.contains(&true) {
        let rest: Vec<bool> = supposes.iter().map(|supposed| !supposed).collect();
        let only = blanked(text, &spans, &rest);
        let elements = elements::elements(&only, languages, languages.position(preferred));
        let told = parse(&only, languages, preferred, None);
        let is_sure =
            |fact: &Fact| told.assumed_words.is_empty() && is_supported(fact, &elements, &turns, &words, languages);
        told.facts.into_iter().filter(is_sure).collect()
    } else {
        Vec::new()
    };
    let troubles = named(&folded, &words, &facts, &gone, &asks);
    Reading {
        facts,
        supposed,
        commands,
        troubles,
        language,
        language_named: reading.language_named,
        is_sentence: true,
        asks_something: asks.contains(&true),
        ..Reading::default()
    }
}

fn span(folded: &crate::language::Folded, piece: Piece) -> Span {
    let (start, end) = folded.origin(piece.start, piece.end);
    Span { start, end }
}

/// For each word, whether it is only thought of: up to the end of a clause that supposes, or in a question.
fn supposed_words(words: &[Word], turns: &[&SentenceWords], languages: &Languages, asks: &[bool]) -> Vec<bool> {
    let phrase = |turn: Turn, at: usize| at_word(turns, turn, words, at, languages);
    let mut supposed = asks.to_vec();
    for at in 0..words.len() {
        if let Some(length) = phrase(Turn::Supposes, at) {
            let ends = |to: &usize| words[*to].ends_before.is_some() || phrase(Turn::Parts, *to).is_some();
            let from = (at + length).min(words.len());
            let end = (from..words.len()).find(ends).unwrap_or(words.len());
            supposed[from..end].fill(true);
        }
    }
    supposed
}

/// For each word, whether its sentence is a question.
fn folded_questions(folded: &str, words: &[Word], turns: &[&SentenceWords], languages: &Languages) -> Vec<bool> {
    let mut asks = vec![false; words.len()];
    let mut start = 0;
    let ends = |at: usize| at == words.len() || words[at].ends_before.is_some_and(|sign| sign != ",");
    for at in 1..=words.len() {
        if !ends(at) {
            continue;
        }
        let after = &folded[words[at - 1].piece.end..words.get(at).map_or(folded.len(), |word| word.piece.start)];
        let begins = (start..at.min(start + 3)).any(|first| at_word(turns, Turn::Asks, words, first, languages).is_some());
        asks[start..at].fill(begins || after.contains('?'));
        start = at;
    }
    asks
}

/// Takes out the words that one word's phrase turns into something that must not be stored.
fn take_out(at: usize, words: &[Word], turns: &[&SentenceWords], languages: &Languages, asks: &[bool], gone: &mut [bool]) {
    let phrase = |turn: Turn, at: usize| at_word(turns, turn, words, at, languages);
    let clause_end = |from: usize| {
        let ends = |to: &usize| words[*to].ends_before.is_some() || phrase(Turn::Parts, *to).is_some();
        (from..words.len()).find(ends).unwrap_or(words.len())
    };
    if phrase(Turn::Weak, at).is_some() && !gone[at] {
        gone[at] = !beside_field(at, words, languages);
    }
    if let Some(length) = phrase(Turn::Denies, at) {
        let end = clause_end(at + length).min(at + length + DENIED_WITHIN + 2);
        let mut to = at + length;
        let mut told = false;
        while to < end && (!told || is_quantity(&words[to], languages)) {
            told |= tells(&words[to], languages) && !is_quantity(&words[to], languages);
            to += 1;
            if told {
                break;
            }
        }
        let comma = words.get(at + length).is_some_and(|next| next.ends_before.is_some());
        if !comma {
            gone[at..to].fill(true);
        }
    }
    if let Some(length) = phrase(Turn::Supposes, at) {
        let end = clause_end((at + length).min(words.len()));
        gone[at..end].fill(true);
    }
    if phrase(Turn::Others, at).is_some() {
        let from = (0..at).rev().find(|from| words[from + 1].ends_before.is_some()).map_or(0, |from| from + 1);
        let end = clause_end((at + 1).min(words.len()));
        let own = (from..at).rev().find(|from| phrase(Turn::Mine, *from).is_some());
        gone[own.map_or(from, |_| at)..end].fill(true);
    }
    if phrase(Turn::Money, at).is_some() {
        let beside = at.saturating_sub(1)..(at + 3).min(words.len());
        for beside in beside.filter(|beside| words[*beside].piece.kind == PieceKind::Digits) {
            gone[beside] = true;
        }
    }
    if phrase(Turn::Either, at).is_some() && at > 0 {
        for beside in [at - 1, at + 1] {
            if let Some(gone) = gone.get_mut(beside) {
                *gone = true;
            }
        }
    }
    if asks[at] && !gone[at] {
        // In a question only what is the grower's own stands.
        let first = (0..=at).rev().find(|from| words[*from].ends_before.is_some()).unwrap_or(0);
        let is_own = (first..=at).any(|from| phrase(Turn::Mine, from).is_some());
        gone[at] = !is_own;
    }
}

fn beside_field(at: usize, words: &[Word], languages: &Languages) -> bool {
    let field = |other: Option<&Word>| {
        other
            .and_then(|word| languages.vocabulary().alone(&word.text))
            .is_some_and(|entry| entry.meanings(None).field.is_some())
    };
    field(at.checked_sub(1).and_then(|before| words.get(before)))
}

fn is_quantity(word: &Word, languages: &Languages) -> bool {
    word.piece.kind == PieceKind::Digits
        || languages.vocabulary().alone(&word.text).is_some_and(|entry| {
            let meanings = entry.meanings(None);
            meanings.measure.is_some() || meanings.number.is_some() || meanings.joiner.is_some()
        })
}

fn tells(word: &Word, languages: &Languages) -> bool {
    languages.vocabulary().alone(&word.text).is_some_and(|entry| {
        let meanings = entry.meanings(None);
        meanings.field.is_some() || meanings.value.is_some()
    })
}

/// The text with spaces for the words that are gone and a comma before each run of them.
fn blanked(text: &str, spans: &[Span], gone: &[bool]) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for (span, _) in spans.iter().zip(gone).filter(|(_, gone)| **gone) {
        for letter in letters.iter_mut().take(span.end).skip(span.start) {
            *letter = ' ';
        }
        if let Some(first) = letters.get_mut(span.start) {
            *first = ',';
        }
    }
    letters.into_iter().collect()
}

/// Whether what stands near a fact says that it is of its field.
fn is_supported(
    fact: &Fact,
    elements: &elements::Elements,
    turns: &[&SentenceWords],
    words: &[Word],
    languages: &Languages,
) -> bool {
    let Some(field) = fact.value.field() else { return true };
    let list = &elements.list;
    let place = |element: &Element| elements.folded.origin(element.start, element.end);
    let first = list.iter().position(|element| place(element).1 > fact.at.start).unwrap_or(0);
    let last = list.iter().rposition(|element| place(element).0 < fact.at.end).unwrap_or(first);
    let at = words
        .iter()
        .position(|word| elements.folded.origin(word.piece.start, word.piece.end).1 > fact.at.start)
        .unwrap_or(0);
    let before = |turn, within: usize| {
        (at.saturating_sub(within)..=at).any(|at| at_word(turns, turn, words, at, languages).is_some())
    };
    let named = |field: Field| list[first].meanings().is_some_and(|meanings| meanings.field == Some(field));
    match &fact.value {
        // "may" and "mars" are months only where a month is spoken of.
        FactValue::Month(_) => return before(Turn::Month, 2) || first == 0 || named(Field::Month),
        FactValue::Crop(_) | FactValue::Soil(_) | FactValue::Watering(_) | FactValue::Stance { tilt_deg: None, .. } => {
            return before(Turn::Tells, TOLD_WITHIN) || before(Turn::Mine, TOLD_WITHIN) || named(field) || list.len() <= 2;
        }
        FactValue::Place(_) => return true,
        FactValue::Pump(_) => {
            let measured = list[first..=last.max(first)]
                .iter()
                .any(|element| element.meanings().is_some_and(|meanings| meanings.measure.is_some()));
            let counted = list[first].number().is_some()
                && list.get(first + 1).and_then(|next| next.meanings()).is_some_and(|next| next.field == Some(Field::Pump));
            if !measured && !counted {
                return false;
            }
        }
        _ => {}
    }
    let own_unit = list[first..=last.max(first)].iter().any(|element| {
        element.meanings().and_then(|meanings| meanings.measure).is_some_and(|measure| is_of_field_alone(measure, field))
    });
    if own_unit {
        return true;
    }
    let may_be: &[Field] = match field {
        Field::Lift | Field::Low => &[Field::Lift, Field::Low],
        Field::Pipe | Field::Bore => &[Field::Pipe, Field::Bore],
        Field::Suction => &[Field::Suction, Field::Pump],
        _ => std::slice::from_ref(&field),
    };
    let from = first.saturating_sub(NEAR);
    let to = (last + NEAR + 1).min(list.len());
    list[from..to]
        .iter()
        .any(|element| element.meanings().and_then(|meanings| meanings.field).is_some_and(|named| may_be.contains(&named)))
}

fn is_of_field_alone(measure: crate::language::Measure, field: Field) -> bool {
    use crate::language::Measure;
    match measure {
        Measure::OwnArea(_) => field == Field::Garden,
        Measure::Unit(unit) => match unit {
            Unit::SquareMetre | Unit::SquareFoot | Unit::Hectare | Unit::Acre => field == Field::Garden,
            Unit::SquareMillimetre => field == Field::Wire,
            Unit::Watt | Unit::Kilowatt => field == Field::Panel,
            _ => false,
        },
    }
}

/// Whether a word that does something is meant so: it is all that its clause says, or it answers first of all.
fn is_command(command: Command, at: Span, elements: &elements::Elements, words: &[Word]) -> bool {
    let list = &elements.list;
    let place = |element: &Element| elements.folded.origin(element.start, element.end);
    let Some(own) = list.iter().position(|element| place(element).0 == at.start) else { return false };
    if matches!(command, Command::Yes | Command::No) {
        let is_first =
            words.first().is_some_and(|word| elements.folded.origin(word.piece.start, word.piece.end).0 == at.start);
        return is_first && (command == Command::Yes || list.len() <= 4);
    }
    let from = (0..=own).rev().find(|from| list[*from].parted).unwrap_or(0);
    let to = (own + 1..list.len()).find(|to| list[*to].parted).unwrap_or(list.len());
    (from..to).all(|other| other == own || list[other].is_filler())
}

/// Numbers that were not taken, of what is neither asked nor taken out.
fn named(folded: &crate::language::Folded, words: &[Word], facts: &[Fact], gone: &[bool], asks: &[bool]) -> Vec<Trouble> {
    let mut troubles = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let number = folded.text[word.piece.start..word.piece.end].parse::<f64>();
        let is_large = word.piece.kind == PieceKind::Digits && number.is_ok_and(|number| number >= NAMED_FROM);
        let span = span(folded, word.piece);
        let is_taken = facts.iter().any(|fact| fact.at.start <= span.start && span.end <= fact.at.end);
        if is_large && !is_taken && !gone[at] && !asks[at] && troubles.len() < NAMED {
            troubles.push(Trouble { at: span, code: TroubleCode::NotUnderstood, field: None });
        }
    }
    troubles
}
