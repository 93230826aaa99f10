//! The grammar against messages as growers type them, and against noise.

use noonwater::language::{CROPS, Command, Field, Languages, Sky, StanceCode, Watering};
use noonwater::message::{
    Fact, FactValue, MOST_CHARACTERS, PumpFact, Reading, Span, TestFact, TroubleCode, limits, parse, print,
};
use proptest::prelude::*;
use serde::Deserialize;
use std::sync::LazyLock;

static LANGUAGES: LazyLock<Languages> = LazyLock::new(|| Languages::shipped().expect("the shipped folders load"));

fn read(text: &str) -> Reading {
    parse(text, &LANGUAGES, "en", None)
}

fn values(reading: &Reading) -> Vec<FactValue> {
    reading.facts.iter().map(|fact| fact.value.clone()).collect()
}

fn slice(text: &str, at: Span) -> String {
    text.chars().skip(at.start).take(at.end - at.start).collect()
}

/// One message of the corpus, with all that it must and no more.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Sample {
    text: String,
    asked: Option<Field>,
    #[serde(default)]
    facts: Vec<FactValue>,
    /// `code field text`, the field `-` where there is none.
    #[serde(default)]
    troubles: Vec<String>,
    #[serde(default)]
    asks: Vec<Field>,
    #[serde(default)]
    commands: Vec<Command>,
    /// `typed > known`.
    #[serde(default)]
    assumed: Vec<String>,
    /// `typed ? known known`.
    #[serde(default)]
    near: Vec<String>,
}

#[derive(Debug, Deserialize)]
struct Corpus {
    message: Vec<Sample>,
}

/// As JSON, with numbers rounded so that a unit's last binary digit does not matter.
fn rounded(facts: &[FactValue]) -> serde_json::Value {
    fn round(value: &mut serde_json::Value) {
        match value {
            serde_json::Value::Number(number) => {
                let rounded = (number.as_f64().unwrap() * 1e6).round() / 1e6;
                *value = serde_json::json!(rounded);
            }
            serde_json::Value::Object(fields) => fields.values_mut().for_each(round),
            serde_json::Value::Array(items) => items.iter_mut().for_each(round),
            _ => {}
        }
    }
    let mut facts = serde_json::to_value(facts).unwrap();
    round(&mut facts);
    facts
}

#[test]
fn the_corpus_reads_as_a_person_would() {
    let corpus: Corpus = toml::from_str(include_str!("data/messages-en.toml")).unwrap();
    assert!(corpus.message.len() >= 80, "{} messages", corpus.message.len());
    let mut wrong = Vec::new();
    for sample in &corpus.message {
        let text = &sample.text;
        let reading = parse(text, &LANGUAGES, "en", sample.asked);
        let mut differs = |what: &str, got: String, wanted: String| {
            if got != wanted {
                wrong.push(format!("{text:?}: {what}\n   got    {got}\n   wanted {wanted}"));
            }
        };
        differs("facts", rounded(&values(&reading)).to_string(), rounded(&sample.facts).to_string());
        let troubles: Vec<String> = reading
            .troubles
            .iter()
            .map(|trouble| {
                let field = trouble.field.map_or("-", Field::name);
                format!("{} {field} {}", trouble.code.code(), slice(text, trouble.at))
            })
            .collect();
        differs("troubles", format!("{troubles:?}"), format!("{:?}", sample.troubles));
        let asks: Vec<Field> = reading.asks.iter().map(|(field, _)| *field).collect();
        differs("asks", format!("{asks:?}"), format!("{:?}", sample.asks));
        let commands: Vec<Command> = reading.commands.iter().map(|(command, _)| *command).collect();
        differs("commands", format!("{commands:?}"), format!("{:?}", sample.commands));
        let assumed: Vec<String> = reading
            .assumed_words
            .iter()
            .map(|guess| format!("{} > {}", slice(text, guess.at), guess.taken_for))
            .collect();
        differs("assumed words", format!("{assumed:?}"), format!("{:?}", sample.assumed));
        let near: Vec<String> =
            reading.near.iter().map(|near| format!("{} ? {}", slice(text, near.at), near.could_be.join(" "))).collect();
        differs("near words", format!("{near:?}"), format!("{:?}", sample.near));
    }
    assert!(wrong.is_empty(), "{} differences\n{}", wrong.len(), wrong.join("\n"));
}
