//! A fault that is looked for step by step: where the search stands, and the steps already taken.

use serde::{Deserialize, Serialize};

/// The search through one tree of a language folder; the names are the same in every language.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Search {
    /// What was complained of.
    pub tree: String,
    /// Each step that was asked, with its answer.
    pub taken: Vec<StepTaken>,
    /// The ending that it came to.
    pub end: Option<String>,
}

/// One answered step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepTaken {
    pub step: String,
    pub yes: bool,
}
