//! Faults of a set, looked for step by step: `faults.toml` of a language folder.
//!
//! ```toml
//! [no_water]
//! first = "under_water"
//! [no_water.steps.under_water]
//! ask = "Is the pump wholly under water? Yes or no?"
//! yes = "sun"            # the next step, or an ending
//! no = "lower_it"
//! [no_water.ends.lower_it]
//! say = "Let it down by its rope, then switch on."
//! then = "solved"
//! ```

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

/// What is done at an ending beside what it says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Then {
    /// It runs again.
    #[serde(rename = "solved")]
    Solved,
    /// A bucket test tells more.
    #[serde(rename = "test")]
    Test,
    /// A part is to be replaced.
    #[serde(rename = "part")]
    Part,
    /// A person goes on, with the steps already taken.
    #[serde(rename = "person")]
    Person,
    /// When this set starts on a bright day.
    #[serde(rename = "engine:starts_at")]
    StartsAt,
    /// Whether this set's voltage is too high for its pump at noon.
    #[serde(rename = "engine:over_voltage")]
    OverVoltage,
    /// The flow that this set should have.
    #[serde(rename = "engine:expected_flow")]
    ExpectedFlow,
}

/// One question that hands and eyes answer.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FaultStep {
    pub ask: String,
    pub yes: String,
    pub no: String,
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FaultEnd {
    pub say: String,
    pub then: Then,
}

/// The way from a complaint to what is done about it.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FaultTree {
    pub first: String,
    pub steps: BTreeMap<String, FaultStep>,
    pub ends: BTreeMap<String, FaultEnd>,
}

/// The trees of a language by the names of what is complained of.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(transparent)]
pub struct FaultTrees(BTreeMap<String, FaultTree>);

impl FaultTrees {
    pub fn get(&self, name: &str) -> Option<&FaultTree> {
        self.0.get(name)
    }

    pub fn iter(&self) -> impl Iterator<Item = (&str, &FaultTree)> {
        self.0.iter().map(|(name, tree)| (name.as_str(), tree))
    }

    /// Names that lead nowhere, and steps that come round again, as `tree.steps.step`.
    pub fn wrong(&self) -> Vec<(String, FaultTrouble)> {
        self.iter().flat_map(|(name, tree)| tree.wrong(name)).collect()
    }
}

/// What is wrong with a tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FaultTrouble {
    /// This is the name of no step and no ending.
    Nowhere(String),
    /// Going on from here one comes back to it.
    Round,
}

impl FaultTree {
    fn wrong(&self, name: &str) -> Vec<(String, FaultTrouble)> {
        let is_there = |next: &String| self.steps.contains_key(next) || self.ends.contains_key(next);
        let first = (!is_there(&self.first)).then(|| (format!("{name}.first"), FaultTrouble::Nowhere(self.first.clone())));
        let mut wrong: Vec<_> = first.into_iter().collect();
        for (at, step) in &self.steps {
            for (key, next) in [("yes", &step.yes), ("no", &step.no)] {
                if !is_there(next) {
                    wrong.push((format!("{name}.steps.{at}.{key}"), FaultTrouble::Nowhere(next.clone())));
                }
            }
            if self.comes_back(at) {
                wrong.push((format!("{name}.steps.{at}.ask"), FaultTrouble::Round));
            }
        }
        wrong
    }

    fn comes_back(&self, from: &str) -> bool {
        let mut seen = BTreeSet::new();
        let mut waiting = vec![from];
        while let Some(step) = waiting.pop().and_then(|at| self.steps.get(at)) {
            for next in [&step.yes, &step.no] {
                if next == from {
                    return true;
                }
                if self.steps.contains_key(next) && seen.insert(next) {
                    waiting.push(next);
                }
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tree_that_leads_nowhere_or_round_is_named() {
        let text = "[hums]\nfirst = \"a\"\n[hums.steps.a]\nask = \"?\"\nyes = \"b\"\nno = \"gone\"\n\
                    [hums.steps.b]\nask = \"?\"\nyes = \"a\"\nno = \"end\"\n[hums.ends.end]\nsay = \".\"\nthen = \"solved\"\n";
        let trees: FaultTrees = toml::from_str(text).unwrap();
        let wrong = trees.wrong();
        assert!(wrong.contains(&("hums.steps.a.no".to_owned(), FaultTrouble::Nowhere("gone".to_owned()))), "{wrong:?}");
        assert!(wrong.contains(&("hums.steps.b.ask".to_owned(), FaultTrouble::Round)), "{wrong:?}");
    }
}
