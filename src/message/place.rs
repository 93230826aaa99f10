//! The name of a place, which may be any words at all, or its coordinates.

use crate::language::Field;

use super::element::ElementKind;
use super::gather::Gatherer;
use super::items::{Alone, Head, ItemKind, Lone};

impl Gatherer<'_, '_> {
    /// place := the word, then coordinates, or words up to a number, a comma, or a word that says something else.
    pub fn place(&mut self, at: usize) -> usize {
        let mut first = at + 1;
        while self.list.get(first).is_some_and(|element| element.is_filler() && !element.parted) {
            first += 1;
        }
        let mut end = first;
        let coordinates = self.coordinates(first);
        if coordinates > first {
            end = coordinates;
        } else {
            while let Some(element) = self.list.get(end) {
                let says = element.meanings().is_some_and(|meanings| {
                    meanings.field.is_some() || (end > first && (meanings.value.is_some() || meanings.command.is_some()))
                });
                if element.parted || says || element.number().is_some() || matches!(element.kind, ElementKind::Clock(..)) {
                    break;
                }
                end += 1;
            }
            while end > first && (self.list[end - 1].is_filler() || matches!(self.list[end - 1].kind, ElementKind::Nothing))
            {
                end -= 1;
            }
        }
        if end == first {
            self.push(ItemKind::Head(Head::Field(Field::Place), Alone::Asks), self.list[at], None);
            return at + 1;
        }
        // A minus sign before the first coordinate belongs to it.
        let start = self.list[first].start;
        self.items.places.push(Lone { what: (), start, end: self.list[end - 1].end });
        self.gap += 1;
        end
    }

    /// The place after up to two numbers, each with a sign.
    fn coordinates(&self, first: usize) -> usize {
        let mut end = first;
        for _ in 0..2 {
            let signed = self.list.get(end).is_some_and(|element| &self.text[element.start..element.end] == "-");
            let number = end + usize::from(signed);
            match self.list.get(number).map(|element| element.kind) {
                Some(ElementKind::Number(_)) => end = number + 1,
                _ => break,
            }
        }
        end
    }
}
