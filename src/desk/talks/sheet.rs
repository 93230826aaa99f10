//! A sheet as a form, field by field in a language's own words.

use std::collections::BTreeMap;

use crate::language::{Field, Language, Languages};
use crate::message::{FactValue, print, read};
use crate::single::refused_value;
use crate::talk::Known;

/// One field of the form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    pub name: &'static str,
    pub value: String,
    /// Why the value was not taken.
    pub problem: Option<String>,
}

/// What the form says: every field with its text, and the sheet of those that were understood.
pub struct Form {
    pub cells: Vec<Cell>,
    pub known: Known,
}

impl Form {
    /// The form of a sheet.
    pub fn of(known: &Known, language: &Language) -> Self {
        let cells =
            Field::ALL.map(|field| Cell { name: field.name(), value: text_of(field, known, language), problem: None });
        Self { cells: cells.to_vec(), known: known.clone() }
    }

    /// Reads what was typed, by the names of the fields.
    pub fn read(typed: &BTreeMap<String, String>, languages: &Languages, language: &Language) -> Self {
        let mut known = Known::default();
        let cells = Field::ALL.map(|field| {
            let value = typed.get(field.name()).map(|value| value.trim().to_owned()).unwrap_or_default();
            let problem = match facts_of(field, &value, languages, language) {
                Ok(facts) => {
                    facts.iter().for_each(|fact| known.tell(fact));
                    None
                }
                Err(problem) => Some(problem),
            };
            Cell { name: field.name(), value, problem }
        });
        Self { cells: cells.to_vec(), known }
    }

    pub fn is_sound(&self) -> bool {
        self.cells.iter().all(|cell| cell.problem.is_none())
    }
}

fn text_of(field: Field, known: &Known, language: &Language) -> String {
    let word = format!("{} ", language.field(field).unwrap_or_default());
    let facts = known.facts().into_iter().filter(|fact| fact.value.field() == Some(field));
    let texts = facts.map(|fact| {
        let text = print(std::slice::from_ref(&fact), language);
        text.strip_prefix(&word).map_or(text.clone(), str::to_owned)
    });
    texts.collect::<Vec<_>>().join(" ")
}

/// The facts in a field's text: read after the field's own word, or else as it stands.
fn facts_of(field: Field, text: &str, languages: &Languages, language: &Language) -> Result<Vec<FactValue>, String> {
    if text.is_empty() {
        return Ok(Vec::new());
    }
    let word = language.field(field).unwrap_or_default();
    let mut problem = None;
    for text in [format!("{word} {text}"), text.to_owned()] {
        let reading = read(&text, languages, &language.code, Some(field));
        if let Some(trouble) = reading.troubles.iter().find(|trouble| trouble.code.is_refusal()) {
            problem.get_or_insert_with(|| refused_value(trouble).message);
            continue;
        }
        let facts: Vec<FactValue> = reading.facts.into_iter().map(|fact| fact.value).collect();
        // A pipe's text may say its bore too, and a lift's the one at low water.
        let may_say = |fact: &FactValue| match fact.field() {
            Some(Field::Low) => matches!(field, Field::Low | Field::Lift),
            Some(Field::Bore) => matches!(field, Field::Bore | Field::Pipe),
            other => other == Some(field),
        };
        if !facts.is_empty() && facts.iter().all(may_say) {
            return Ok(facts);
        }
    }
    Err(problem.unwrap_or_else(|| format!("this is not understood as {}; write it as a grower would", field.name())))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn languages() -> Languages {
        Languages::shipped().unwrap()
    }

    #[test]
    fn a_sheet_printed_into_the_form_is_read_back() {
        let languages = languages();
        let text = "lift 3-4, pipe 30m 2in, panel 3x100, turned, pump 12v 9000 l/h 6m 10a, suction 2, well 2000 l/h, \
                    garden 900, tomato, clay, august, drip, wire 10m 4mm2, place ";
        for (language, place) in languages.iter().flat_map(|each| ["kito", "-8.2 35.1 1200m"].map(|place| (each, place))) {
            let mut known = Known::default();
            for fact in read(&format!("{text}{place}"), &languages, "en", None).facts {
                known.tell(&fact.value);
            }
            let form = Form::of(&known, language);
            assert!(form.cells.iter().all(|cell| !cell.value.is_empty()), "{:?}", form.cells);
            let typed = form.cells.iter().map(|cell| (cell.name.to_owned(), cell.value.clone())).collect();
            let read = Form::read(&typed, &languages, language);
            assert!(read.is_sound(), "{:?}", read.cells);
            assert_eq!(read.known, known, "{}", language.code);
            assert_eq!(known.place.as_deref(), Some(place));
        }
    }

    #[test]
    fn a_wrong_value_stays_in_the_form_with_its_problem() {
        let languages = languages();
        let typed = BTreeMap::from([("lift".to_owned(), "900".to_owned()), ("pipe".to_owned(), "40".to_owned())]);
        let form = Form::read(&typed, &languages, languages.get("en").unwrap());
        assert!(!form.is_sound());
        assert_eq!(form.cells[0].value, "900");
        assert!(form.cells[0].problem.as_deref().is_some_and(|problem| problem.contains("out of range")));
        assert_eq!(form.known.sheet.pipe_m, Some(40.0));
        assert_eq!(form.known.sheet.lift_m, None);
    }
}
