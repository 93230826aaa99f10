//! A message's words with what parts them, and the phrases of a language's folder among them.

use crate::language::{Language, Languages, Piece, SentenceWords, Turn, pieces};

/// A word of the folded text.
pub struct Word<'t> {
    pub text: String,
    pub piece: Piece,
    /// A sign that ends a sentence stands before it.
    pub ends_before: Option<&'t str>,
}

pub fn turns_of<'l>(languages: &'l Languages, preferred: &str) -> Vec<&'l SentenceWords> {
    languages.get(preferred).map(|language: &Language| &language.sentence).into_iter().collect()
}

pub fn words_of(folded: &str) -> Vec<Word<'_>> {
    let mut from = 0;
    pieces(folded)
        .map(|piece| {
            let between = &folded[from..piece.start];
            from = piece.end;
            let ends = ["?", "!", ";", "\n", ". ", ","].into_iter().find(|sign| between.contains(sign));
            Word { text: folded[piece.start..piece.end].replace('\'', ""), piece, ends_before: ends }
        })
        .collect()
}

/// How many words from one on are a phrase of a list, in any of the languages; a phrase that the grammar knows as a whole is
/// what it says.
pub fn at_word(turns: &[&SentenceWords], turn: Turn, words: &[Word], at: usize, languages: &Languages) -> Option<usize> {
    let rest: Vec<&str> = words[at..].iter().take(6).map(|word| word.text.as_str()).collect();
    let longest = turns.iter().filter_map(|words| words.at(turn, &rest)).max()?;
    let known = |length: usize| {
        let phrase = rest.get(..length)?.join(" ");
        languages.vocabulary().alone_phrase(&phrase)
    };
    let is_known = (longest + 1..=rest.len().min(4)).any(|length| known(length).is_some());
    (!is_known).then_some(longest)
}
