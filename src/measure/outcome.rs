//! What came of a message, against what should have.

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Map, Value};

use super::corpus::{Corpus, Row};
use crate::language::Command;
use crate::outside::{stored, told_flat};
use crate::talk::{Asked, Channel, Talk};
use crate::turn::{Turn, World, turn};

/// Part by which a number may differ from the one expected.
const ROUNDING: f64 = 0.01;

/// What a corpus has no name for: it says the same as what it names.
const UNNAMED: [&str; 3] = ["pump.electronics", "tilt_deg", "panel_total_w"];

/// How well a message came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// All of it, and nothing else.
    AsMeant,
    Partly,
    /// Nothing of it; nothing wrong was done either.
    Not,
    /// Something was stored, opted out of or deleted that was not meant.
    Wrong,
}

/// What came of one message.
#[derive(Debug, Clone)]
pub struct Outcome {
    pub grade: Grade,
    /// A danger was heard.
    pub danger: bool,
    /// For whoever mends it: what was missed, what was too much.
    pub missed: Vec<String>,
    pub extra: Vec<String>,
    pub reply: String,
}

/// What comes of each message of a corpus.
pub fn measure(world: &World, corpus: &Corpus) -> Vec<Outcome> {
    corpus.rows.iter().map(|row| outcome(world, &corpus.code, row)).collect()
}

fn outcome(world: &World, code: &str, row: &Row) -> Outcome {
    // Noon of a day of the dry season; each message a minute after the one before.
    let mut now = DateTime::from_timestamp(1_788_955_200, 0).unwrap_or(DateTime::<Utc>::UNIX_EPOCH);
    let mut talk = Talk { language: Some(code.to_owned()), ..Talk::default() };
    for text in row.before.split(" | ").filter(|text| !text.is_empty()) {
        talk = turn(world, &talk, text, Channel::Sms, now).talk;
        now += TimeDelta::minutes(1);
    }
    let turn = turn(world, &talk, &row.text, Channel::Sms, now);
    compare(&talk, &turn, &row.expect)
}

fn compare(before: &Talk, turn: &Turn, expect: &str) -> Outcome {
    let after = told_flat(&turn.talk.known);
    let tokens: Vec<&str> = expect.split_whitespace().collect();
    let (met, missed): (Vec<&str>, Vec<&str>) = tokens.iter().partition(|token| is_met(token, before, turn, &after));
    let values: Vec<&str> = tokens.iter().filter_map(|token| token.split_once('=')).map(|(name, _)| name).collect();
    let is_wrong = |name: &String| !values.contains(&name.as_str()) && !UNNAMED.contains(&name.as_str());
    let mut wrong: Vec<String> = stored(before, turn).into_iter().filter(is_wrong).collect();
    wrong
        .extend(missed.iter().filter(|token| is_wrong_value(token, before, &after)).map(|token| ["not", *token].join(" ")));
    let is_expected = |command: Command| tokens.contains(&format!("cmd:{}", command.name()).as_str());
    wrong.extend(
        acted(before, turn).into_iter().filter(|command| !is_expected(*command)).map(|command| command.name().to_owned()),
    );
    let has = |prefix: &str| tokens.iter().any(|token| token.starts_with(prefix));
    let mut extra = wrong.clone();
    if turn.danger.is_some() && !has("danger:") {
        extra.push("danger".to_owned());
    }
    let topics = &turn.taken.topics;
    extra.extend(topics.iter().map(|topic| format!("topic:{topic}")).filter(|topic| !tokens.contains(&topic.as_str())));
    let grade = if !wrong.is_empty() {
        Grade::Wrong
    } else if missed.is_empty() && extra.is_empty() {
        Grade::AsMeant
    } else if !met.is_empty() {
        Grade::Partly
    } else {
        Grade::Not
    };
    Outcome {
        grade,
        danger: turn.danger.is_some(),
        missed: missed.into_iter().map(str::to_owned).collect(),
        extra,
        reply: turn.reply.as_ref().map(|reply| reply.text.clone()).unwrap_or_default(),
    }
}

/// What was done that cannot be seen in the sheet.
fn acted(before: &Talk, turn: &Turn) -> Vec<Command> {
    let stops = turn.talk.stopped && !before.stopped;
    let renews = before.known != turn.talk.known && turn.talk.known.is_empty() && !turn.forget;
    [(stops, Command::Stop), (renews, Command::New), (turn.forget, Command::Yes)]
        .into_iter()
        .filter_map(|(done, command)| done.then_some(command))
        .collect()
}

fn is_wrong_value(token: &str, before: &Talk, after: &Map<String, Value>) -> bool {
    token.split_once('=').is_some_and(|(name, _)| {
        let was = told_flat(&before.known);
        after.get(name).is_some_and(|value| was.get(name) != Some(value))
    })
}

fn is_met(token: &str, before: &Talk, turn: &Turn, after: &Map<String, Value>) -> bool {
    if let Some((name, wanted)) = token.split_once('=') {
        return after.get(name).is_some_and(|value| is_same(value, wanted));
    }
    let understood = &turn.taken;
    match token.split_once(':') {
        Some(("topic", name)) => understood.topics.iter().any(|topic| topic == name),
        Some(("danger", kind)) => turn.danger.is_some_and(|danger| danger.name() == kind),
        Some(("cmd", name)) => understood.commands.iter().any(|command| command.name() == name),
        Some(("whatif", name)) => understood.what_if.contains(&name),
        Some(("lang", code)) => turn.talk.language.as_deref() == Some(code),
        Some(("asked", field)) => {
            turn.talk.asked.as_ref().and_then(Asked::field).is_some_and(|asked| asked.name() == field)
        }
        Some(("not_taken", text)) => understood.not_taken.iter().any(|taken| taken.contains(text)),
        _ if token == "person" => turn.wants_person,
        _ if token == "none" => stored(before, turn).is_empty() && turn.danger.is_none() && understood.topics.is_empty(),
        _ => false,
    }
}

fn is_same(value: &Value, wanted: &str) -> bool {
    let shown = value.to_string();
    match (value.as_f64(), wanted.parse::<f64>()) {
        (Some(value), Ok(wanted)) => (value - wanted).abs() <= wanted.abs() * ROUNDING,
        (Some(_), Err(_)) => shown == wanted,
        (None, _) => value.as_str().is_some_and(|text| text.eq_ignore_ascii_case(wanted)) || shown == wanted,
    }
}
