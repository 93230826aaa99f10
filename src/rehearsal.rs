//! Rehearsals: conversations written down with their times, played through the core and compared line by line.
//!
//! ```text
//! # A note.
//! home: en                    the deployment's language; also number, channel (sms, ussd or alone) and at (the time it begins)
//! > lift 5                    what the phone sends; nothing after the mark is a menu dialled
//! < I understood: lift 5 m.   what it gets, a line each
//! ~ ...                       what it gets as a short message besides, or as a reminder once time has passed
//! = person                    what else comes of it: person, silence, ends (the session), forgotten
//! + 2 days                    time that passes; a minute passes before each message anyway
//! ```
//!
//! Never a clock, a database, a network, a file or randomness.

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};

use crate::talk::{Channel, Talk};
use crate::turn::{Turn, World, remind, turn};

/// A message is read and the next one typed in this time, where nothing else is said.
const BETWEEN: TimeDelta = TimeDelta::minutes(1);

/// One written line.
#[derive(Debug, Clone, PartialEq)]
enum Line {
    /// A note or nothing.
    Note(String),
    Home(String),
    Number(String),
    Channel(Channel),
    At(DateTime<Utc>),
    Wait(String, TimeDelta),
    Sent(String),
    Got(String),
}

/// A conversation as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Rehearsal {
    lines: Vec<Line>,
}

/// What is wrong with a written conversation.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {fault}")]
pub struct RehearsalError {
    pub line: usize,
    pub fault: RehearsalFault,
}

/// What a line may lack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum RehearsalFault {
    #[error("begin it with > < ~ = + or #, or with home, number, channel or at")]
    Mark,
    #[error("write a wait such as + 3 days, in min, h or days")]
    Wait,
    #[error("a channel is sms, ussd or alone")]
    Channel,
    #[error("write a time such as 2026-03-02 07:00")]
    Time,
}

/// An answer that came out otherwise than written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The line of the message that was sent.
    pub line: usize,
    pub sent: String,
    pub written: Vec<String>,
    pub played: Vec<String>,
}

impl Rehearsal {
    /// Reads a written conversation.
    pub fn read(text: &str) -> Result<Rehearsal, RehearsalError> {
        let lines = text
            .lines()
            .enumerate()
            .map(|(at, line)| read_line(line).map_err(|fault| RehearsalError { line: at + 1, fault }));
        Ok(Rehearsal { lines: lines.collect::<Result<_, _>>()? })
    }

    /// Plays it, and gives every answer that differs.
    pub fn play(&self, world: &mut World) -> Vec<Difference> {
        self.answers(world).into_iter().filter(|answer| answer.written != answer.played).collect()
    }

    /// The conversation with every answer as it comes out today.
    pub fn rewritten(&self, world: &mut World) -> String {
        let mut answers = self.answers(world).into_iter().peekable();
        let mut text = String::new();
        for (at, line) in self.lines.iter().enumerate() {
            let written = match line {
                Line::Got(_) => continue,
                Line::Note(note) => note.clone(),
                Line::Home(home) => format!("home: {home}"),
                Line::Number(number) => format!("number: {number}"),
                Line::Channel(Channel::Sms) => "channel: sms".to_owned(),
                Line::Channel(Channel::Ussd) => "channel: ussd".to_owned(),
                Line::Channel(Channel::Alone) => "channel: alone".to_owned(),
                Line::At(at) => format!("at: {}", at.format("%Y-%m-%d %H:%M")),
                Line::Wait(wait, _) => format!("+ {wait}"),
                Line::Sent(sent) => marked('>', sent),
            };
            text.push_str(&written);
            text.push('\n');
            if let Some(answer) = answers.next_if(|answer| answer.line == at + 1) {
                for played in answer.played {
                    text.push_str(&played);
                    text.push('\n');
                }
            }
        }
        text
    }

