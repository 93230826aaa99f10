//! A turn as machines and checks see it: names and values, nothing of how they came about.

use serde_json::{Map, Value, json};

use crate::reply::{Encoding, PhoneText};
use crate::talk::{Asked, Known, Talk};
use crate::turn::Turn;

/// What is in a sheet beside what was told.
const NOT_TOLD: [&str; 3] = ["tests", "pump", "pump_count"];

/// Everything told so far, by the names of the advice's sheet; the pump's label within `pump`.
pub fn told(known: &Known) -> Map<String, Value> {
    let mut told = present(json!(known.sheet));
    told.retain(|name, _| !NOT_TOLD.contains(&name.as_str()));
    let pump = present(json!(known.pump));
    if !pump.is_empty() {
        told.insert("pump".to_owned(), Value::Object(pump));
    }
    if let Some(place) = &known.place {
        told.insert("place".to_owned(), json!(place));
    }
    told
}

fn present(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map.into_iter().filter(|(_, value)| !value.is_null()).collect(),
        _ => Map::new(),
    }
}

/// The same with the pump's parts beside the rest, as `pump.head_m`.
pub fn told_flat(known: &Known) -> Map<String, Value> {
    let mut flat = Map::new();
    for (name, value) in told(known) {
        match value {
            Value::Object(parts) => {
                flat.extend(parts.into_iter().map(|(part, value)| (format!("{name}.{part}"), value)));
            }
            value => drop(flat.insert(name, value)),
        }
    }
    flat
}

/// Names of what a turn stored, or stored anew.
pub fn stored(before: &Talk, turn: &Turn) -> Vec<String> {
    let was = told_flat(&before.known);
    told_flat(&turn.talk.known)
        .into_iter()
        .filter(|(name, value)| was.get(name) != Some(value))
        .map(|(name, _)| name)
        .collect()
}

/// The whole turn.
pub fn turn_json(before: &Talk, turn: &Turn) -> Value {
    json!({
        "reply": turn.reply.as_ref().map(reply_json),
        "told": told(&turn.talk.known),
        "facts": stored(before, turn),
        "not_taken": turn.taken.not_taken,
        "topics": turn.taken.topics,
        "danger": turn.danger.map(|kind| kind.name()),
        "commands": turn.taken.commands.iter().map(|command| command.name()).collect::<Vec<_>>(),
        "what_if": (!turn.taken.what_if.is_empty()).then_some(&turn.taken.what_if),
        "person": turn.wants_person,
        "language": turn.talk.language,
        "asked": turn.talk.asked.as_ref().and_then(Asked::field).map(|field| field.name()),
    })
}

fn reply_json(reply: &PhoneText) -> Value {
    let encoding = match reply.encoding {
        Encoding::Gsm7 => "gsm7",
        Encoding::Ucs2 => "ucs2",
    };
    json!({"text": reply.text, "parts": reply.parts, "encoding": encoding})
}
