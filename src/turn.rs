//! One whole turn of a conversation: the message read, the talk stepped, the reply fitted to the phone. The one way to answer,
//! shared by every line, the command line, bulk and the desk.
//!
//! Never a clock (time is an argument), a database, a network, a file or randomness.

use chrono::{DateTime, Utc};

use crate::language::Language;
use crate::message::Reading;
use crate::reply::{PhoneText, Room, render};
use crate::sizing::verdict::Verdict;
pub use crate::talk::World;
use crate::talk::{Channel, Heard, Say, Talk, read, step};

/// Parts of a reply: one where the musts fit it.
const PARTS: usize = 1;

/// What a turn leaves behind.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    pub talk: Talk,
    /// None when the number has opted out.
    pub reply: Option<PhoneText>,
    /// The talk asks for a human.
    pub wants_person: bool,
    pub gist: Gist,
}

/// What a turn came to, for counting: nothing of the text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Gist {
    /// The verdict that was said.
    pub verdict: Option<Verdict>,
    /// Codes of what was not understood or not believed, each once, in alphabetical order.
    pub troubles: Vec<&'static str>,
}

/// A verdict's name in JSON, in files and in the database.
pub fn verdict_name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Enough => "enough",
        Verdict::Tight => "tight",
        Verdict::Short => "short",
    }
}

impl Gist {
    fn of(reading: &Reading, says: &[Say]) -> Self {
        let verdict = says.iter().find_map(|say| match say {
            Say::Answer { verdict, .. } => *verdict,
            _ => None,
        });
        let near = (!reading.near.is_empty()).then_some("near_miss");
        let mut troubles: Vec<_> = reading.troubles.iter().map(|trouble| trouble.code.code()).chain(near).collect();
        troubles.sort_unstable();
        troubles.dedup();
        Self { verdict, troubles }
    }
}

/// Answers one message. The same arguments always give the same turn.
pub fn turn(world: &World, talk: &Talk, text: &str, channel: Channel, now: DateTime<Utc>) -> Turn {
    let preferred = talk.language.as_deref().unwrap_or(&world.home_language);
    let asked = talk.asked.as_ref().and_then(|asked| asked.field());
    let reading = read(text, &world.languages, preferred, asked);
    let step = step(world, talk, Heard { text, reading: &reading }, now);
    let gist = Gist::of(&reading, &step.says);
    let room = match channel {
        Channel::Sms => Room::Parts(PARTS),
        Channel::Ussd => Room::Screen,
    };
    let reply =
        language_of(world, &step.talk).filter(|_| !step.says.is_empty()).map(|language| render(language, &step.says, room));
    Turn { talk: step.talk, reply, wants_person: step.wants_person, gist }
}

/// The talk's language, or the deployment's own, or whichever there is.
fn language_of<'w>(world: &'w World, talk: &Talk) -> Option<&'w Language> {
    talk.language
        .as_deref()
        .and_then(|code| world.languages.get(code))
        .or_else(|| world.languages.get(&world.home_language))
        .or_else(|| world.languages.iter().next())
}
