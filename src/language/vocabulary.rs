//! The words of every language in one tree, so that a message is looked up once however many languages there are.

use std::collections::HashMap;

use super::fold::fold_word;
use super::meaning::Meanings;
use super::near::NearIndex;
use super::pieces::{Piece, PieceKind, pieces};

/// What a phrase means, in each language that has it, by the language's place among the loaded ones.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The phrase, folded.
    pub phrase: String,
    senses: Vec<(usize, Meanings)>,
}

impl Entry {
    /// The meanings in the preferred language, else in the first language that has the phrase.
    pub fn meanings(&self, preferred: Option<usize>) -> &Meanings {
        let own = self.senses.iter().find(|(language, _)| Some(*language) == preferred);
        // An entry is only ever made with a first sense.
        own.or(self.senses.first()).map_or(&NO_MEANING, |(_, meanings)| meanings)
    }

    /// Whether a language has the phrase; any does where none is preferred.
    pub fn is_of(&self, preferred: Option<usize>) -> bool {
        preferred.is_none_or(|preferred| self.senses.iter().any(|(language, _)| *language == preferred))
    }

    /// Each language that has the phrase, with its meanings there.
    pub fn senses(&self) -> impl Iterator<Item = (usize, &Meanings)> {
        self.senses.iter().map(|(language, meanings)| (*language, meanings))
    }
}

const NO_MEANING: Meanings = Meanings {
    field: None,
    measure: None,
    value: None,
    command: None,
    number: None,
    class: None,
    joiner: None,
    language: false,
    filler: false,
};

#[derive(Debug, Clone, Default)]
struct Node {
    entry: Option<u32>,
    has_longer: bool,
}

/// A phrase found in a text.
#[derive(Debug, Clone, Copy)]
pub struct Found<'v> {
    pub entry: &'v Entry,
    /// Bytes of the folded text one past the phrase.
    pub end: usize,
}

/// The words of every language.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    entries: Vec<Entry>,
    /// Every piece that stands in some phrase, by its number.
    numbered: HashMap<Box<str>, u32, rustc_hash::FxBuildHasher>,
    /// Where each numbered piece leads when it is the first of a phrase, by its number.
    first: Vec<Option<u32>>,
    nodes: Vec<Node>,
    longer: HashMap<(u32, u32), u32, rustc_hash::FxBuildHasher>,
    near: NearIndex,
}

impl Vocabulary {
    /// Gathers the words of several languages: for each, in order, its phrases with their meanings.
    pub fn gather<'a>(languages: impl Iterator<Item = &'a HashMap<String, Meanings>>) -> Vocabulary {
        let mut vocabulary = Vocabulary::default();
        for (language, words) in languages.enumerate() {
            let mut words: Vec<_> = words.iter().collect();
            words.sort_by_key(|(phrase, _)| phrase.as_str());
            for (phrase, meanings) in words {
                vocabulary.add(language, phrase, meanings);
            }
        }
        vocabulary.near =
            NearIndex::new(vocabulary.entries.iter().enumerate().map(|(at, entry)| (at, entry.phrase.as_str())));
        vocabulary
    }

    fn add(&mut self, language: usize, phrase: &str, meanings: &Meanings) {
        let phrase = fold_word(phrase);
        let mut at: Option<u32> = None;
        for piece in pieces(&phrase) {
            let number = self.number(&phrase[piece.start..piece.end]);
            let next = match at {
                None => self.first[number as usize],
                Some(node) => self.longer.get(&(node, label(number, piece))).copied(),
            };
            let next = next.unwrap_or_else(|| {
                let made = self.nodes.len() as u32;
                self.nodes.push(Node::default());
                match at {
                    None => self.first[number as usize] = Some(made),
                    Some(node) => {
                        self.nodes[node as usize].has_longer = true;
                        self.longer.insert((node, label(number, piece)), made);
                    }
                }
                made
            });
            at = Some(next);
        }
        let Some(node) = at.and_then(|node| self.nodes.get_mut(node as usize)) else { return };
        let entry = *node.entry.get_or_insert_with(|| {
            self.entries.push(Entry { phrase: phrase.clone(), senses: Vec::new() });
            self.entries.len() as u32 - 1
        });
        self.entries[entry as usize].senses.push((language, meanings.clone()));
    }

    fn number(&mut self, piece: &str) -> u32 {
        if let Some(&number) = self.numbered.get(piece) {
            return number;
        }
        let number = self.first.len() as u32;
        self.numbered.insert(piece.into(), number);
        self.first.push(None);
        number
    }

    /// The longest phrase that begins with `piece`, a piece of the folded text.
    ///
    /// A phrase that ends in a digit ends there in the text too: `m2in` is a metre and two inches.
    pub fn longest<'v>(&'v self, text: &str, piece: Piece) -> Option<Found<'v>> {
        let number = *self.numbered.get(&text[piece.start..piece.end])?;
        let mut node = self.first[number as usize]?;
        let mut end = piece.end;
        let mut best = None;
        let mut last = piece;
        loop {
            let here = &self.nodes[node as usize];
            if let Some(entry) = here.entry {
                let runs_on =
                    last.kind == PieceKind::Digits && text[end..].starts_with(|letter: char| letter.is_alphanumeric());
                if !runs_on {
                    best = Some(Found { entry: &self.entries[entry as usize], end });
                }
            }
            if !here.has_longer {
                return best;
            }
            let Some(piece) = super::pieces::next_piece(text, end).filter(|piece| !breaks_phrase(text, end, piece)) else {
                return best;
            };
            let Some(&number) = self.numbered.get(&text[piece.start..piece.end]) else { return best };
            let Some(&next) = self.longer.get(&(node, label(number, piece))) else { return best };
            node = next;
            end = piece.end;
            last = piece;
        }
    }

    /// Every phrase of every language, folded.
    pub fn phrases(&self) -> impl Iterator<Item = &str> {
        self.entries.iter().map(|entry| entry.phrase.as_str())
    }

    /// Whether a folded word stands alone in some language.
    pub fn knows(&self, word: &str) -> bool {
        self.alone(word).is_some()
    }

    /// A folded word that stands alone in some language.
    pub fn alone(&self, word: &str) -> Option<&Entry> {
        let node = self.first[*self.numbered.get(word)? as usize]?;
        self.nodes[node as usize].entry.map(|entry| &self.entries[entry as usize])
    }

    /// A phrase of several words that stands in some language.
    pub fn alone_phrase(&self, phrase: &str) -> Option<&Entry> {
        let piece = super::pieces::next_piece(phrase, 0)?;
        self.longest(phrase, piece).filter(|found| found.end == phrase.len()).map(|found| found.entry)
    }

    /// The single words one slip of the thumb away from an unknown folded word of four letters or more.
    pub fn near(&self, word: &str) -> Vec<&Entry> {
        self.near.search(word, |at| &self.entries[at].phrase).into_iter().map(|at| &self.entries[at]).collect()
    }
}

/// A phrase runs on over a full stop (`sq. m`), not over a comma or a line break.
fn breaks_phrase(text: &str, end: usize, piece: &Piece) -> bool {
    piece.parted && text[end..piece.start].contains(|letter| letter != '.' && letter != ' ')
}

/// Edges of the tree: a digit glued to a unit (`m2`) is another edge than a number that follows one (`m 2`).
fn label(number: u32, piece: Piece) -> u32 {
    number * 2 + u32::from(piece.kind == PieceKind::Digits && piece.glued)
}
