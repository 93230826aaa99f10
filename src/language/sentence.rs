//! The words by which a sentence turns what stands in it: denied, supposed, asked, of somebody else.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::fold::fold_word;
use super::pieces::pieces;

/// Phrases, each as its folded words.
pub type Phrases = Vec<Vec<String>>;

/// What `sentence.toml` holds.
#[derive(Debug, Clone, Default)]
pub struct SentenceWords {
    lists: BTreeMap<Turn, Phrases>,
}

/// What a phrase does to what stands about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// What follows is not so.
    Denies,
    /// What follows is only thought of, up to the end of the clause.
    Supposes,
    /// As the first words it makes a question.
    Asks,
    /// What follows is the grower's own, even in a question.
    Mine,
    /// The clause is of somebody else, or of another time.
    Others,
    /// Beside a sum of money.
    Money,
    /// What follows is so, even where it is only a word.
    Tells,
    /// Between clauses.
    Parts,
    /// Between two things of which one is meant.
    Either,
    /// A month follows.
    Month,
    /// A place follows.
    From,
    /// Words that mean something in a sheet only.
    Weak,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    denies: Vec<String>,
    supposes: Vec<String>,
    asks: Vec<String>,
    mine: Vec<String>,
    others: Vec<String>,
    money: Vec<String>,
    tells: Vec<String>,
    parts: Vec<String>,
    either: Vec<String>,
    month: Vec<String>,
    from: Vec<String>,
    weak: Vec<String>,
}

impl SentenceWords {
    /// Reads the file's text.
    ///
    /// # Errors
    /// What is missing, unknown or no list of words.
    pub fn parse(text: &str) -> Result<SentenceWords, String> {
        let file: File = toml::from_str(text).map_err(|error| error.message().to_owned())?;
        let lists = [
            (Turn::Denies, file.denies),
            (Turn::Supposes, file.supposes),
            (Turn::Asks, file.asks),
            (Turn::Mine, file.mine),
            (Turn::Others, file.others),
            (Turn::Money, file.money),
            (Turn::Tells, file.tells),
            (Turn::Parts, file.parts),
            (Turn::Either, file.either),
            (Turn::Month, file.month),
            (Turn::From, file.from),
            (Turn::Weak, file.weak),
        ];
        let lists = lists.into_iter().map(|(turn, list)| (turn, list.iter().map(|phrase| words(phrase)).collect()));
        Ok(SentenceWords { lists: lists.collect() })
    }

    /// How many of the words of a message, from one on, are a phrase of this list: the longest.
    pub fn at(&self, turn: Turn, words: &[&str]) -> Option<usize> {
        let begins =
            |phrase: &&Vec<String>| phrase.len() <= words.len() && phrase.iter().zip(words).all(|(own, word)| own == word);
        self.lists.get(&turn)?.iter().filter(begins).map(Vec::len).max()
    }
}

fn words(phrase: &str) -> Vec<String> {
    let folded = fold_word(phrase);
    pieces(&folded).map(|piece| folded[piece.start..piece.end].replace('\'', "")).collect()
}
