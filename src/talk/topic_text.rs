//! A topic's answer part by part, the next for the word more.

use super::say::Say;
use super::state::{Talk, TopicPage};
use super::world::World;
use crate::language::Command;

/// One part of a topic's answer; the talk remembers where the word more goes on.
pub fn say_part(world: &World, talk: &mut Talk, topic: &str, part: usize) -> Vec<Say> {
    let code = talk.language.as_deref().unwrap_or(&world.home_language);
    let parts = world.languages.get(code).and_then(|language| language.topics.get(topic)).map_or(0, |text| text.more.len());
    let mut says = vec![Say::Topic { topic: topic.to_owned(), part }];
    talk.page = None;
    talk.topic_page = (part < parts).then(|| TopicPage { topic: topic.to_owned(), told: part + 1 });
    if talk.topic_page.is_some() {
        says.push(Say::NextWord(Command::More));
    }
    says
}

/// Goes on with a topic; none where none was told.
pub fn more_of_topic(world: &World, talk: &mut Talk) -> Option<Vec<Say>> {
    let TopicPage { topic, told } = talk.topic_page.take()?;
    Some(say_part(world, talk, &topic, told))
}
