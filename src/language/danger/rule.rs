//! One way in which a message shows something: words that must stand near each other, and words that must not.
//!
//! ```text
//! rule    := cluster (" + " cluster | " - " cluster)*      all of them near the first, none of those after a minus
//! cluster := part (" > " part)*                            one soon after the other
//! part    := choice ("|" choice)*
//! choice  := "@" group | word (" " word)*                  a phrase's words stand in a row
//! word    := letters | letters"*" | "*"letters | "*"letters"*"
//! ```

use std::collections::BTreeMap;

use crate::language::fold::fold_word;

/// A word of a rule, folded, with no apostrophe.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Word {
    pub letters: String,
    /// Other letters may stand before these.
    pub open_start: bool,
    /// Other letters may stand after them.
    pub open_end: bool,
}

/// Words in a row.
pub type Phrase = Vec<Word>;

/// One phrase or another.
pub type Part = Vec<Phrase>;

/// One part soon after the other.
pub type Cluster = Vec<Part>;

/// One way of showing something; see the head of this file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rule {
    /// At least one; the first tells most.
    pub with: Vec<Cluster>,
    pub without: Vec<Cluster>,
}

/// Why a text is no rule.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RuleFault {
    #[error("the group {0:?} is not among `groups`")]
    NoGroup(String),
    #[error("a word is missing")]
    NoWord,
    #[error("it must not begin with a minus")]
    OnlyWithout,
}

impl Rule {
    /// Reads a rule; groups are put in where they are named.
    ///
    /// # Errors
    /// A group that is not there, a word that is missing.
    pub fn parse(text: &str, groups: &BTreeMap<String, Vec<String>>) -> Result<Rule, RuleFault> {
        let mut rule = Rule { with: Vec::new(), without: Vec::new() };
        let mut is_without = false;
        let mut cluster = Vec::new();
        for word in text.split(' ').chain(["+"]) {
            match word {
                "+" | "-" => {
                    let read = Self::cluster(&std::mem::take(&mut cluster), groups)?;
                    if is_without {
                        rule.without.push(read)
                    } else {
                        rule.with.push(read)
                    }
                    is_without = word == "-";
                }
                word => cluster.push(word),
            }
        }
        if rule.with.is_empty() { Err(RuleFault::OnlyWithout) } else { Ok(rule) }
    }

    fn cluster(words: &[&str], groups: &BTreeMap<String, Vec<String>>) -> Result<Cluster, RuleFault> {
        words.split(|word| *word == ">").map(|part| Self::part(&part.join(" "), groups)).collect()
    }

    fn part(text: &str, groups: &BTreeMap<String, Vec<String>>) -> Result<Part, RuleFault> {
        let mut part = Vec::new();
        for choice in text.split('|') {
            match choice.trim().strip_prefix('@') {
                Some(name) => {
                    let group = groups.get(name).ok_or_else(|| RuleFault::NoGroup(name.to_owned()))?;
                    for phrase in group {
                        part.push(Self::phrase(phrase)?);
                    }
                }
                None => part.push(Self::phrase(choice)?),
            }
        }
        Ok(part)
    }

    fn phrase(text: &str) -> Result<Phrase, RuleFault> {
        let words: Phrase = text.split_whitespace().map(Word::parse).collect();
        let is_sound = !words.is_empty() && words.iter().all(|word| !word.letters.is_empty());
        is_sound.then_some(words).ok_or(RuleFault::NoWord)
    }
}

impl Word {
    fn parse(text: &str) -> Word {
        let letters = fold_word(text.trim_matches('*')).replace('\'', "");
        Word { letters, open_start: text.starts_with('*'), open_end: text.ends_with('*') }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_is_clusters_that_must_and_must_not_be_near() {
        let groups = BTreeMap::from([("who".to_owned(), vec!["he".to_owned(), "old man".to_owned()])]);
        let rule = Rule::parse("fell|fall* > in + @who - pump fell", &groups).unwrap();
        assert_eq!((rule.with.len(), rule.without.len()), (2, 1));
        assert_eq!(rule.with[0].len(), 2, "one part after the other");
        assert!(rule.with[0][0][1][0].open_end);
        assert_eq!(rule.with[1][0].len(), 2, "the group's two phrases");
        assert_eq!(rule.without[0][0][0].len(), 2);
        assert_eq!(Rule::parse("@thing", &groups), Err(RuleFault::NoGroup("thing".to_owned())));
        assert_eq!(Rule::parse("a + ", &groups), Err(RuleFault::NoWord));
    }
}
