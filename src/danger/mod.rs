//! Hearing that somebody is in danger, before anything else is made of a message.
//!
//! The words stand in the language folders (`danger.toml`), those of all languages are heard in every talk. A message
//! shows a danger when the words of one rule stand near each other in it, however long the rest is; a word of four letters or more
//! may have one letter wrong, unless it is a right word as it stands. How well that hears is measured by the committed
//! corpora (`noonwater measure`), the figures stand in DEVELOPERS.md.
//!
//! Never a clock, a database, the network, a file, randomness, or a word of any language in here.

mod compile;
mod learnt;
mod near;
mod tokens;
mod words;

use crate::language::{DangerKind, Languages};
use compile::{Book, Sign};
use learnt::Learnt;
use tokens::tokens;
use words::WordBook;

/// Everything that is heard for.
#[derive(Debug, Default)]
pub struct Ears {
    words: WordBook,
    book: Book,
    learnt: Learnt,
    languages: usize,
}

/// What was heard of danger.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Alarm {
    /// The dangers shown, in the order of [`DangerKind`].
    pub kinds: Vec<DangerKind>,
    /// The place of the language whose words showed the first of them.
    pub language: usize,
}

/// What a message in a talk of danger may ask or tell.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Aftermath {
    pub asks_safe: bool,
    pub tells_over: bool,
}

impl Ears {
    /// The rules of all languages.
    pub fn new(languages: &Languages) -> Ears {
        let mut words = WordBook::default();
        let book = Book::compile(languages, &mut words);
        words.learn(languages);
        Ears { words, book, learnt: Learnt::new(languages), languages: languages.iter().len() }
    }

    /// The dangers that a message shows. Its language is the one that has most of its words, the talk's own, at place `preferred`,
    /// winning a tie.
    pub fn hear(&self, text: &str, preferred: Option<usize>) -> Option<Alarm> {
        let tokens = tokens(text);
        let heard = self.words.heard(&tokens);
        let signs = self.book.signs(&heard);
        let mut shown: Vec<(DangerKind, usize)> = signs
            .iter()
            .filter_map(|(sign, language)| match sign {
                Sign::Danger(kind) => Some((*kind, *language)),
                Sign::AsksSafe | Sign::TellsOver => None,
            })
            .collect();
        if shown.is_empty() && !self.words.are_all_known(&tokens) {
            let words: Vec<&str> = tokens.iter().map(|token| token.word.as_str()).collect();
            let own = preferred.into_iter();
            let others = (0..self.languages).filter(|language| Some(*language) != preferred);
            shown.extend(own.chain(others).filter_map(|language| {
                Some((self.learnt.hear(&words, language, preferred.is_none_or(|own| own == language))?, language))
            }));
        }
        shown.sort();
        let of_it = |language: usize| (self.words.of_language(&heard, language), Some(language) == preferred);
        let language = shown.iter().map(|(_, language)| *language).max_by_key(|language| of_it(*language))?;
        let mut kinds: Vec<DangerKind> = shown.into_iter().map(|(kind, _)| kind).collect();
        kinds.dedup();
        Some(Alarm { kinds, language })
    }

    /// What a message after a danger asks or tells.
    pub fn aftermath(&self, text: &str) -> Aftermath {
        let signs = self.signs(text);
        let has = |sign: Sign| signs.iter().any(|(shown, _)| *shown == sign);
        Aftermath { asks_safe: has(Sign::AsksSafe), tells_over: has(Sign::TellsOver) }
    }

    fn signs(&self, text: &str) -> Vec<(Sign, usize)> {
        let heard = self.words.heard(&tokens(text));
        self.book.signs(&heard)
    }
}
