//! Which of the rules' words a message holds, and where.

use std::collections::{HashMap, HashSet};

use rustc_hash::FxBuildHasher;
use smallvec::SmallVec;

use super::tokens::{Token, tokens};
use crate::language::{Language, Languages, NearIndex, Word};

/// Fewest letters of a part of a word that may have one wrong; of shorter ones too many other words come out.
const SLIP_IN_PART: usize = 5;

/// The words of the rules that one token of a message is, by their numbers.
pub type Numbers = SmallVec<[u16; 4]>;

/// A message's tokens, each as the words that it is.
pub type Heard = Vec<Numbers>;

/// Every word of the rules, found by its letters.
#[derive(Debug, Default)]
pub struct WordBook {
    words: Vec<Word>,
    letters: Vec<String>,
    /// The languages that have each word, one bit each.
    spoken: Vec<u64>,
    numbers: HashMap<Word, u16, FxBuildHasher>,
    whole: HashMap<Box<str>, u16, FxBuildHasher>,
    /// Words that may stand within a longer one.
    parts: HashMap<Box<str>, SmallVec<[u16; 2]>, FxBuildHasher>,
    near: NearIndex,
    /// Right words, with what they are; no slip is looked for in them.
    known: HashMap<Box<str>, Numbers, FxBuildHasher>,
    /// The words of sheets.
    sheet: HashSet<Box<str>, FxBuildHasher>,
}

impl WordBook {
    /// The number of a word, a new one for a new word.
    pub fn number(&mut self, word: &Word, language: usize) -> u16 {
        if let Some(&number) = self.numbers.get(word) {
            self.spoken[usize::from(number)] |= 1 << language.min(63);
            return number;
        }
        self.spoken.push(1 << language.min(63));
        let number = u16::try_from(self.words.len()).unwrap_or(u16::MAX);
        self.words.push(word.clone());
        self.letters.push(word.letters.clone());
        self.numbers.insert(word.clone(), number);
        if word.open_start || word.open_end {
            self.parts.entry(word.letters.as_str().into()).or_default().push(number);
        } else {
            self.whole.insert(word.letters.as_str().into(), number);
        }
        number
    }

    /// Learns which words are right as they stand; no rule's word may come after.
    pub fn learn(&mut self, languages: &Languages) {
        self.near = NearIndex::new(self.letters.iter().enumerate().map(|(at, letters)| (at, letters.as_str())));
        self.sheet = languages.vocabulary().phrases().flat_map(tokens).map(|token| token.word.into()).collect();
        let vocabulary = languages.vocabulary().phrases();
        let asked = languages.iter().flat_map(often);
        let folders = languages.iter().flat_map(|language| {
            let file = &language.danger;
            let not = file.kinds.values().flat_map(|kind| &kind.not);
            file.plain.iter().chain(not).map(String::as_str)
        });
        let right: Vec<Token> = vocabulary.chain(folders).flat_map(tokens).chain(asked).collect();
        for token in right {
            let numbers = self.exact(&token.word);
            self.known.insert(token.word.into(), numbers);
        }
    }

    /// How many words of a message a language has.
    pub fn of_language(&self, heard: &Heard, language: usize) -> usize {
        let is_its = |number: &u16| self.spoken[usize::from(*number)] & (1 << language.min(63)) != 0;
        heard.iter().filter(|numbers| numbers.iter().any(is_its)).count()
    }

    /// Whether a message has no word but those of a sheet.
    pub fn are_all_known(&self, tokens: &[Token]) -> bool {
        tokens.iter().all(|token| self.sheet.contains(token.word.as_str()))
    }

    /// What the words of a message are.
    pub fn heard(&self, tokens: &[Token]) -> Heard {
        let both = |token: &Token| {
            let mut numbers = self.numbers_of(&token.word);
            if let Some(bare) = &token.bare {
                numbers.extend(self.numbers_of(bare));
            }
            numbers
        };
        tokens.iter().map(both).collect()
    }

    fn numbers_of(&self, word: &str) -> Numbers {
        if let Some(numbers) = self.known.get(word) {
            return numbers.clone();
        }
        let mut numbers = self.exact(word);
        numbers.extend(self.slipped(word));
        numbers
    }

    fn exact(&self, word: &str) -> Numbers {
        let mut numbers: Numbers = self.whole.get(word).copied().into_iter().collect();
        for (part, at_start, at_end) in parts_of(word) {
            let fits = |number: &&u16| self.fits(**number, at_start, at_end);
            numbers.extend(self.parts.get(part).into_iter().flatten().filter(fits).copied());
        }
        numbers.sort_unstable();
        numbers.dedup();
        numbers
    }

    fn slipped(&self, word: &str) -> Numbers {
        let mut numbers = Numbers::new();
        for (part, at_start, at_end) in parts_of(word) {
            let is_whole = at_start && at_end;
            if !is_whole && part.chars().count() < SLIP_IN_PART {
                continue;
            }
            for at in self.near.search(part, |at| &self.letters[at]) {
                let Some(near) = self.words.get(at) else { continue };
                let is_part = near.open_start || near.open_end;
                let fits = if is_part {
                    near.letters.chars().count() >= SLIP_IN_PART && self.fits(at as u16, at_start, at_end)
                } else {
                    is_whole
                };
                if fits {
                    numbers.push(at as u16);
                }
            }
        }
        numbers.sort_unstable();
        numbers.dedup();
        numbers
    }

    /// Whether a word may stand where a part of a longer one does.
    fn fits(&self, number: u16, at_start: bool, at_end: bool) -> bool {
        let word = &self.words[usize::from(number)];
        (word.open_start || at_start) && (word.open_end || at_end)
    }
}

/// Words that growers' questions have several times: rightly spelt, a slip would stand there once.
fn often(language: &Language) -> Vec<Token> {
    const OFTEN: usize = 3;
    let mut counts: HashMap<String, usize, FxBuildHasher> = HashMap::default();
    for token in language.topics.values().flat_map(|topic| &topic.examples).flat_map(|example| tokens(example)) {
        *counts.entry(token.word).or_default() += 1;
    }
    let often = counts.into_iter().filter(|(_, count)| *count >= OFTEN);
    often.map(|(word, _)| Token { word, bare: None }).collect()
}

/// Every part of a word of three letters or more, the whole among them: whether it begins and whether it ends the word.
fn parts_of(word: &str) -> impl Iterator<Item = (&str, bool, bool)> {
    const SHORTEST: usize = 2;
    let bounds: SmallVec<[usize; 24]> = word.char_indices().map(|(at, _)| at).chain([word.len()]).collect();
    let last = bounds.len() - 1;
    (0..last).flat_map(move |from| {
        let bounds = bounds.clone();
        (from + SHORTEST..=last).map(move |to| (&word[bounds[from]..bounds[to]], from == 0, to == last))
    })
}
