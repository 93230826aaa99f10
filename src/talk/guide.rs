//! What is told in several messages, one a message, the next for the word more.

use super::safety::next_of;
use super::say::Say;
use super::state::Talk;
use super::topic::{Page, Topic};
use crate::language::Command;

/// One step of a topic, with the page that it leaves; none past the last one.
pub fn guide_step(talk: &Talk, topic: Topic, at: usize) -> Option<(Vec<Say>, Page)> {
    let steps = topic.steps();
    let &(step, cautions) = steps.get(at)?;
    let mut says = vec![Say::Guide { topic, step }];
    says.extend(next_of(talk, cautions).map(Say::Safety));
    if at + 1 < steps.len() {
        says.push(Say::NextWord(Command::More));
    }
    Some((says, Page { topic, told: at + 1 }))
}
