//! How much of what people type is understood as meant: sixty messages a language, written by hand before the words that
//! they need were looked up. The figure may rise, and not fall; `cargo test --test typed -- --nocapture` prints it.

use std::collections::BTreeSet;

use noonwater::language::{Command, Field, Languages};
use noonwater::message::{FactValue, Reading, TroubleCode, read};
use serde::Deserialize;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    text: String,
    #[serde(default)]
    facts: Vec<FactValue>,
    #[serde(default)]
    commands: BTreeSet<Command>,
    #[serde(default)]
    asks: BTreeSet<Field>,
}

#[derive(Debug, Deserialize)]
struct Corpus {
    message: Vec<Typed>,
}

#[test]
fn what_people_type_is_understood_as_meant() {
    let languages = Languages::shipped().expect("the shipped folders load");
    for (code, least, corpus) in [
        ("en", 50, include_str!("data/typed-en.toml")),
        ("fr", 53, include_str!("data/typed-fr.toml")),
        ("sw", 56, include_str!("data/typed-sw.toml")),
    ] {
        let corpus: Corpus = toml::from_str(corpus).expect("a corpus");
        assert_eq!(corpus.message.len(), 60, "{code}");
        let otherwise: Vec<String> = corpus
            .message
            .iter()
            .map(|typed| (typed, read(&typed.text, &languages, code, None)))
            .filter(|(typed, reading)| !as_meant(typed, reading))
            .map(|(typed, reading)| format!("{:?} {:?}", typed.text, reading.facts))
            .collect();
        let understood = corpus.message.len() - otherwise.len();
        println!("{code}: {understood} of 60 as meant; not:\n  {}", otherwise.join("\n  "));
        assert!(understood >= least, "{code}: {understood}, not {least}\n{}", otherwise.join("\n"));
    }
}

/// The facts, the words that do something and the questions are those meant, no word is asked about and none refused. What a
/// sentence asks for is found by its topic, not here: of it the facts count.
fn as_meant(typed: &Typed, reading: &Reading) -> bool {
    let facts = |facts: &mut dyn Iterator<Item = &FactValue>| -> BTreeSet<String> { facts.map(written).collect() };
    let got = facts(&mut reading.facts.iter().map(|fact| &fact.value));
    let commands: BTreeSet<Command> = reading.commands.iter().map(|(command, _)| *command).collect();
    let asks: BTreeSet<Field> = reading.asks.iter().map(|(field, _)| *field).collect();
    let only_words = |code: &TroubleCode| matches!(code, TroubleCode::NotUnderstood | TroubleCode::Unusual { .. });
    got == facts(&mut typed.facts.iter())
        && (reading.is_sentence || (commands == typed.commands && asks == typed.asks))
        && reading.near.is_empty()
        && reading.troubles.iter().all(|trouble| only_words(&trouble.code))
}

/// A fact as text, its numbers rounded so that a unit's last binary digit does not matter, names in lower case.
fn written(fact: &FactValue) -> String {
    fn round(value: &mut serde_json::Value) {
        match value {
            serde_json::Value::Number(number) => {
                *value = serde_json::json!((number.as_f64().unwrap_or_default() * 1e3).round() / 1e3);
            }
            serde_json::Value::Object(fields) => fields.values_mut().for_each(round),
            serde_json::Value::Array(items) => items.iter_mut().for_each(round),
            _ => {}
        }
    }
    let mut json = serde_json::to_value(fact).expect("a fact is JSON");
    round(&mut json);
    json.to_string().to_lowercase()
}
