//! One whole turn of a conversation: the message read, the talk stepped, the reply fitted to the phone. The one way to answer,
//! shared by every line, the command line, bulk and the desk.
//!
//! Never a clock (time is an argument), a database, a network, a file or randomness.

use chrono::{DateTime, Utc};

use crate::language::Language;
use crate::reply::{PhoneText, Room, render};
pub use crate::talk::World;
use crate::talk::{Channel, Heard, Talk, read, step};

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
}

/// Answers one message. The same arguments always give the same turn.
pub fn turn(world: &World, talk: &Talk, text: &str, channel: Channel, now: DateTime<Utc>) -> Turn {
    let preferred = talk.language.as_deref().unwrap_or(&world.home_language);
    let asked = talk.asked.as_ref().and_then(|asked| asked.field());
    let reading = read(text, &world.languages, preferred, asked);
    let step = step(world, talk, Heard { text, reading: &reading }, now);
    let room = match channel {
        Channel::Sms => Room::Parts(PARTS),
        Channel::Ussd => Room::Screen,
    };
    let reply =
        language_of(world, &step.talk).filter(|_| !step.says.is_empty()).map(|language| render(language, &step.says, room));
    Turn { talk: step.talk, reply, wants_person: step.wants_person }
}

/// The talk's language, or the deployment's own, or whichever there is.
fn language_of<'w>(world: &'w World, talk: &Talk) -> Option<&'w Language> {
    talk.language
        .as_deref()
        .and_then(|code| world.languages.get(code))
        .or_else(|| world.languages.get(&world.home_language))
        .or_else(|| world.languages.iter().next())
}
