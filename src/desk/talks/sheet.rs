//! A sheet as a form, field by field in a language's own words.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use crate::desk::frame::words::{said, said_with};
use crate::language::{Field, Language, Languages};
use crate::message::{FactValue, print, read};
use crate::single::refused_value;
use crate::talk::Known;

/// One field of the form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    pub name: &'static str,
    pub value: String,
    /// What stood there when the page was made: a value that still equals it was not typed.
    pub was: String,
    /// Why the value was not taken.
    pub problem: Option<String>,
}

/// What the form says: every field with its text, and the sheet of those that were understood.
pub struct Form {
    pub cells: Vec<Cell>,
    pub known: Known,
}

impl Form {
    /// The sheet as it stands with what was typed, field by field: a field that was not touched keeps what stands now, whatever
    /// stood there when the page was made. One that has changed on both sides is a problem that shows both.
    pub fn merged(
        typed: &BTreeMap<String, String>,
        stands: &Known,
        languages: &Languages,
        language: &Language,
        now: DateTime<Utc>,
    ) -> Self {
        let mut known = stands.clone();
        let cells = Field::ALL.map(|field| {
            let stood = text_of(field, stands, language);
            let told = |name: &str| typed.get(name).map(|value| value.trim().to_owned());
            let was = told(&format!("was-{}", field.name())).unwrap_or_else(|| stood.clone());
            let value = told(field.name()).unwrap_or_else(|| was.clone());
            if value == was || value == stood {
                return Cell { name: field.name(), was: stood.clone(), value: stood, problem: None };
            }
            match facts_of(field, &value, languages, language) {
                Ok(facts) => {
                    known.untell(field);
                    facts.iter().for_each(|fact| known.tell(fact));
                    let problem = (was != stood).then(|| both(&stood, &was));
                    Cell { name: field.name(), value, was: stood, problem }
                }
                Err(problem) => Cell { name: field.name(), value, was, problem: Some(problem) },
            }
        });
        // No field holds the bucket tests.
        known.carry_tests(stands, now);
        Self { cells: cells.to_vec(), known }
    }

    pub fn is_sound(&self) -> bool {
        self.cells.iter().all(|cell| cell.problem.is_none())
    }
}

/// What is said of a field that has changed on both sides.
fn both(stands: &str, was: &str) -> String {
    let word = |text: &str| if text.is_empty() { said("nothing").into_owned() } else { format!("“{text}”") };
    said_with(
        "The grower has changed this since: it was {was} and is {now}. What stands here counts when you send again.",
        &[("was", &word(was)), ("now", &word(stands))],
    )
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
            let form = Form::merged(&BTreeMap::new(), &known, &languages, language, DateTime::UNIX_EPOCH);
            assert!(form.cells.iter().all(|cell| !cell.value.is_empty()), "{:?}", form.cells);
            let typed = form.cells.iter().map(|cell| (cell.name.to_owned(), cell.value.clone())).collect();
            let read = Form::merged(&typed, &Known::default(), &languages, language, DateTime::UNIX_EPOCH);
            assert!(read.is_sound(), "{:?}", read.cells);
            assert_eq!(read.known, known, "{}", language.code);
            assert_eq!(known.place.as_deref(), Some(place));
        }
    }

    #[test]
    fn a_wrong_value_stays_in_the_form_with_its_problem() {
        let languages = languages();
        let typed = BTreeMap::from([("lift".to_owned(), "900".to_owned()), ("pipe".to_owned(), "40".to_owned())]);
        let english = languages.get("en").unwrap();
        let form = Form::merged(&typed, &Known::default(), &languages, english, DateTime::UNIX_EPOCH);
        assert!(!form.is_sound());
        assert_eq!(form.cells[0].value, "900");
        assert!(form.cells[0].problem.as_deref().is_some_and(|problem| problem.contains("out of range")));
        assert_eq!(form.known.sheet.pipe_m, Some(40.0));
        assert_eq!(form.known.sheet.lift_m, None);
    }

    #[test]
    fn a_field_keeps_what_stands_unless_it_was_typed_and_both_are_shown_where_both_have_changed() {
        let languages = languages();
        let english = languages.get("en").unwrap();
        let mut stands = Known::default();
        for fact in read("lift 3 pipe 30 bore 63 garden 900", &languages, "en", None).facts {
            stands.tell(&fact.value);
        }
        let merged = |typed: &[(&str, &str)]| {
            let typed = typed.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
            Form::merged(&typed, &stands, &languages, english, DateTime::UNIX_EPOCH)
        };
        let bore = |form: &Form| form.cells.iter().find(|cell| cell.name == "bore").unwrap().clone();
        // The page was made when the bore was 40; only the garden was typed.
        let form = merged(&[("was-bore", "40 mm"), ("bore", "40 mm"), ("garden", "800")]);
        assert!(form.is_sound());
        assert_eq!((form.known.sheet.bore_mm, form.known.sheet.garden_m2), (Some(63.0), Some(800.0)));
        let form = merged(&[("was-bore", "40 mm"), ("bore", "50")]);
        let problem = bore(&form).problem.expect("both have changed it");
        assert!(problem.contains("40 mm") && problem.contains("63 mm"), "{problem}");
        // Once shown, what is typed counts.
        let form = merged(&[("was-bore", &bore(&form).was), ("bore", "50")]);
        assert!(form.is_sound());
        assert_eq!(form.known.sheet.bore_mm, Some(50.0));
        // An emptied field is taken back.
        assert_eq!(merged(&[("was-garden", "900 m²"), ("garden", "")]).known.sheet.garden_m2, None);
    }
}
