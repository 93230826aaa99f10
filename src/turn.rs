//! One whole turn of a conversation: the message read, the talk stepped, the reply fitted to the phone. The one way to answer,
//! shared by every line, the command line, bulk, the rehearsals and the desk.
//!
//! Never a clock (time is an argument), a database, a network, a file or randomness.

use chrono::{DateTime, Utc};

use crate::language::{Command, DangerKind, Language};
use crate::message::{Reading, read};
use crate::reply::{PhoneText, Room, render};
use crate::sizing::set::verdict::Verdict;
pub use crate::talk::World;
use crate::talk::{
    Channel, Heard, Manner, ReminderKind, Say, Step, Taken, Talk, UssdScreen, UssdStep, danger_of, say_sheet, step,
    step_after_danger, step_danger, step_ussd, without_questions,
};

/// Parts of a reply: one where the musts fit it.
const PARTS: usize = 1;

/// Parts of a line in a danger: what to do goes before what it costs.
const DANGER_PARTS: usize = 2;

/// What a turn leaves behind.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Turn {
    pub talk: Talk,
    /// None when the number has opted out.
    pub reply: Option<PhoneText>,
    /// What also goes out as a short message, since a screen is gone when it closes.
    pub by_sms: Option<PhoneText>,
    /// The menu session waits for more; never after a short message.
    pub more: bool,
    /// The talk asks for a human.
    pub wants_person: bool,
    /// Everything held of the number is to be deleted but this talk, which keeps only an opt-out.
    pub forget: bool,
    /// The danger that this message showed: it goes before all else at the desk.
    pub danger: Option<DangerKind>,
    /// What was taken out of the message, and the advice that was said.
    pub taken: Taken,
    pub gist: Gist,
}

/// What a turn came to, for counting: nothing of the text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Gist {
    /// The verdict that was said.
    pub verdict: Option<Verdict>,
    /// Codes of what was not understood or not believed, each once, in alphabetical order.
    pub troubles: Vec<&'static str>,
    /// Codes of the changes that were advised, each once, in alphabetical order.
    pub fixes: Vec<&'static str>,
    /// Why a person is to read the message, as a code: asked, not_understood, danger, rough_place, gave_up, failed,
    /// wrote_back. It says nothing where none is wanted.
    pub person: &'static str,
}

/// A verdict's name in JSON, in files and in the database.
pub fn verdict_name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Enough => "enough",
        Verdict::Tight => "tight",
        Verdict::Short => "short",
        Verdict::Unfit => "unfit",
    }
}

impl Gist {
    fn of(reading: &Reading, says: &[Say]) -> Self {
        let verdict = says.iter().find_map(|say| match say {
            Say::Answer { verdict, .. } => *verdict,
            _ => None,
        });
        let near = (!reading.near.is_empty()).then_some("near_miss");
        let troubles = reading.troubles.iter().map(|trouble| trouble.code.code()).chain(near).collect();
        let advised = says.iter().filter_map(|say| match say {
            Say::Fix { changes, .. } => Some(changes),
            _ => None,
        });
        let fixes = advised.flatten().map(|change| change.code()).collect();
        let person = why_person(reading, says);
        Self { verdict, troubles: each_once(troubles), fixes: each_once(fixes), person }
    }
}

fn why_person(reading: &Reading, says: &[Say]) -> &'static str {
    if reading.commands.iter().any(|(command, _)| *command == Command::Person) {
        "asked"
    } else if !reading.troubles.is_empty() || !reading.near.is_empty() {
        "not_understood"
    } else if says.iter().any(|say| matches!(say, Say::Climate { .. })) {
        "rough_place"
    } else if says.contains(&Say::HandedOver) {
        "asked"
    } else {
        "gave_up"
    }
}

