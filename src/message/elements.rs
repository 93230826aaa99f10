//! Elements: tokens with their meanings looked up and slips of the thumb dealt with.

use smallvec::SmallVec;

use crate::language::{Entry, Field, Folded, Languages, Meanings, NumberStyle, Value, fold};

use super::element::{Element, ElementKind};
use super::grave;
use super::lex::{Lexer, Token, TokenKind};
use super::reading::{Guess, NearMiss, Span};

/// The elements of a text, and what was learnt on the way.
#[derive(Debug)]
pub struct Elements<'v> {
    pub folded: Folded,
    pub list: Vec<Element<'v>>,
    pub assumed_words: Vec<Guess>,
    pub near: Vec<NearMiss>,
    pub language: Option<String>,
    pub language_named: Option<Span>,
    pub language_is_whole: bool,
}

/// Looks up a text. `preferred` is the place of the talk's language among the loaded ones.
pub fn elements<'v>(text: &str, languages: &'v Languages, preferred: Option<usize>) -> Elements<'v> {
    let folded = fold(text);
    let default_style = NumberStyle::default();
    let style = preferred.and_then(|at| languages.at(at)).map_or(&default_style, |language| &language.numbers);
    let mut lexer = Lexer::new(&folded.text, style, languages.vocabulary());
    let mut list = Vec::with_capacity(folded.text.len() / 2 + 1);
    let mut census = Census::new(preferred, languages.iter().len());
    let mut unknown = false;
    let mut from = 0;
    while let Some(token) = lexer.next(from) {
        let element = look_up(&folded.text, token, languages, preferred, &mut census);
        unknown |= matches!(element.kind, ElementKind::Unknown);
        from = element.end;
        list.push(element);
    }
    let whole = census.whole();
    let (language, language_named) = census.outcome(languages, &folded);
    let code = |at: usize| languages.at(at).map(|language| language.code.clone());
    let language_is_whole = language_named.is_none() && whole.is_some();
    let language = if language_is_whole { whole.and_then(code) } else { language };
    let (assumed_words, near) = (Vec::new(), Vec::new());
    let mut elements = Elements { folded, list, assumed_words, near, language, language_named, language_is_whole };
    if unknown {
        elements.settle_slips(languages, preferred);
    }
    elements
}

fn look_up<'v>(
    text: &str,
    token: Token,
    languages: &'v Languages,
    preferred: Option<usize>,
    census: &mut Census,
) -> Element<'v> {
    let Token { start, mut end, glued, parted, .. } = token;
    let kind = match token.kind {
        TokenKind::Number(number) => ElementKind::Number(number),
        TokenKind::Clock(hour, minute) => ElementKind::Clock(hour, minute),
        TokenKind::Piece(kind) => {
            let found = token.piece().and_then(|piece| languages.vocabulary().longest(text, piece));
            match (found, kind) {
                (Some(found), _) => {
                    end = found.end;
                    census.count(found.entry, start, end);
                    ElementKind::Word(found.entry.meanings(preferred))
                }
                (None, crate::language::PieceKind::Letters) => match elided(text, start, end, languages) {
                    Some((entry, _)) => {
                        census.count(entry, start, end);
                        ElementKind::Word(entry.meanings(preferred))
                    }
                    None => ElementKind::Unknown,
                },
                (None, _) => ElementKind::Nothing,
            }
        }
    };
    Element { kind, start, end, glued, parted }
}

/// A word behind a short elided one: an apostrophe after at most two letters hides no meaning.
fn elided<'v>(text: &str, start: usize, end: usize, languages: &'v Languages) -> Option<(&'v Entry, usize)> {
    let word = &text[start..end];
    let (short, long) = word.split_once('\'')?;
    if short.chars().count() > 2 || long.is_empty() {
        return None;
    }
    let at = end - long.len();
    let piece = crate::language::next_piece(text, at)?;
    let found = languages.vocabulary().longest(text, piece)?;
    (found.end == end).then_some((found.entry, at))
}

