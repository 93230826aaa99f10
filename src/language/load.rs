//! Reading a language folder: every key that is missing or unknown, and every word that means two things, is named.

use std::collections::{BTreeMap, HashMap};

use serde::Deserialize;
use toml::{Table, Value as Toml};

use crate::units::Unit;

use super::Language;
use super::field::{Command, Field, Gallon};
use super::fold::fold_word;
use super::meaning::{Joiner, Meaning, Meanings, Measure, Value};
use super::numbers::NumberStyle;
use super::pieces::pieces;
use super::replies::{Replies, ReplyTrouble};
use crate::terms::{CROPS, SOILS, StanceKind, TestSky, Watering};

/// The file that says what the language is.
pub const LANGUAGE_FILE: &str = "language.toml";
/// The file that holds its words.
pub const WORDS_FILE: &str = "words.toml";

/// The file that holds what it is answered with.
pub const REPLIES_FILE: &str = "replies.ftl";

/// What is wrong with a language folder, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("dialogs/{folder}/{file}: {fault}")]
pub struct LanguageTrouble {
    pub folder: String,
    pub file: String,
    pub fault: LanguageFault,
}

/// One fault of a language folder; keys are written `table.key`.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LanguageFault {
    #[error("the file is missing")]
    NoFile,
    #[error("not TOML of the expected form: {0}")]
    Form(String),
    #[error("the key `{0}` is missing")]
    Missing(String),
    #[error("the key `{0}` is unknown; take it out or correct it")]
    Unknown(String),
    #[error("`{0}` must be a list of words")]
    NotWords(String),
    #[error("`{0}` must be a number above 0")]
    NotNumber(String),
    #[error("`{0}` has no words; give at least one")]
    NoWords(String),
    #[error("`{key}` holds {word:?}, in which no letter, digit or sign is left to read")]
    Unreadable { key: String, word: String },
    #[error("{word:?} stands in `{first}` and in `{second}`; keep it in one of them")]
    Clash { word: String, first: String, second: String },
    #[error("the code `{0}` is not the folder's name")]
    WrongCode(String),
    #[error("{0}")]
    Reply(ReplyTrouble),
    #[error("another folder holds the language `{0}` already")]
    Again(String),
}

/// What `language.toml` holds.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct LanguageFile {
    code: String,
    name: String,
    /// What other languages call it.
    #[serde(default)]
    called: Vec<String>,
    reviewed: String,
    numbers: NumberStyle,
    replace: BTreeMap<char, String>,
}

/// Reads one folder: its files by their names. Files that this part has no use for are left alone.
pub fn load(folder: &str, files: &BTreeMap<String, String>) -> Result<Language, Vec<LanguageTrouble>> {
    let mut troubles = Vec::new();
    let mut fault = |file: &str, fault| {
        troubles.push(LanguageTrouble { folder: folder.to_owned(), file: file.to_owned(), fault });
    };
    let head = match files.get(LANGUAGE_FILE).map(|text| toml::from_str::<LanguageFile>(text)) {
        None => Err(LanguageFault::NoFile),
        Some(Err(error)) => Err(LanguageFault::Form(error.message().to_owned())),
        Some(Ok(head)) if head.code != folder => Err(LanguageFault::WrongCode(head.code)),
        Some(Ok(head)) => Ok(head),
    };
    let head = head.map_err(|found| fault(LANGUAGE_FILE, found)).ok();
    let mut words = Words::default();
    match files.get(WORDS_FILE).map(|text| text.parse::<Table>()) {
        None => words.faults.push(LanguageFault::NoFile),
        Some(Err(error)) => words.faults.push(LanguageFault::Form(error.message().to_owned())),
        Some(Ok(table)) => words.read(table),
    }
    if let Some(head) = &head {
        words.put("name", &head.name, Meaning::Language);
        head.called.iter().for_each(|name| words.put("called", name, Meaning::Language));
    }
    for found in words.faults.drain(..) {
        fault(WORDS_FILE, found);
    }
    let replies = match files.get(REPLIES_FILE).map(|text| Replies::load(folder, text)) {
        None => Err(vec![LanguageFault::NoFile]),
        Some(read) => read.map_err(|faults| faults.into_iter().map(LanguageFault::Reply).collect()),
    };
    let replies = replies.map_err(|faults| faults.into_iter().for_each(|found| fault(REPLIES_FILE, found))).ok();
    match (head, replies) {
        (Some(head), Some(replies)) if troubles.is_empty() => Ok(Language {
            code: head.code,
            name: head.name,
            reviewed: head.reviewed,
            numbers: head.numbers,
            replace: head.replace,
            replies,
            spoken: words.spoken,
            meanings: words.meanings,
        }),
        _ => Err(troubles),
    }
}

/// The words read so far.
#[derive(Default)]
struct Words {
    meanings: HashMap<String, Meanings>,
    /// Where each word stood first.
    stood: HashMap<String, String>,
    /// The first word of each list, as it is written in the folder, by `table.key`.
    spoken: BTreeMap<String, String>,
    faults: Vec<LanguageFault>,
}

