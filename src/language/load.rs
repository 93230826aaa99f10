//! Reading a language folder: every key that is missing or unknown, and every word that means two things, is named.

use std::collections::{BTreeMap, HashMap};

use serde::Deserialize;
use serde::de::DeserializeOwned;
use toml::{Table, Value as Toml};

use crate::units::Unit;

use super::Language;
use super::danger::{DangerFault, DangerFile};
use super::faults::{FaultTrees, FaultTrouble};
use super::field::{Answer, Command, Field, Gallon};
use super::fold::fold_word;
use super::meaning::{Joiner, Meaning, Meanings, Measure, Value};
use super::numbers::NumberStyle;
use super::pieces::pieces;
use super::replies::{Replies, ReplyTrouble};
use super::sentence::SentenceWords;
use super::topics::{self, TopicTexts};
use crate::terms::{CROPS, SOILS, StanceKind, TestSky, Watering};

/// The file that says what the language is.
pub const LANGUAGE_FILE: &str = "language.toml";
/// The file that holds its words.
pub const WORDS_FILE: &str = "words.toml";

/// The file that holds what it is answered with.
pub const REPLIES_FILE: &str = "replies.ftl";

/// The file that holds how faults are looked for.
pub const FAULTS_FILE: &str = "faults.toml";

/// The file that says how somebody in danger is known, and what is answered.
pub const DANGER_FILE: &str = "danger.toml";

/// The file that says how a sentence turns what stands in it.
pub const SENTENCE_FILE: &str = "sentence.toml";

/// The folder whose files hold what growers ask about.
pub const TOPICS_FOLDER: &str = "topics/";

/// What is wrong with a language folder, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("dialogs/{folder}/{file}{}: {fault}", line.map(|line| format!(", line {line}")).unwrap_or_default())]
pub struct LanguageTrouble {
    pub folder: String,
    pub file: String,
    /// From 1; none where the fault is of the whole file.
    pub line: Option<usize>,
    pub fault: LanguageFault,
}

/// One fault of a language folder; keys are written `table.key`.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LanguageFault {
    #[error("the file is missing")]
    NoFile,
    #[error("not TOML of the expected form: {what}")]
    Form { line: Option<usize>, what: String },
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
    #[error("`{key}` leads to `{to}`, which is no step and no ending")]
    Nowhere { key: String, to: String },
    #[error("from `{0}` the questions come round to it again")]
    Round(String),
    #[error("{0}")]
    Reply(ReplyTrouble),
    #[error("{0}")]
    Danger(DangerFault),
    #[error("another folder holds the language `{0}` already")]
    Again(String),
}

impl LanguageFault {
    /// The line of a file's text that it is about, from 1: that of its key, or of the table that lacks it.
    fn line(&self, text: &str) -> Option<usize> {
        match self {
            LanguageFault::Form { line, .. } => *line,
            LanguageFault::Missing(key)
            | LanguageFault::Unknown(key)
            | LanguageFault::NotWords(key)
            | LanguageFault::NotNumber(key)
            | LanguageFault::NoWords(key)
            | LanguageFault::Unreadable { key, .. }
            | LanguageFault::Clash { second: key, .. }
            | LanguageFault::Nowhere { key, .. }
            | LanguageFault::Round(key) => line_of(text, key),
            LanguageFault::WrongCode(_) => line_of(text, "code"),
            LanguageFault::Reply(trouble) => trouble.line(text),
            LanguageFault::NoFile | LanguageFault::Again(_) | LanguageFault::Danger(_) => None,
        }
    }
}

