//! Words one slip of the thumb apart: a letter missing, added, changed, or swapped with its neighbour.

use std::collections::HashMap;

/// Shortest word, in letters, for which a slip is considered; shorter ones have too many neighbours.
const SHORTEST: usize = 4;
/// Longest word looked at; no vocabulary word comes near it, and the work stays bounded.
const LONGEST: usize = 32;

/// Every known single word by each form it takes when one letter is left out (a deletion neighbourhood), so that a
/// search looks at a handful of candidates.
#[derive(Debug, Clone, Default)]
pub struct NearIndex {
    by_form: HashMap<Box<str>, Vec<usize>, rustc_hash::FxBuildHasher>,
}

impl NearIndex {
    /// Indexes phrases by their place; phrases of several words and short words are left out.
    pub fn new<'a>(phrases: impl Iterator<Item = (usize, &'a str)>) -> NearIndex {
        let mut index = NearIndex::default();
        for (at, phrase) in phrases {
            if !phrase.chars().all(super::pieces::in_word) || phrase.chars().count() < SHORTEST {
                continue;
            }
            each_form(phrase, |form| index.by_form.entry(form.into()).or_default().push(at));
        }
        index
    }

    /// The places of the words that are one slip away from `word`, in order.
    pub fn search<'a>(&self, word: &str, phrase: impl Fn(usize) -> &'a String) -> Vec<usize> {
        let length = word.chars().count();
        if !(SHORTEST..=LONGEST).contains(&length) {
            return Vec::new();
        }
        let mut found = Vec::new();
        each_form(word, |form| {
            let same = self.by_form.get(form).into_iter().flatten();
            found.extend(same.copied().filter(|&at| one_slip(word, phrase(at))));
        });
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// The word itself and the word with each one letter left out.
fn each_form(word: &str, mut look: impl FnMut(&str)) {
    look(word);
    let mut form = String::with_capacity(word.len());
    for (at, letter) in word.char_indices() {
        form.clear();
        form.push_str(&word[..at]);
        form.push_str(&word[at + letter.len_utf8()..]);
        look(&form);
    }
}

/// Whether the Damerau-Levenshtein distance of two words is exactly one.
fn one_slip(one: &str, other: &str) -> bool {
    let same_start = one.chars().zip(other.chars()).take_while(|(a, b)| a == b).map(|(a, _)| a.len_utf8()).sum::<usize>();
    let (one, other) = (&one[same_start..], &other[same_start..]);
    let ends = one.chars().rev().zip(other.chars().rev());
    let same_end = ends.take_while(|(a, b)| a == b).map(|(a, _)| a.len_utf8()).sum::<usize>();
    let (mut one, mut other) = (one[..one.len() - same_end].chars(), other[..other.len() - same_end].chars());
    let mut pair = || (one.next(), other.next());
    match (pair(), pair(), pair()) {
        // A letter missing, added or changed.
        ((None, None), ..) => false,
        (_, (None, None), _) => true,
        // Two letters swapped.
        ((Some(a), Some(c)), (Some(b), Some(d)), (None, None)) => a == d && b == c,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_slip_is_one_letter_or_one_swap() {
        for (one, other, near) in [
            ("pipe", "pipe", false),
            ("pipr", "pipe", true),
            ("pip", "pipe", true),
            ("pippe", "pipe", true),
            ("ppie", "pipe", true),
            ("epip", "pipe", false),
            ("lift", "left", true),
            ("abcd", "badc", false),
        ] {
            assert_eq!(one_slip(one, other), near, "{one} {other}");
        }
    }

    #[test]
    fn the_index_finds_what_a_full_comparison_finds() {
        let words: Vec<String> = ["lift", "pipe", "panel", "garden", "drip", "maize"].map(String::from).into();
        let index = NearIndex::new(words.iter().enumerate().map(|(at, word)| (at, word.as_str())));
        for typed in ["lfit", "left", "pipr", "pannel", "gardn", "drop", "maise", "xyzw", "pip", "dripp"] {
            let all: Vec<usize> =
                (0..words.len()).filter(|&at| typed.len() >= SHORTEST && one_slip(typed, &words[at])).collect();
            assert_eq!(index.search(typed, |at| &words[at]), all, "{typed}");
        }
    }
}