impl Words {
    fn read(&mut self, mut all: Table) {
        self.lists(&mut all, "fields", Field::ALL.map(|field| (field.name(), Meaning::Field(field))));
        self.lists(&mut all, "units", Unit::ALL.map(|unit| (unit.name(), Meaning::Measure(Measure::Unit(unit)))));
        self.numbers(&mut all, "own_areas", |square_metres| Meaning::Measure(Measure::OwnArea(square_metres)));
        let value = Meaning::Value;
        self.lists(&mut all, "stance", StanceKind::ALL.map(|code| (code.name(), value(Value::Stance(code)))));
        self.lists(&mut all, "watering", Watering::ALL.map(|way| (way.name(), value(Value::Watering(way)))));
        self.lists(&mut all, "soils", SOILS.iter().zip(0..).map(|(&soil, at)| (soil, value(Value::Soil(at)))));
        self.lists(&mut all, "crops", CROPS.iter().zip(0..).map(|(&crop, at)| (crop, value(Value::Crop(at)))));
        const MONTHS: [&str; 12] = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"];
        self.lists(&mut all, "months", MONTHS.iter().zip(1..).map(|(&name, at)| (name, value(Value::Month(at)))));
        self.lists(&mut all, "commands", Command::ALL.map(|command| (command.name(), Meaning::Command(command))));
        self.numbers(&mut all, "numbers", Meaning::Number);
        let electronics = [("yes", value(Value::Electronics(true))), ("no", value(Value::Electronics(false)))];
        self.lists(&mut all, "electronics", electronics);
        self.lists(&mut all, "sky", TestSky::ALL.map(|sky| (sky.name(), value(Value::Sky(sky)))));
        self.lists(&mut all, "gallons", Gallon::ALL.map(|gallon| (gallon.name(), value(Value::Gallon(gallon)))));
        self.classes(&mut all);
        self.lists(
            &mut all,
            "joiners",
            [
                ("times", Joiner::Times),
                ("range", Joiner::Range),
                ("per", Joiner::Per),
                ("at", Joiner::At),
                ("above_water", Joiner::AboveWater),
            ]
            .map(|(name, joiner)| (name, Meaning::Joiner(joiner))),
        );
        self.lists(&mut all, "fillers", [("words", Meaning::Filler)]);
        for (key, _) in all {
            self.faults.push(LanguageFault::Unknown(key));
        }
    }

    /// A table of the folder; a fault and an empty one where it is missing.
    fn table(&mut self, all: &mut Table, name: &str) -> Table {
        match all.remove(name) {
            Some(Toml::Table(table)) => table,
            _ => {
                self.faults.push(LanguageFault::Missing(name.to_owned()));
                Table::new()
            }
        }
    }

    /// A table with exactly these keys, each a list of words.
    fn lists<'k>(&mut self, all: &mut Table, name: &str, keys: impl IntoIterator<Item = (&'k str, Meaning)>) {
        if !all.contains_key(name) {
            return self.faults.push(LanguageFault::Missing(name.to_owned()));
        }
        let mut table = self.table(all, name);
        for (key, meaning) in keys {
            let path = format!("{name}.{key}");
            match table.remove(key) {
                None => self.faults.push(LanguageFault::Missing(path)),
                Some(list) => self.list(&path, &list, &meaning),
            }
        }
        for (key, _) in table {
            self.faults.push(LanguageFault::Unknown(format!("{name}.{key}")));
        }
    }

    /// Classes of pump carry whatever names the deployment's catalogue has.
    fn classes(&mut self, all: &mut Table) {
        for (key, list) in self.table(all, "classes") {
            self.list(&format!("classes.{key}"), &list, &Meaning::Class(key.clone()));
        }
    }

    /// A table of words, each with its number.
    fn numbers(&mut self, all: &mut Table, name: &str, meaning: impl Fn(f64) -> Meaning) {
        for (word, number) in self.table(all, name) {
            let path = format!("{name}.{word}");
            let number = number.as_float().or(number.as_integer().map(|whole| whole as f64));
            match number.filter(|number| number.is_finite() && *number > 0.0) {
                Some(number) => self.put(&path, &word, meaning(number)),
                None => self.faults.push(LanguageFault::NotNumber(path)),
            }
        }
    }

    fn list(&mut self, path: &str, list: &Toml, meaning: &Meaning) {
        let words: Option<Vec<&str>> = list.as_array().and_then(|words| words.iter().map(|word| word.as_str()).collect());
        let Some(words) = words else { return self.faults.push(LanguageFault::NotWords(path.to_owned())) };
        if words.is_empty() {
            return self.faults.push(LanguageFault::NoWords(path.to_owned()));
        }
        for word in words {
            self.spoken.entry(path.to_owned()).or_insert_with(|| word.to_owned());
            self.put(path, word, meaning.clone());
        }
    }

    fn put(&mut self, path: &str, word: &str, meaning: Meaning) {
        let folded = fold_word(word);
        // Phrases are compared piece by piece, so they clash however they are spaced.
        let key = pieces(&folded).map(|piece| &folded[piece.start..piece.end]).collect::<Vec<_>>().join(" ");
        if key.is_empty() {
            let (key, word) = (path.to_owned(), word.to_owned());
            return self.faults.push(LanguageFault::Unreadable { key, word });
        }
        if self.meanings.entry(folded.clone()).or_default().add(meaning) {
            self.stood.entry(key).or_insert_with(|| path.to_owned());
        } else {
            let first = self.stood.get(&key).cloned().unwrap_or_default();
            self.faults.push(LanguageFault::Clash { word: word.to_owned(), first, second: path.to_owned() });
        }
    }
}
