//! Which of the topics of the language folders a message asks about.
//!
//! The topics and their examples stand in `dialogs/<code>/topics`; adding one needs no Rust. How alike a message is to the
//! examples of each is told by a linear model of each language, trained from them when that language is first asked about;
//! `likeness` says what else was tried and how well both did. Below a threshold nothing is claimed.
//!
//! Never a clock, a database, the network, a file, randomness, or a word of any language.

use std::sync::{Arc, OnceLock};

use crate::language::{Language, Languages};
use crate::likeness::{Learnt, Pull, features, learnt};

/// How strongly the examples pull: what did best of a few on the shaping halves of the corpora.
const PULL: Pull = Pull { own: 1.2, other: 0.3, rounds: 6 };

/// Score from which a topic is claimed.
const CLAIMED: f32 = -0.45;

/// Score from which a topic is offered as a choice.
const OFFERED: f32 = -0.85;

/// How far behind the best a second topic may lie to be claimed beside it.
const BESIDE: f32 = 0.0;

/// The topics of every language.
#[derive(Debug, Default)]
pub struct Topics {
    languages: Vec<OfLanguage>,
}

#[derive(Debug, Default)]
struct OfLanguage {
    names: Vec<String>,
    examples: Vec<(String, Vec<usize>)>,
    learnt: OnceLock<Arc<Learnt>>,
}

/// A topic and how much a message is like it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Likely<'t> {
    pub topic: &'t str,
    pub score: f32,
}

impl Topics {
    /// Of all languages; nothing is learnt yet.
    pub fn new(languages: &Languages) -> Topics {
        Topics { languages: languages.iter().map(OfLanguage::new).collect() }
    }

    /// Every topic of a language by its likeness to a message, the most alike first.
    pub fn ranked(&self, text: &str, language: usize) -> Vec<Likely<'_>> {
        let Some(of) = self.languages.get(language).filter(|of| !of.names.is_empty()) else { return Vec::new() };
        let learnt = of.learnt();
        let vector = learnt.space.vector(&features(text));
        if vector.is_empty() {
            return Vec::new();
        }
        let scores = learnt.linear.scores(&vector);
        let mut all: Vec<Likely<'_>> = of.names.iter().zip(scores).map(|(topic, score)| Likely { topic, score }).collect();
        all.sort_by(|one, other| other.score.total_cmp(&one.score));
        all
    }

    /// The topic that the nearest example is of: the other way that was tried.
    pub fn nearest(&self, text: &str, language: usize) -> Option<&str> {
        let of = self.languages.get(language).filter(|of| !of.names.is_empty())?;
        let learnt = of.learnt();
        let (kind, _) = learnt.nearest.nearest(&learnt.space.vector(&features(text)))?;
        of.names.get(kind).map(String::as_str)
    }
}

/// The topics that a message may be said to ask about.
pub fn claimed<'t>(ranked: &[Likely<'t>]) -> Vec<&'t str> {
    let first = ranked.iter().take(1).filter(|likely| likely.score >= CLAIMED);
    let second = ranked.iter().skip(1).take(1).filter(|likely| likely.score >= BESIDE);
    first.chain(second).map(|likely| likely.topic).collect()
}

/// The two topics to choose from where none is claimed.
pub fn offered<'t>(ranked: &[Likely<'t>]) -> Vec<&'t str> {
    ranked.iter().take(2).filter(|likely| likely.score >= OFFERED).map(|likely| likely.topic).collect()
}

impl OfLanguage {
    fn new(language: &Language) -> OfLanguage {
        let names = language.topics.keys().cloned().collect();
        let examples = language.topics.values().enumerate();
        let examples = examples
            .flat_map(|(at, topic)| topic.examples.iter().map(move |example| (example.clone(), vec![at])))
            .collect();
        OfLanguage { names, examples, learnt: OnceLock::new() }
    }

    fn learnt(&self) -> &Learnt {
        self.learnt.get_or_init(|| learnt(&self.examples, self.names.len(), PULL))
    }
}
