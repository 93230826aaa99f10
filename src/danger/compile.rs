//! The rules of all languages, found by the word that tells most in each.

use std::collections::HashMap;

use rustc_hash::FxBuildHasher;

use super::near::{Phrase, Rule};
use super::words::{Heard, WordBook};
use crate::language::{self, Cluster, DangerKind, Languages};

/// What a rule shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    Danger(DangerKind),
    AsksSafe,
    TellsOver,
}

struct Entry {
    sign: Sign,
    language: usize,
    rule: Rule,
}

/// Every rule, by the first words of its first part.
#[derive(Default)]
pub struct Book {
    entries: Vec<Entry>,
    by_word: HashMap<u16, Vec<usize>, FxBuildHasher>,
}

impl std::fmt::Debug for Book {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Book").field("rules", &self.entries.len()).finish()
    }
}

impl Book {
    /// Takes the rules of all languages; their words get their numbers.
    pub fn compile(languages: &Languages, words: &mut WordBook) -> Book {
        let mut book = Book::default();
        for (language, folder) in languages.iter().enumerate() {
            let file = &folder.danger;
            for (kind, of_kind) in &file.kinds {
                of_kind.seen.iter().for_each(|rule| book.add(Sign::Danger(*kind), language, rule, words));
            }
            file.asks_safe.iter().for_each(|rule| book.add(Sign::AsksSafe, language, rule, words));
            file.tells_over.iter().for_each(|rule| book.add(Sign::TellsOver, language, rule, words));
        }
        book
    }

    fn add(&mut self, sign: Sign, language: usize, rule: &language::Rule, words: &mut WordBook) {
        let mut numbered = |clusters: &[Cluster]| -> Vec<Vec<Vec<Phrase>>> {
            let part = |part: &language::Part, words: &mut WordBook| -> Vec<Phrase> {
                part.iter().map(|phrase| phrase.iter().map(|word| words.number(word, language)).collect()).collect()
            };
            clusters.iter().map(|cluster| cluster.iter().map(|each| part(each, words)).collect()).collect()
        };
        let rule = Rule { with: numbered(&rule.with), without: numbered(&rule.without) };
        let place = self.entries.len();
        let leads = rule.with.first().and_then(|cluster| cluster.first()).into_iter().flatten();
        for lead in leads.filter_map(|phrase| phrase.first()) {
            let places = self.by_word.entry(*lead).or_default();
            if places.last() != Some(&place) {
                places.push(place);
            }
        }
        self.entries.push(Entry { sign, language, rule });
    }

    /// What a message shows, and in which language.
    pub fn signs(&self, heard: &Heard) -> Vec<(Sign, usize)> {
        let mut places: Vec<usize> =
            heard.iter().flatten().filter_map(|number| self.by_word.get(number)).flatten().copied().collect();
        places.sort_unstable();
        places.dedup();
        let shown = places.into_iter().map(|place| &self.entries[place]).filter(|entry| entry.rule.is_shown(heard));
        shown.map(|entry| (entry.sign, entry.language)).collect()
    }
}
