//! What a language folder holds: words, units, ways of writing numbers, replies, alphabet.
//!
//! This folder never reads a file or the environment: folders come in as names and texts, the shipped ones from inside
//! the program ([`shipped`]). It holds no word of any language itself, and never decides what a message says; that is
//! the grammar's work in `message`.
//!
//! A folder `dialogs/<code>/` holds `language.toml` (code, own name, numbers, letters to replace) and `words.toml` (what
//! growers type). [`Language::load`] names every key that is missing or unknown and every word that means two things
//! the grammar could not tell apart. [`Languages`] holds several, with all their words in one [`Vocabulary`].

mod danger;
mod digits;
mod faults;
mod field;
mod fold;
mod load;
mod meaning;
mod near;
mod numbers;
mod pieces;
mod replies;
mod sentence;
pub mod shipped;
mod topics;
mod vocabulary;

use std::collections::{BTreeMap, HashMap};

pub use danger::{Cluster, DangerFile, DangerKind, DangerLine, DangerTail, DangerWords, Part, Phrase, Rule, Word};
pub use faults::{FaultEnd, FaultStep, FaultTree, FaultTrees, Then};
pub use field::{Answer, Command, Field, Gallon};
pub use fold::{Folded, fold, fold_word};
pub use load::{
    DANGER_FILE, FAULTS_FILE, LANGUAGE_FILE, LanguageFault, LanguageTrouble, REPLIES_FILE, SENTENCE_FILE, TOPICS_FOLDER,
    WORDS_FILE,
};
pub use meaning::{Joiner, Meanings, Measure, Value};
pub use near::NearIndex;
pub use numbers::{Grouped, NumberStyle};
pub use pieces::{Piece, PieceKind, in_word, next_piece, pieces};
pub use replies::{Kind, Length, Replies, ReplyTrouble, Required, Value as ReplyValue};
pub use sentence::{SentenceWords, Turn};
pub use topics::{TopicText, TopicTexts};
pub use vocabulary::{Entry, Found, Vocabulary};

use crate::units::Unit;

/// One language.
#[derive(Debug)]
pub struct Language {
    /// ISO 639 code, which is also the folder's name.
    pub code: String,
    /// What the language calls itself.
    pub name: String,
    /// Who has read the folder; `no` until a speaker has.
    pub reviewed: String,
    pub numbers: NumberStyle,
    /// Letters to replace so that a text stays in the default SMS alphabet.
    pub replace: BTreeMap<char, String>,
    /// What the program says in it.
    pub replies: Replies,
    /// How faults are looked for.
    pub faults: FaultTrees,
    /// How somebody in danger is known, and what is answered.
    pub danger: DangerFile,
    /// How a sentence turns what stands in it.
    pub sentence: SentenceWords,
    /// What growers ask about.
    pub topics: TopicTexts,
    spoken: BTreeMap<String, String>,
    meanings: HashMap<String, Meanings>,
}

impl Language {
    /// Reads one folder: its name and its files by their names.
    pub fn load(folder: &str, files: &BTreeMap<String, String>) -> Result<Language, Vec<LanguageTrouble>> {
        load::load(folder, files)
    }

    /// The word that this language prints for a key of `words.toml`, such as `fields.lift` or `crops.tomato`.
    pub fn word(&self, table: &str, key: &str) -> Option<&str> {
        self.spoken.get(&format!("{table}.{key}")).map(String::as_str)
    }

    /// Its own name in letters of the default SMS alphabet, for a menu that is shown in any language.
    pub fn plain_name(&self) -> String {
        let plain = |letter: char| self.replace.get(&letter).cloned().unwrap_or_else(|| letter.to_string());
        self.name.chars().map(plain).collect()
    }

    /// The word for a field.
    pub fn field(&self, field: Field) -> Option<&str> {
        self.word("fields", field.name())
    }

    /// The word or sign for a unit.
    pub fn unit(&self, unit: Unit) -> Option<&str> {
        self.word("units", unit.name())
    }

    /// The word for a command.
    pub fn command(&self, command: Command) -> Option<&str> {
        self.word("commands", command.name())
    }
}

/// Every language the program was started with.
#[derive(Debug, Default)]
pub struct Languages {
    languages: Vec<Language>,
    vocabulary: Vocabulary,
}

impl Languages {
    /// The languages that travel inside the program.
    pub fn shipped() -> Result<Languages, Vec<LanguageTrouble>> {
        Languages::from_folders(shipped::folders())
    }

    /// Reads several folders, each a code with its files by name; all troubles of all folders are gathered.
    pub fn from_folders(
        folders: impl IntoIterator<Item = (String, BTreeMap<String, String>)>,
    ) -> Result<Languages, Vec<LanguageTrouble>> {
        let mut languages: Vec<Language> = Vec::new();
        let mut troubles = Vec::new();
        for (folder, files) in folders {
            match Language::load(&folder, &files) {
                Ok(language) if languages.iter().any(|other| other.code == language.code) => {
                    let fault = LanguageFault::Again(language.code);
                    troubles.push(LanguageTrouble { folder, file: LANGUAGE_FILE.to_owned(), line: None, fault });
                }
                Ok(language) => languages.push(language),
                Err(more) => troubles.extend(more),
            }
        }
        if !troubles.is_empty() {
            return Err(troubles);
        }
        let vocabulary = Vocabulary::gather(languages.iter().map(|language| &language.meanings));
        Ok(Languages { languages, vocabulary })
    }

    /// The language with this code.
    pub fn get(&self, code: &str) -> Option<&Language> {
        self.position(code).and_then(|at| self.languages.get(at))
    }

    /// Every language, in the order in which they were given.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &Language> {
        self.languages.iter()
    }

    /// The words of all of them.
    pub fn vocabulary(&self) -> &Vocabulary {
        &self.vocabulary
    }

    /// The place of a language among those loaded, by which the vocabulary names it.
    pub fn position(&self, code: &str) -> Option<usize> {
        self.languages.iter().position(|language| language.code == code)
    }

    /// The language at a place.
    pub fn at(&self, position: usize) -> Option<&Language> {
        self.languages.get(position)
    }
}
