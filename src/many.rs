//! Many messages: which column says what, and what stands in the columns of the answer.

use chrono::{DateTime, Utc};
use serde_json::{Value, json};

use crate::language::{Field, Languages};
use crate::reply::Encoding;
use crate::single::{self, Refused};
use crate::table::{Cells, plain};
use crate::talk::Depth;
use crate::turn::{World, verdict_name};

/// Names by which a column is known, whatever their case.
const TEXT: [&str; 3] = ["text", "message", "sheet"];
const LANGUAGE: [&str; 2] = ["lang", "language"];
const PLACE: [&str; 1] = ["place"];
const NUMBER: [&str; 4] = ["number", "phone", "from", "to"];

/// What a row asks.
#[derive(Default)]
pub struct Question {
    pub text: Option<String>,
    pub language: Option<String>,
    pub place: Option<String>,
    pub number: Option<String>,
}

impl Question {
    pub fn of(cells: &Cells, languages: &Languages) -> Self {
        let find = |names: &[&str]| {
            let cell = cells.iter().find(|(name, _)| names.contains(&name.trim().to_lowercase().as_str()));
            cell.map(|(_, value)| plain(Some(value)).replace('\0', ""))
        };
        let told = |names: &[&str]| find(names).map(|text| text.trim().to_owned()).filter(|text| !text.is_empty());
        let text = find(&TEXT).or_else(|| {
            let told = cells.iter().filter_map(|(name, value)| {
                let cell = plain(Some(value)).replace('\0', "");
                let word = field_word(name, languages)?;
                (!cell.trim().is_empty()).then(|| format!("{word} {}", cell.trim()))
            });
            Some(told.collect::<Vec<_>>().join(", ")).filter(|text| !text.is_empty())
        });
        Self { text, language: told(&LANGUAGE), place: told(&PLACE), number: told(&NUMBER) }
    }

    /// Whether a head has a column of messages, or columns that are called as fields of the sheet are.
    pub fn is_asked_by(columns: &[String], languages: &Languages) -> bool {
        let is_text = |name: &String| TEXT.contains(&name.trim().to_lowercase().as_str());
        columns.iter().any(is_text) || columns.iter().any(|name| field_word(name, languages).is_some())
    }
}

/// The word of a field of the sheet that a column is called by, in any language: "Lift (m)" is the lift.
fn field_word(column: &str, languages: &Languages) -> Option<String> {
    let name = column.split(['(', ',', '[']).next().unwrap_or_default().trim().to_lowercase();
    let is_it = |field: &Field| {
        // The place has a column of its own.
        *field != Field::Place
            && (field.name() == name
                || languages.iter().any(|language| language.field(*field).is_some_and(|word| word == name)))
    };
    Field::ALL.iter().any(is_it).then_some(name)
}

/// What one message was answered, as columns hold it.
#[derive(Default)]
pub struct Answer {
    pub reply: Option<(String, Encoding, usize)>,
    pub verdict: Option<&'static str>,
    pub water_m3_day: Option<f64>,
    pub area_m2: Option<f64>,
    pub refused: Option<Refused>,
}

/// Answers a message of many.
pub fn answer(world: &World, text: &str, language: Option<&str>, place: Option<&str>, now: DateTime<Utc>) -> Answer {
    let single = match single::answer(world, text, language, place, Depth::Answer, now) {
        Ok(single) => single,
        Err(refused) => return Answer { refused: Some(refused), ..Answer::default() },
    };
    let reply = single.turn.reply.map(|reply| (reply.text, reply.encoding, reply.parts));
    match single.advice {
        Ok(advised) => Answer {
            reply,
            verdict: advised.advice.verdict.map(verdict_name),
            water_m3_day: Some(advised.advice.design().water.water_m3_day),
            area_m2: advised.advice.design().area_m2,
            refused: None,
        },
        Err(refused) => Answer { reply, refused: Some(refused), ..Answer::default() },
    }
}

impl Answer {
    /// The row with the answer's columns after its own.
    pub fn beside(&self, cells: Cells) -> Cells {
        let (reply, parts) = self.reply.as_ref().map(|(text, _, parts)| (text.as_str(), *parts)).unzip();
        let columns = Columns {
            reply,
            parts,
            verdict: self.verdict,
            water_m3_day: self.water_m3_day,
            area_m2: self.area_m2,
            error: self.refused.as_ref().map(|refused| refused.message.as_str()),
        };
        columns.beside(cells)
    }
}

/// What stands in the columns of an answer, whether it was made just now or kept.
pub struct Columns<'a> {
    pub reply: Option<&'a str>,
    pub parts: Option<usize>,
    pub verdict: Option<&'a str>,
    pub water_m3_day: Option<f64>,
    pub area_m2: Option<f64>,
    pub error: Option<&'a str>,
}

impl Columns<'_> {
    /// The row with these columns after its own; one that is there already stays.
    pub fn beside(self, mut cells: Cells) -> Cells {
        let rounded = |value: Option<f64>| value.map(|value| (value * 100.0).round() / 100.0);
        for (name, value) in [
            ("reply", json!(self.reply)),
            ("parts", json!(self.parts)),
            ("verdict", json!(self.verdict)),
            ("water_m3_day", json!(rounded(self.water_m3_day))),
            ("area_m2", json!(rounded(self.area_m2))),
            ("error", json!(self.error)),
        ] {
            let name = if cells.contains_key(name) { format!("{name} (answer)") } else { name.to_owned() };
            cells.insert(name, value);
        }
        cells
    }
}

/// The cells in the order of these columns; what stands in none of them comes after.
pub fn in_columns(columns: &[String], mut cells: Cells) -> Cells {
    let mut ordered: Cells =
        columns.iter().map(|name| (name.clone(), cells.get_mut(name).map_or(Value::Null, Value::take))).collect();
    for (name, value) in cells {
        ordered.entry(name).or_insert(value);
    }
    ordered
}
