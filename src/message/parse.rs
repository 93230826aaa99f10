//! A message read as words and numbers, by steps that each have a file of their own.

use crate::language::{Field, Languages, Value};
use crate::units::Quantity;

use super::elements::{self, Elements};
use super::items::{self, Head, Item, ItemKind, Items, Said, Shape};
use super::limits::Kind;
use super::reading::{Fact, FactValue, PumpFact, Reading, Span, Trouble, TroubleCode};
use super::roles::Role;
use super::settle::Settler;
use super::{attach, finish, fit, gather};

/// Characters looked at: ten parts of a concatenated message of 153 characters each (3GPP TS 23.040). What comes after
/// is left unread, and said to be.
pub const MOST_CHARACTERS: usize = 1530;

/// Reads a message but for spots on the map, whose degrees are words and numbers like any other here.
pub(super) fn parse(text: &str, languages: &Languages, preferred: &str, asked: Option<Field>) -> Reading {
    // No text has more characters than bytes.
    let end = if text.len() <= MOST_CHARACTERS { None } else { text.char_indices().nth(MOST_CHARACTERS) };
    let (text, cut) = match end {
        Some((end, _)) => (&text[..end], Some(text[end..].chars().count())),
        None => (text, None),
    };
    let elements = elements::elements(text, languages, languages.position(preferred));
    let items = gather::gather(&elements, asked);
    // A field and its value are two items, and one fact.
    let facts = Vec::with_capacity(items.items.len() / 2 + items.values.len() + 1);
    let mut reading = Reading { facts, ..Reading::default() };
    let mut settler = Settler { elements: &elements, reading: &mut reading, explained: Vec::new() };
    match four_in_order(&items) {
        Some(groups) => four(&mut settler, &groups),
        None => settler.groups(&attach::attach(&items), &items),
    }
    let sky = words(&mut settler, &items);
    places(&mut settler, &items, text);
    let explained = std::mem::take(&mut settler.explained);
    let bare_place = asked == Some(Field::Place) && reading.answer.is_none() && says_nothing(&reading, &items, &elements);
    if bare_place && let Some(fact) = whole_as_place(text) {
        reading.facts.push(fact);
    } else {
        let words_asked = matches!(asked, Some(Field::Crop | Field::Soil | Field::Watering | Field::Month | Field::Stance));
        let field = asked.filter(|_| words_asked && says_nothing(&reading, &items, &elements));
        finish::unknown_words(&mut reading, &elements, &items.unknown, &explained, field);
    }
    if let Some(more) = cut {
        let at = Span { start: MOST_CHARACTERS, end: MOST_CHARACTERS + more };
        reading.troubles.push(Trouble { at, code: TroubleCode::TooLong, field: None });
    }
    if elements.list.is_empty() {
        let at = Span { start: 0, end: text.chars().count() };
        reading.troubles.push(Trouble { at, code: TroubleCode::Empty, field: None });
    }
    finish::finish(&mut reading, sky);
    let Elements { assumed_words, near, language, language_named, language_is_whole, .. } = elements;
    Reading { assumed_words, near, language, language_named, language_is_whole, ..reading }
}

/// Words that are answers by themselves, commands, and classes of pump; gives the sky, which belongs to a test.
fn words(settler: &mut Settler, items: &Items) -> Option<crate::terms::TestSky> {
    let mut sky = None;
    for word in &items.values {
        match word.what {
            Value::Sky(what) => sky = Some(what),
            Value::Answer(what) => settler.reading.answer = Some((what, settler.span(word.start, word.end))),
            Value::Gallon(kind) => settler.reading.gallon = Some((kind, settler.span(word.start, word.end))),
            value => settler.value(value, settler.span(word.start, word.end)),
        }
    }
    for word in &items.commands {
        let at = settler.span(word.start, word.end);
        settler.reading.commands.push((word.what, at));
    }
    for word in &items.classes {
        let pump = PumpFact { class: Some(word.what.to_owned()), ..PumpFact::default() };
        settler.fact(FactValue::Pump(pump), settler.span(word.start, word.end));
    }
    sky
}

fn places(settler: &mut Settler, items: &Items, text: &str) {
    for place in &items.places {
        let at = settler.span(place.start, place.end);
        let name: String = text.chars().skip(at.start).take(at.end - at.start).collect();
        settler.fact(FactValue::Place(name.trim().to_owned()), at);
    }
}

/// Whether nothing but words without a meaning was sent.
fn says_nothing(reading: &Reading, items: &Items, elements: &Elements) -> bool {
    let Reading { facts, commands, asks, .. } = reading;
    let values = items.items.iter().any(|item| matches!(item.kind, ItemKind::Value { .. }));
    facts.is_empty() && commands.is_empty() && asks.is_empty() && !values && elements.language_named.is_none()
}

/// The answer to "where are you", when it is not a word known for anything else.
fn whole_as_place(text: &str) -> Option<Fact> {
    let name = text.trim_matches(|letter: char| !letter.is_alphanumeric());
    if name.is_empty() {
        return None;
    }
    let before = text.len() - text.trim_start_matches(|letter: char| !letter.is_alphanumeric()).len();
    let start = text[..before].chars().count();
    let at = Span { start, end: start + name.chars().count() };
    Some(Fact { value: FactValue::Place(name.to_owned()), at })
}

/// Four values and no field word: lift, pipe, panel watts, garden.
fn four_in_order(items: &Items) -> Option<[Said; 4]> {
    let real = |item: &&Item| !matches!(item.kind, ItemKind::Head(_, items::Alone::Quiet));
    let mut values = items.items.iter().filter(real).map(|item| match item.kind {
        ItemKind::Value { said, .. } => Some(said),
        _ => None,
    });
    let four = [values.next()??, values.next()??, values.next()??, values.next()??];
    let one = |said: &Said, wants: Quantity| match said.shape {
        Shape::One(quantity) => quantity.measured().is_none_or(|measured| measured == wants),
        _ => false,
    };
    let [lift, pipe, panel, garden] = &four;
    let product = |said: &Said| matches!(said.shape, Shape::Product(..));
    let range = matches!(lift.shape, Shape::Range(..));
    let along = matches!(pipe.shape, Shape::One(quantity) if !fit::across(&quantity));
    let fits = (range || one(lift, Quantity::Length))
        && along
        && one(pipe, Quantity::Length)
        && (product(panel) || one(panel, Quantity::Power))
        && (product(garden) || one(garden, Quantity::Area));
    (values.next().is_none() && fits).then_some(four)
}

fn four(settler: &mut Settler, values: &[Said; 4]) {
    let fields = [Field::Lift, Field::Pipe, Field::Panel, Field::Garden];
    for (field, said) in fields.into_iter().zip(values) {
        let what = Head::Field(field);
        let Some(mut fit) = fit::fit(what, &[said], 0) else { continue };
        if fit.roles[0] == Role::Take(Kind::PanelCount) {
            fit.roles[0] = Role::Take(Kind::PanelTotal);
        }
        settler.one(field, said, &fit);
    }
}