fn each_once(mut codes: Vec<&'static str>) -> Vec<&'static str> {
    codes.sort_unstable();
    codes.dedup();
    codes
}

/// Answers one message. The same arguments always give the same turn.
pub fn turn(world: &World, talk: &Talk, text: &str, channel: Channel, now: DateTime<Utc>) -> Turn {
    turn_to(world, talk, text, channel.into(), now)
}

/// The same, its advice worked out at least so far; a screen has no use for more.
pub fn turn_to(world: &World, talk: &Talk, text: &str, manner: Manner, now: DateTime<Utc>) -> Turn {
    match manner.channel {
        Channel::Sms | Channel::Alone => message(world, talk, text, manner, now),
        Channel::Ussd => screen(world, talk, text, now),
    }
}

/// A danger, before anything is read.
fn danger(world: &World, step: Step, room: Room) -> Turn {
    let reply = say(world, &step.talk, &step.says, room);
    let gist = Gist { person: "danger", ..Gist::default() };
    Turn { reply, gist, ..left(step) }
}

/// What the program says to a sheet as it stands in a talk: the answer, or its first question.
pub fn of_sheet(world: &World, talk: &Talk, now: DateTime<Utc>) -> Turn {
    let step = say_sheet(world, talk, now);
    let reply = say(world, &step.talk, &step.says, Room::Parts(PARTS));
    Turn { reply, ..left(step) }
}

fn message(world: &World, talk: &Talk, text: &str, manner: Manner, now: DateTime<Utc>) -> Turn {
    if let Some(step) = step_danger(world, talk, text, now) {
        return danger(world, step, Room::Parts(DANGER_PARTS));
    }
    let preferred = talk.language.as_deref().unwrap_or(&world.home_language);
    let asked = talk.asked.as_ref().and_then(|asked| asked.field());
    let reading = read(text, &world.languages, preferred, asked);
    let mut step = step(world, talk, Heard { text, reading: &reading }, manner, now);
    let opts = step.talk.stopped != talk.stopped;
    if danger_of(talk, now).is_some() && !opts {
        // A sheet is answered, an opt-out and coming back heeded; all else is of the danger.
        if reading.facts.is_empty()
            && let Some(after) = step_after_danger(world, talk, text, now)
        {
            return danger(world, after, Room::Parts(DANGER_PARTS));
        }
        step = without_questions(step);
    }
    let gist = Gist::of(&reading, &step.says);
    let reply = say(world, &step.talk, &step.says, Room::Parts(PARTS));
    let turn = Turn { reply, gist, ..left(step) };
    if manner.channel == Channel::Alone { turn } else { never_thrice(world, turn) }
}

/// Equal replies in a row after which a person is told.
const EQUAL_MOST: usize = 2;

/// The same sentence a third time helps nobody: a person is told instead, and that one was told already where that is
/// what would be said again.
fn never_thrice(world: &World, mut turn: Turn) -> Turn {
    if turn.forget || turn.talk.stopped {
        return turn;
    }
    let Some(reply) = turn.reply.take() else { return turn };
    let mark = mark_of(&reply.text);
    let is_third = turn.talk.said.len() >= EQUAL_MOST && turn.talk.said.iter().all(|said| *said == mark);
    if !is_third {
        turn.reply = Some(reply);
        note_said(&mut turn.talk, mark);
        return turn;
    }
    let handed_over = say(world, &turn.talk, &[Say::HandedOver], Room::Parts(PARTS));
    let is_that = handed_over.as_ref().is_some_and(|handed_over| mark_of(&handed_over.text) == mark);
    let instead = if is_that { say(world, &turn.talk, &[Say::StillHandedOver], Room::Parts(PARTS)) } else { handed_over };
    turn.wants_person = true;
    if let Some(instead) = &instead {
        note_said(&mut turn.talk, mark_of(&instead.text));
    }
    Turn { reply: instead, ..turn }
}

fn note_said(talk: &mut Talk, mark: u64) {
    talk.said.push(mark);
    let over = talk.said.len().saturating_sub(EQUAL_MOST);
    talk.said.drain(..over);
}

/// A mark by which a text is known again without being kept (FNV-1a, 64 bits).
fn mark_of(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |mark, byte| (mark ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

fn screen(world: &World, talk: &Talk, keyed: &str, now: DateTime<Utc>) -> Turn {
    let is_written = keyed.chars().any(char::is_alphabetic);
    let after = || step_after_danger(world, talk, keyed, now).filter(|_| is_written);
    if let Some(step) = step_danger(world, talk, keyed, now).or_else(after) {
        // A screen is gone when it closes.
        let by_sms = say(world, &step.talk, &step.says, Room::Parts(DANGER_PARTS));
        return Turn { by_sms, ..danger(world, step, Room::Screen) };
    }
    let UssdStep { step, waits, resumed, by_sms } = step_ussd(world, talk, keyed, now);
    let reply = match resumed {
        Some(screen) => Some(PhoneText::new(screen.text)),
        None => say(world, &step.talk, &step.says, Room::Screen),
    };
    let by_sms = say(world, &step.talk, &by_sms, Room::Parts(PARTS));
    let gist = Gist::of(&Reading::default(), &step.says);
    let mut turn = Turn { by_sms, more: waits.is_some(), gist, ..left(step) };
    if !turn.forget {
        let text = reply.as_ref().map(|reply| reply.text.clone()).unwrap_or_default();
        turn.talk.ussd = waits.map(|waits| UssdScreen { waits, text });
    }
    Turn { reply, ..turn }
}

/// Says what a grower asked to be reminded of, where it has fallen due.
pub fn remind(world: &World, talk: &Talk, kind: ReminderKind, now: DateTime<Utc>) -> Turn {
    let step = crate::talk::remind(world, talk, kind, now);
    let reply = say(world, &step.talk, &step.says, Room::Parts(PARTS));
    Turn { reply, ..left(step) }
}

fn left(step: Step) -> Turn {
    let Step { talk, wants_person, forget, taken, danger, .. } = step;
    let talk = if forget { Talk { stopped: talk.stopped, ..Talk::default() } } else { talk };
    Turn { talk, wants_person, forget, taken, danger, ..Turn::default() }
}

fn say(world: &World, talk: &Talk, says: &[Say], room: Room) -> Option<PhoneText> {
    language_of(world, talk).filter(|_| !says.is_empty()).map(|language| render(language, says, room))
}

/// The polite text for a screen when no answer can be made in time.
pub fn busy(world: &World) -> PhoneText {
    say(world, &Talk::default(), &[Say::Busy], Room::Screen).unwrap_or_else(|| PhoneText::new(""))
}

/// The talk's language, or the deployment's own, or whichever there is.
fn language_of<'w>(world: &'w World, talk: &Talk) -> Option<&'w Language> {
    talk.language
        .as_deref()
        .and_then(|code| world.languages.get(code))
        .or_else(|| world.languages.get(&world.home_language))
        .or_else(|| world.languages.iter().next())
}
