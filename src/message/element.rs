//! One element of a message: a number, or a word with what it means.

use super::lex::Number;
use crate::language::Meanings;

/// What an element is.
#[derive(Debug, Clone, Copy)]
pub enum ElementKind<'v> {
    Number(Number),
    /// Hour and minute.
    Clock(u8, u8),
    Word(&'v Meanings),
    /// Letters that no language here knows.
    Unknown,
    /// A mistyped word that is asked about.
    Near,
    /// A sign without a meaning.
    Nothing,
}

/// One element, as bytes `start..end` of the folded text.
#[derive(Debug, Clone, Copy)]
pub struct Element<'v> {
    pub kind: ElementKind<'v>,
    pub start: usize,
    pub end: usize,
    pub glued: bool,
    pub parted: bool,
}

impl<'v> Element<'v> {
    pub fn meanings(&self) -> Option<&'v Meanings> {
        match self.kind {
            ElementKind::Word(meanings) => Some(meanings),
            _ => None,
        }
    }

    /// The number that this is, in digits or as a word.
    pub fn number(&self) -> Option<Number> {
        match self.kind {
            ElementKind::Number(number) => Some(number),
            ElementKind::Word(meanings) => {
                meanings.number.map(|value| Number { value, may_lead: false, may_follow: false })
            }
            _ => None,
        }
    }

    /// A word that carries nothing.
    pub fn is_filler(&self) -> bool {
        self.meanings().is_some_and(|meanings| meanings.filler)
    }
}