/// The line on which `table.key` of a TOML file stands, from 1; the table's where the key is not there.
fn line_of(text: &str, key: &str) -> Option<usize> {
    let (table, key) = key.rsplit_once('.').unwrap_or(("", key));
    let mut inside = "";
    let mut head = None;
    for (at, line) in text.lines().enumerate() {
        let line = line.trim();
        if let Some(name) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            inside = name.trim();
            if inside == table {
                head = Some(at + 1);
            }
        } else if inside == table
            && let Some((name, _)) = line.split_once('=')
            && name.trim().trim_matches('"') == key
        {
            return Some(at + 1);
        }
    }
    head
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
    let mut fault = |file: &str, found: LanguageFault| {
        let text = files.get(file).map_or("", String::as_str);
        let line = found.line(text);
        troubles.push(LanguageTrouble { folder: folder.to_owned(), file: file.to_owned(), line, fault: found });
    };
    let head = read_toml::<LanguageFile>(files.get(LANGUAGE_FILE))
        .and_then(|head| if head.code == folder { Ok(head) } else { Err(LanguageFault::WrongCode(head.code)) });
    let head = head.map_err(|found| fault(LANGUAGE_FILE, found)).ok();
    let faults = read_toml::<FaultTrees>(files.get(FAULTS_FILE)).map_err(|found| fault(FAULTS_FILE, found)).ok();
    for (key, wrong) in faults.iter().flat_map(FaultTrees::wrong) {
        fault(
            FAULTS_FILE,
            match wrong {
                FaultTrouble::Nowhere(to) => LanguageFault::Nowhere { key, to },
                FaultTrouble::Round => LanguageFault::Round(key),
            },
        );
    }
    let mut words = Words::default();
    match read_toml::<Table>(files.get(WORDS_FILE)) {
        Ok(table) => words.read(table),
        Err(found) => words.faults.push(found),
    }
    if let Some(head) = &head {
        words.put("name", &head.name, Meaning::Language);
        head.called.iter().for_each(|name| words.put("called", name, Meaning::Language));
    }
    for found in words.faults.drain(..) {
        fault(WORDS_FILE, found);
    }
    let replies = match files.get(REPLIES_FILE).map(|text| Replies::load_with(folder, text, words.terms())) {
        None => Err(vec![LanguageFault::NoFile]),
        Some(read) => read.map_err(|faults| faults.into_iter().map(LanguageFault::Reply).collect()),
    };
    let replies = replies.map_err(|faults| faults.into_iter().for_each(|found| fault(REPLIES_FILE, found))).ok();
    let danger = match files.get(DANGER_FILE).map(|text| DangerFile::parse(text)) {
        None => Err(LanguageFault::NoFile),
        Some(read) => read.map_err(LanguageFault::Danger),
    };
    let danger = danger.map_err(|found| fault(DANGER_FILE, found)).ok();
    let sentence = match files.get(SENTENCE_FILE).map(|text| SentenceWords::parse(text)) {
        None => Err(LanguageFault::NoFile),
        Some(read) => read.map_err(|what| LanguageFault::Form { line: None, what }),
    };
    let sentence = sentence.map_err(|found| fault(SENTENCE_FILE, found)).ok();
    let mut topics = TopicTexts::new();
    for (file, text) in files.iter().filter(|(file, _)| file.starts_with(TOPICS_FOLDER)) {
        if let Err(found) = topics::read(text, &mut topics) {
            fault(file, LanguageFault::Form { line: None, what: found });
        }
    }
    match (head, replies, faults, danger.zip(sentence)) {
        (Some(head), Some(replies), Some(faults), Some((danger, sentence))) if troubles.is_empty() => Ok(Language {
            code: head.code,
            name: head.name,
            reviewed: head.reviewed,
            numbers: head.numbers,
            replace: head.replace,
            replies,
            faults,
            danger,
            sentence,
            topics,
            spoken: words.spoken,
            meanings: words.meanings,
        }),
        _ => Err(troubles),
    }
}

/// Reads a file of TOML in a form of its own.
fn read_toml<T: DeserializeOwned>(text: Option<&String>) -> Result<T, LanguageFault> {
    let text = text.ok_or(LanguageFault::NoFile)?;
    toml::from_str(text).map_err(|error| LanguageFault::Form {
        line: error.span().map(|span| 1 + text.bytes().take(span.start).filter(|&byte| byte == b'\n').count()),
        what: error.message().to_owned(),
    })
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
        let displacement = [("yes", value(Value::Displacement(true))), ("no", value(Value::Displacement(false)))];
        self.lists(&mut all, "displacement", displacement);
        self.lists(&mut all, "sky", TestSky::ALL.map(|sky| (sky.name(), value(Value::Sky(sky)))));
        self.lists(&mut all, "gallons", Gallon::ALL.map(|gallon| (gallon.name(), value(Value::Gallon(gallon)))));
        let answers = [("none", value(Value::Answer(Answer::None))), ("unknown", value(Value::Answer(Answer::Unknown)))];
        self.lists(&mut all, "answers", answers);
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

    /// Words that replies may tell to send, by the names of their terms; one that is missing is told of by itself.
    fn terms(&self) -> Vec<(String, &str)> {
        let fields = Field::ALL.map(|field| ("field", "fields", field.name()));
        let commands = Command::ALL.map(|command| ("command", "commands", command.name()));
        let term = |(kind, table, name): (&str, &str, &'static str)| {
            let word = self.spoken.get(&format!("{table}.{name}")).map_or(name, String::as_str);
            (format!("{kind}-{name}"), word)
        };
        fields.into_iter().chain(commands).map(term).collect()
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