    fn answers(&self, world: &mut World) -> Vec<Difference> {
        let mut talk = Talk::default();
        let mut now = DateTime::<Utc>::UNIX_EPOCH;
        let mut channel = Channel::Sms;
        let mut answers: Vec<Difference> = Vec::new();
        for (at, line) in self.lines.iter().enumerate() {
            match line {
                Line::Note(_) => {}
                Line::Home(home) => world.home_language.clone_from(home),
                Line::Number(_) => talk = Talk::default(),
                Line::Channel(by) => channel = *by,
                Line::At(time) => now = *time,
                Line::Wait(wait, passes) => {
                    now += *passes;
                    let played = reminders(world, &mut talk, now);
                    if !played.is_empty() {
                        let sent = format!("+ {wait}");
                        answers.push(Difference { line: at + 1, sent, written: Vec::new(), played });
                    }
                }
                Line::Got(written) => {
                    if let Some(answer) = answers.last_mut() {
                        answer.written.push(written.clone());
                    }
                }
                Line::Sent(sent) => {
                    now += BETWEEN;
                    let turn = turn(world, &talk, sent, channel, now);
                    let played = played(&turn, channel);
                    talk = turn.talk;
                    answers.push(Difference { line: at + 1, sent: sent.clone(), written: Vec::new(), played });
                }
            }
        }
        answers
    }
}

/// What falls due while time passes, in its order.
fn reminders(world: &World, talk: &mut Talk, now: DateTime<Utc>) -> Vec<String> {
    let mut all = Vec::new();
    while let Some(due) = talk.reminders.iter().filter(|due| due.due_at <= now).min_by_key(|due| due.due_at).copied() {
        let turn = remind(world, talk, due.kind, due.due_at);
        all.extend(turn.reply.iter().flat_map(|reply| reply.text.lines().map(|line| marked('~', line))));
        *talk = turn.talk;
    }
    all
}

fn played(turn: &Turn, channel: Channel) -> Vec<String> {
    let lines = |mark: char, text: &str| text.lines().map(|line| marked(mark, line)).collect::<Vec<_>>();
    let mut all = turn.reply.as_ref().map(|reply| lines('<', &reply.text)).unwrap_or_default();
    all.extend(turn.by_sms.as_ref().map(|text| lines('~', &text.text)).unwrap_or_default());
    let outcomes = [
        ("silence", turn.reply.is_none()),
        ("person", turn.wants_person),
        ("ends", channel == Channel::Ussd && !turn.more),
        ("forgotten", turn.forget),
    ];
    all.extend(outcomes.iter().filter(|(_, came)| *came).map(|(outcome, _)| marked('=', outcome)));
    all
}

fn marked(mark: char, text: &str) -> String {
    format!("{mark} {text}").trim_end().to_owned()
}

fn read_line(line: &str) -> Result<Line, RehearsalFault> {
    let after = |mark: char| line.strip_prefix(mark).map(|rest| rest.strip_prefix(' ').unwrap_or(rest));
    if line.trim().is_empty() || line.starts_with('#') {
        return Ok(Line::Note(line.to_owned()));
    }
    if let Some(sent) = after('>') {
        return Ok(Line::Sent(sent.to_owned()));
    }
    if line.starts_with(['<', '~', '=']) {
        return Ok(Line::Got(line.trim_end().to_owned()));
    }
    if let Some(wait) = after('+') {
        return wait_of(wait).map(|time| Line::Wait(wait.to_owned(), time)).ok_or(RehearsalFault::Wait);
    }
    let (key, value) = line.split_once(':').ok_or(RehearsalFault::Mark)?;
    let value = value.trim();
    match (key, value) {
        ("home", _) => Ok(Line::Home(value.to_owned())),
        ("number", _) => Ok(Line::Number(value.to_owned())),
        ("channel", "sms") => Ok(Line::Channel(Channel::Sms)),
        ("channel", "ussd") => Ok(Line::Channel(Channel::Ussd)),
        ("channel", "alone") => Ok(Line::Channel(Channel::Alone)),
        ("channel", _) => Err(RehearsalFault::Channel),
        ("at", _) => NaiveDateTime::parse_from_str(value, "%Y-%m-%d %H:%M")
            .map(|at| Line::At(at.and_utc()))
            .map_err(|_| RehearsalFault::Time),
        _ => Err(RehearsalFault::Mark),
    }
}

fn wait_of(text: &str) -> Option<TimeDelta> {
    let (count, unit) = text.trim().split_once(' ')?;
    let count: i64 = count.parse().ok().filter(|count| (1..=10_000).contains(count))?;
    match unit {
        "min" => Some(TimeDelta::minutes(count)),
        "h" => Some(TimeDelta::hours(count)),
        "day" | "days" => Some(TimeDelta::days(count)),
        _ => None,
    }
}
