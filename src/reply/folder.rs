//! What a language folder says in its own files beside the replies: lines of danger, answers to topics.

use super::fit::{Joint, Wordings};
use super::weights::{Weight, weight};
use crate::language::{DangerFile, DangerKind, DangerLine, Language};

/// Letters of an example that stand for a topic in a choice.
const EXAMPLE_LETTERS: usize = 40;

/// A part of a topic's answer.
pub fn topic_pieces(language: &Language, topic: &str, part: usize) -> Vec<Wordings> {
    let texts = language.topics.get(topic).map(|topic| std::iter::once(&topic.answer).chain(&topic.more));
    let text = texts.and_then(|mut texts| texts.nth(part)).cloned();
    text.map(|text| piece("topic", text)).into_iter().collect()
}

/// A topic by the shortest of the ways to ask about it that says enough.
pub fn example_of(language: &Language, topic: &str) -> String {
    let examples = language.topics.get(topic).map(|topic| topic.examples.as_slice()).unwrap_or_default();
    let first = examples.iter().find(|example| example.chars().count() <= EXAMPLE_LETTERS);
    first.or(examples.first()).map(|example| example.chars().take(EXAMPLE_LETTERS).collect()).unwrap_or_default()
}

/// The line first, whom to call last; what was done stands between. A second danger's line where there is room.
pub fn danger_pieces(
    file: &DangerFile,
    kind: DangerKind,
    line: DangerLine,
    also: Option<DangerKind>,
    emergency: Option<&str>,
) -> Vec<Wordings> {
    let words = |kind, line| file.kinds.get(&kind).map(|words| words.line(line).to_owned());
    let first = words(kind, line).map(|text| piece("danger", text));
    let second = also.and_then(|also| words(also, DangerLine::First)).map(|text| piece("danger-also", text));
    let tail = [file.tail.call(emergency), file.tail.told.clone()];
    let tail = tail.into_iter().map(|text| piece("danger-call", text));
    first.into_iter().chain(second).chain(tail).collect()
}

fn piece(name: &str, text: String) -> Wordings {
    let Weight { rank, must } = weight(name);
    Wordings { rank, must, texts: vec![text], joint: Joint::Space }
}