/// Words of another language, unknown to the talk's own, that make a message one of that language: a borrowed word or two
/// do not.
const LEAST_FOREIGN: u32 = 3;

/// Counts which languages the words belong to.
struct Census {
    preferred: Option<usize>,
    counts: SmallVec<[u32; 8]>,
    /// Of these, the words that the talk's own language does not have.
    foreign: SmallVec<[u32; 8]>,
    named: Option<(usize, usize, usize)>,
}

impl Census {
    fn new(preferred: Option<usize>, languages: usize) -> Census {
        let none = SmallVec::from_elem(0, languages);
        Census { preferred, counts: none.clone(), foreign: none, named: None }
    }

    fn count(&mut self, entry: &Entry, start: usize, end: usize) {
        // In a talk whose own language means something else by it, a word names no language; which gallons are meant may be
        // said by one's name.
        let own = entry.senses().find(|(language, _)| Some(*language) == self.preferred);
        let gallons = |meanings: &Meanings| matches!(meanings.value, Some(Value::Gallon(_)));
        let names = own.is_none_or(|(_, meanings)| meanings.language || gallons(meanings));
        for (language, meanings) in entry.senses() {
            if let Some(count) = self.counts.get_mut(language) {
                *count += 1;
            }
            if let Some(count) = self.foreign.get_mut(language).filter(|_| own.is_none()) {
                *count += 1;
            }
            if meanings.language && names {
                self.named = Some((language, start, end));
            }
        }
    }

    /// The other language that the whole message is in: enough of its words that the talk's own has not, and none that only
    /// the talk's own has.
    fn whole(&self) -> Option<usize> {
        let own = *self.counts.get(self.preferred?)?;
        let most = self.foreign.iter().copied().max().filter(|&most| most >= LEAST_FOREIGN)?;
        let mut best = (0..self.foreign.len()).filter(|&at| self.foreign[at] == most);
        let other = best.next().filter(|_| best.next().is_none())?;
        // Every word that the talk's own language has is the other's too.
        (self.counts[other] == own + most).then_some(other)
    }

    fn outcome(&self, languages: &Languages, folded: &Folded) -> (Option<String>, Option<Span>) {
        let code = |at: usize| languages.at(at).map(|language| language.code.clone());
        if let Some((language, start, end)) = self.named {
            let (start, end) = folded.origin(start, end);
            return (code(language), Some(Span { start, end }));
        }
        let most = self.counts.iter().copied().max().filter(|&most| most > 0);
        let Some(most) = most else { return (None, None) };
        let mut best = (0..self.counts.len()).filter(|&at| self.counts[at] == most);
        let language = match (self.preferred.filter(|&at| self.counts.get(at) == Some(&most)), best.next()) {
            (Some(preferred), _) => Some(preferred),
            // Two others tie: nothing tells.
            (None, first) => first.filter(|_| best.next().is_none()),
        };
        (language.and_then(code), None)
    }
}

impl<'v> Elements<'v> {
    /// Takes a mistyped word where only one thing fits what stands around it, and keeps it to ask about otherwise.
    fn settle_slips(&mut self, languages: &'v Languages, preferred: Option<usize>) {
        for at in 0..self.list.len() {
            let Element { kind: ElementKind::Unknown, start, end, .. } = self.list[at] else { continue };
            if self.in_a_place_name(at) {
                continue;
            }
            let candidates: Vec<&Entry> = languages
                .vocabulary()
                .near(&self.folded.text[start..end])
                .into_iter()
                .filter(|entry| self.worth_asking(at, entry.meanings(preferred)))
                .collect();
            if candidates.is_empty() {
                continue;
            }
            let (start, end) = self.folded.origin(start, end);
            let span = Span { start, end };
            if let Some(entry) = self.only_fit(at, &candidates, preferred) {
                self.list[at].kind = ElementKind::Word(entry.meanings(preferred));
                self.assumed_words.push(Guess { at: span, taken_for: entry.phrase.clone() });
                continue;
            }
            let mut asked: Vec<&Entry> = Vec::new();
            for entry in candidates.into_iter().filter(|entry| entry.is_of(preferred)) {
                let meanings = entry.meanings(preferred);
                // Singular and plural are one question; a unit without its number is none.
                if meanings.measure.is_none() && asked.iter().all(|other| other.meanings(preferred) != meanings) {
                    asked.push(entry);
                }
            }
            let could_be: Vec<String> = asked.iter().map(|entry| entry.phrase.clone()).collect();
            if !could_be.is_empty() {
                self.list[at].kind = ElementKind::Near;
                self.near.push(NearMiss { at: span, could_be });
            }
        }
    }

