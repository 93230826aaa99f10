//! What growers ask about, and what they are answered: the files of a language folder's `topics`.

use std::collections::BTreeMap;

use serde::Deserialize;

/// Letters of an answer, so that a word may stand beside it in one message.
const ANSWER_LETTERS: usize = 150;

/// One topic.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TopicText {
    pub answer: String,
    /// What the word more goes on with, part by part.
    #[serde(default)]
    pub more: Vec<String>,
    /// Messages that ask about it, as people type them.
    pub examples: Vec<String>,
}

/// The topics of a language, by their names.
pub type TopicTexts = BTreeMap<String, TopicText>;

/// Reads one file's text into the topics.
///
/// # Errors
/// What is missing, unknown or too long; a topic that is there already.
pub fn read(text: &str, topics: &mut TopicTexts) -> Result<(), String> {
    let file: TopicTexts = toml::from_str(text).map_err(|error| error.message().to_owned())?;
    for (name, topic) in file {
        let parts = std::iter::once(&topic.answer).chain(&topic.more);
        if let Some(long) = parts.map(|part| part.chars().count()).find(|letters| *letters > ANSWER_LETTERS) {
            return Err(format!("{name}: {long}/{ANSWER_LETTERS}"));
        }
        if topics.insert(name.clone(), topic).is_some() {
            return Err(name);
        }
    }
    Ok(())
}
