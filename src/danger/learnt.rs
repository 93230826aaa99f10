//! What the examples of danger teach beside the rules: a linear model of each language, trained when first asked. It knows
//! ways of saying a thing that no rule names; the rules know what must never be missed.

use std::sync::{Arc, OnceLock};

use crate::language::{DangerKind, Language, Languages};
use crate::likeness::{self, Pull, features};

/// How strongly the examples pull: dangers are few beside all else that growers write.
const PULL: Pull = Pull { own: 1.0, other: 0.3, rounds: 12 };

/// Score from which a danger is heard.
const HEARD: f32 = 0.25;

/// The same in a language that is not the talk's.
const HEARD_IN_ANOTHER: f32 = 0.7;

/// Words of a message looked at together, and how far the next look begins: a danger in much else shows in its own words.
const WINDOW: usize = 16;
const STRIDE: usize = 8;

/// Fewest words that can be more than a name or a slip.
const FEWEST: usize = 3;

/// The models of all languages.
#[derive(Debug, Default)]
pub struct Learnt {
    languages: Vec<OfLanguage>,
}

#[derive(Debug, Default)]
struct OfLanguage {
    /// Each example with its kind; none where it only sounds like danger.
    examples: Vec<(String, Option<DangerKind>)>,
    model: OnceLock<Arc<likeness::Learnt>>,
}

impl Learnt {
    /// Of all languages; nothing is learnt yet.
    pub fn new(languages: &Languages) -> Learnt {
        Learnt { languages: languages.iter().map(OfLanguage::new).collect() }
    }

    /// The kind that some words of a message in a language are most like, where they are like a danger at all.
    pub fn hear(&self, words: &[&str], language: usize, is_own: bool) -> Option<DangerKind> {
        let least = if is_own { HEARD } else { HEARD_IN_ANOTHER };
        let of = self.languages.get(language).filter(|of| !of.examples.is_empty())?;
        if words.len() < FEWEST {
            return None;
        }
        let model = of.model();
        let starts = (0..words.len()).step_by(STRIDE).take_while(|start| *start == 0 || start + STRIDE < words.len());
        let heard = starts.filter_map(|start| {
            let window = words[start..words.len().min(start + WINDOW)].join(" ");
            let scores = model.linear.scores(&model.space.vector(&features(&window)));
            let (any, kinds) = scores.split_first()?;
            let best = kinds.iter().enumerate().max_by(|one, other| one.1.total_cmp(other.1))?;
            (*any >= least).then(|| DangerKind::ALL.get(best.0).copied())?
        });
        heard.min()
    }
}

impl OfLanguage {
    fn new(language: &Language) -> OfLanguage {
        let kinds = language.danger.kinds.iter();
        let dangers = kinds.flat_map(|(kind, words)| {
            let examples = words.examples.iter().map(|example| (example.clone(), Some(*kind)));
            examples.chain(words.not.iter().map(|other| (other.clone(), None)))
        });
        let topics = language.topics.values().flat_map(|topic| &topic.examples).map(|example| (example.clone(), None));
        OfLanguage { examples: dangers.chain(topics).collect(), model: OnceLock::new() }
    }

    fn model(&self) -> &likeness::Learnt {
        self.model.get_or_init(|| {
            let of = |kind: &Option<DangerKind>| kind.map_or_else(Vec::new, |kind| vec![0, 1 + kind as usize]);
            let examples: Vec<_> = self.examples.iter().map(|(example, kind)| (example.clone(), of(kind))).collect();
            likeness::learnt(&examples, 1 + DangerKind::ALL.len(), PULL)
        })
    }
}