    /// Whether a mistyped word matters at all: not when it is near a word that carries nothing, or near a command that
    /// would not count where it stands.
    fn worth_asking(&self, at: usize, meanings: &Meanings) -> bool {
        let Meanings { field, measure, value, command, .. } = meanings;
        let is_command = command.is_some_and(|command| grave::is_meant(command, &self.list, at, &self.folded.text));
        field.is_some() || measure.is_some() || value.is_some() || is_command
    }

    /// Whether a word belongs to the name that follows the word for a place: names are spelt in any way.
    fn in_a_place_name(&self, at: usize) -> bool {
        let mut before = at;
        while before > 0 && !self.list[before].parted {
            before -= 1;
            match self.list[before].kind {
                ElementKind::Unknown | ElementKind::Near => {}
                ElementKind::Word(meanings) if meanings.field == Some(Field::Place) => return true,
                ElementKind::Word(meanings) if meanings.filler => {}
                _ => return false,
            }
        }
        false
    }

    /// The one candidate that fits: a field before a number, a unit after one, a crop after the word for crop.
    fn only_fit(&self, at: usize, candidates: &[&'v Entry], preferred: Option<usize>) -> Option<&'v Entry> {
        let next = self.list[at + 1..].iter().find(|element| !element.is_filler());
        let previous = self.list[..at].iter().rev().find(|element| !element.is_filler());
        let right_before = at.checked_sub(1).and_then(|before| self.list.get(before));
        if next.is_some_and(|next| next.number().is_some()) {
            let field = |entry: &Entry| entry.meanings(preferred).field;
            if let Some(entry) = only(candidates, field) {
                return Some(entry);
            }
        }
        if right_before.is_some_and(|before| before.number().is_some()) {
            let unit = |entry: &Entry| entry.meanings(preferred).measure;
            if let Some(entry) = only(candidates, unit) {
                return Some(entry);
            }
        }
        let field = previous.and_then(|previous| previous.meanings()).and_then(|meanings| meanings.field);
        let value = |entry: &Entry| entry.meanings(preferred).value.filter(|value| field == Some(field_of(*value)));
        only(candidates, value)
    }
}

/// The first candidate that gives something, where all that do agree.
fn only<'v, T: PartialEq>(candidates: &[&'v Entry], gives: impl Fn(&Entry) -> Option<T>) -> Option<&'v Entry> {
    let mut fitting = candidates.iter().filter_map(|entry| gives(entry).map(|given| (*entry, given)));
    let (entry, first) = fitting.next()?;
    fitting.all(|(_, given)| given == first).then_some(entry)
}

/// The field that a value answers.
pub fn field_of(value: Value) -> Field {
    match value {
        Value::Stance(_) => Field::Stance,
        Value::Watering(_) => Field::Watering,
        Value::Crop(_) => Field::Crop,
        Value::Soil(_) => Field::Soil,
        Value::Month(_) => Field::Month,
        Value::Electronics(_) | Value::Displacement(_) | Value::Gallon(_) | Value::Sky(_) => Field::Pump,
        // Nothing at all, most often of panels.
        Value::Answer(_) => Field::Panel,
    }
}
