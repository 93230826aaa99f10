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
    by_form: HashMap<String, Vec<usize>, rustc_hash::FxBuildHasher>,
}

impl NearIndex {
    /// Indexes phrases by their place; phrases of several words and short words are left out.
    pub fn new<'a>(phrases: impl Iterator<Item = (usize, &'a str)>) -> NearIndex {
        let mut index = NearIndex::default();
        for (at, phrase) in phrases {
            if !phrase.chars().all(super::pieces::in_word) || phrase.chars().count() < SHORTEST {
                continue;
            }
            for form in forms(phrase) {
                index.by_form.entry(form).or_default().push(at);
            }
        }
        index
    }

    /// The places of the words that are one slip away from `word`, in order.
    pub fn search<'a>(&self, word: &str, phrase: impl Fn(usize) -> &'a String) -> Vec<usize> {
        let length = word.chars().count();
        if !(SHORTEST..=LONGEST).contains(&length) {
            return Vec::new();
        }
        let mut found: Vec<usize> = forms(word)
            .filter_map(|form| self.by_form.get(&form))
            .flatten()
            .copied()
            .filter(|&at| one_slip(word, phrase(at)))
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// The word itself and the word with each one letter left out.
fn forms(word: &str) -> impl Iterator<Item = String> + '_ {
    let without = word.char_indices().map(|(at, letter)| [&word[..at], &word[at + letter.len_utf8()..]].concat());
    std::iter::once(word.to_owned()).chain(without)
}

/// Whether the Damerau-Levenshtein distance of two words is exactly one.
fn one_slip(one: &str, other: &str) -> bool {
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    let same_start = one.iter().zip(&other).take_while(|(a, b)| a == b).count();
    let (one, other) = (&one[same_start..], &other[same_start..]);
    let same_end = one.iter().rev().zip(other.iter().rev()).take_while(|(a, b)| a == b).count();
    let (one, other) = (&one[..one.len() - same_end], &other[..other.len() - same_end]);
    match (one, other) {
        ([_], []) | ([], [_]) | ([_], [_]) => true,
        ([a, b], [c, d]) => a == d && b == c,
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
