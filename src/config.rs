//! The configuration: one TOML file, each key overridable by an environment variable. A wrong key or value stops the
//! start with one sentence that names it.

mod network;
mod read;
mod shape;

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::path::PathBuf;

use secrecy::SecretString;
use serde::{Deserialize, Deserializer};

pub use network::Network;
pub use read::{ConfigError, read};
pub use shape::{CallMethod, CallShape, InputHolds, ReplyForm, ReplyShape, SecretIn};

use crate::number::Number;

/// Everything an operator may set.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Config {
    /// Where the service listens.
    #[serde(default = "default_listen")]
    pub listen: SocketAddr,
    /// Where a private PostgreSQL keeps its files; the system's usual place without it.
    pub data_dir: Option<PathBuf>,
    /// A PostgreSQL of the operator's own, instead of the private one.
    pub database_url: Option<SecretString>,
    /// The place that a grower is taken to be at until another is named.
    #[serde(default = "default_home_place")]
    pub home_place: String,
    /// The language of a talk that has shown none; the first one loaded without it.
    pub home_language: Option<String>,
    /// The emergency number that lines of danger name.
    #[serde(default, deserialize_with = "some_text")]
    pub emergency: Option<String>,
    /// A folder with language folders of the operator's own, beside those shipped.
    pub dialogs_dir: Option<PathBuf>,
    /// Who may use the handset page; anybody on this machine alone, nobody where the service listens beyond it.
    pub handset: Option<Door>,
    /// Who may read `/metrics`; the same without it.
    pub metrics: Option<Door>,
    /// Proxies whose word on where a request comes from is taken: addresses and networks.
    #[serde(default, deserialize_with = "networks")]
    pub trusted_proxies: Vec<Network>,
    /// Country codes at home, with their plus; those of the lines' own numbers without it.
    #[serde(default, deserialize_with = "some_words")]
    pub countries: Option<Vec<String>>,
    #[serde(default)]
    pub limits: Limits,
    /// An organisation's own program, told when somebody wants a person or is in danger.
    pub events: Option<EventsConfig>,
    #[serde(default)]
    pub retention: Retention,
    #[serde(default)]
    pub lines: BTreeMap<String, LineConfig>,
}

impl Config {
    pub fn handset_door(&self) -> Door {
        self.handset.unwrap_or_else(|| self.usual_door())
    }

    pub fn metrics_door(&self) -> Door {
        self.metrics.unwrap_or_else(|| self.usual_door())
    }

    /// The country codes whose numbers are at home here.
    pub fn home_codes(&self) -> Vec<String> {
        let of_lines = || {
            let numbers = self.lines.values().filter_map(|line| Number::parse(&line.number).ok());
            numbers.filter_map(|number| number.country_code()).collect()
        };
        self.countries.clone().unwrap_or_else(of_lines)
    }

    /// What is for trying and watching is not for strangers.
    fn usual_door(&self) -> Door {
        if self.listen.ip().is_loopback() { Door::Open } else { Door::Closed }
    }
}

/// Who may come in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Door {
    Open,
    /// Who has signed in at the desk, and machines with a key.
    Staff,
    Closed,
}

/// Where events go, signed after Standard Webhooks.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EventsConfig {
    pub url: String,
    /// `whsec_` and Base64.
    pub signing_key: SecretString,
}

/// Letters of an emergency number, so that every line has room for it.
const EMERGENCY_LETTERS: usize = 20;

/// How much one number may send.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    #[serde(deserialize_with = "count")]
    pub messages_a_minute: u32,
    /// How many may come at once before the rate holds.
    #[serde(deserialize_with = "count")]
    pub burst: u32,
    /// How many parts of a list one account sends alone; more want the word of another.
    #[serde(deserialize_with = "count")]
    pub parts_alone: u32,
}

impl Default for Limits {
    fn default() -> Self {
        Self { messages_a_minute: 20, burst: 10, parts_alone: 1000 }
    }
}

/// For how many days each kind of record is kept. Opt-outs are kept for ever.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Retention {
    /// Texts in and out.
    #[serde(deserialize_with = "count")]
    pub messages_days: u32,
    /// Where a talk stands, after its last message.
    #[serde(deserialize_with = "count")]
    pub talks_days: u32,
    /// Lists of many messages.
    #[serde(deserialize_with = "count")]
    pub lists_days: u32,
    /// What messages came to, without text and number.
    #[serde(deserialize_with = "count")]
    pub counts_days: u32,
    /// Who did what at the desk.
    #[serde(deserialize_with = "count")]
    pub audit_days: u32,
}

impl Default for Retention {
    fn default() -> Self {
        Self { messages_days: 400, talks_days: 800, lists_days: 100, counts_days: 1900, audit_days: 1900 }
    }
}

/// One way in and out.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LineConfig {
    pub kind: LineKind,
    /// Our own number on this line: E.164 or a short code of 3 to 8 digits.
    #[serde(deserialize_with = "text")]
    pub number: String,
    /// Where replies are sent.
    pub outbound_url: Option<String>,
    /// The proxy by which the gateway is called: its URL, or `environment` for what HTTP_PROXY and its like say. Without it
    /// none, whatever they say: secrets, numbers and texts go nowhere that this file does not name.
    pub proxy: Option<String>,
    /// The shared bearer secret, both ways.
    pub secret: Option<SecretString>,
    /// The Standard Webhooks signing key, both ways: `whsec_` and Base64.
    pub signing_key: Option<SecretString>,
    /// How many messages the line may send in a second; as many as the gateway takes without it.
    #[serde(default, deserialize_with = "some_count")]
    pub messages_a_second: Option<u32>,
    /// For menus: the line by which the final advice also goes out as a short message.
    pub sms_line: Option<String>,
    #[serde(default)]
    pub fields: FieldNames,
    /// For menus: how the gateway calls, and the answer that it wants.
    #[serde(default)]
    pub call: CallShape,
    #[serde(default)]
    pub reply: ReplyShape,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LineKind {
    Http,
    Ussd,
}

/// What the gateway calls the fields of an inbound message.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct FieldNames {
    pub id: String,
    pub from: String,
    pub to: String,
    pub text: String,
    pub at: String,
}

impl Default for FieldNames {
    fn default() -> Self {
        let own = |name: &str| name.to_owned();
        Self { id: own("id"), from: own("from"), to: own("to"), text: own("text"), at: own("at") }
    }
}

impl FieldNames {
    fn all(&self) -> [(&'static str, &str); 5] {
        [("id", &self.id), ("from", &self.from), ("to", &self.to), ("text", &self.text), ("at", &self.at)]
    }
}

fn default_listen() -> SocketAddr {
    SocketAddr::from(([127, 0, 0, 1], 8080))
}

fn default_home_place() -> String {
    "Kito".to_owned()
}

/// A count from a number, or from its digits: environment variables carry only text.
fn count<'de, D: Deserializer<'de>>(from: D) -> Result<u32, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Either {
        Number(u32),
        Digits(String),
    }
    let wrong = || serde::de::Error::custom("write a whole number of 1 or more");
    let value = match Either::deserialize(from).map_err(|_| wrong())? {
        Either::Number(value) => value,
        Either::Digits(digits) => digits.trim().parse().map_err(|_| wrong())?,
    };
    if value == 0 { Err(wrong()) } else { Ok(value) }
}

/// A number that may be left out.
fn some_text<'de, D: Deserializer<'de>>(from: D) -> Result<Option<String>, D::Error> {
    let number = text(from)?.trim().to_owned();
    match number.chars().count() {
        0 => Ok(None),
        1..=EMERGENCY_LETTERS => Ok(Some(number)),
        _ => Err(serde::de::Error::custom("write at most 20 letters")),
    }
}

/// The same where it may be left out.
fn some_count<'de, D: Deserializer<'de>>(from: D) -> Result<Option<u32>, D::Error> {
    count(from).map(Some)
}

/// A list, or the same in one text with commas: environment variables carry only text.
fn words<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<String>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Either {
        List(Vec<String>),
        Text(String),
    }
    let wrong = |_| serde::de::Error::custom("write a list of texts, such as [\"127.0.0.1\"]");
    Ok(match Either::deserialize(from).map_err(wrong)? {
        Either::List(list) => list,
        Either::Text(text) => text.split(',').map(|word| word.trim().to_owned()).filter(|word| !word.is_empty()).collect(),
    })
}

fn some_words<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Vec<String>>, D::Error> {
    let words = words(from)?;
    let is_code = |word: &String| {
        let digits = word.strip_prefix('+').unwrap_or_default();
        (1..=3).contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_digit())
    };
    let wrong = || serde::de::Error::custom("write country codes with their plus, such as [\"+44\"]");
    if words.iter().all(is_code) { Ok(Some(words)) } else { Err(wrong()) }
}

fn networks<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Network>, D::Error> {
    let wrong = |_| serde::de::Error::custom("write addresses or networks, such as [\"127.0.0.1\", \"10.0.0.0/8\"]");
    words(from)?.iter().map(|word| word.parse().map_err(wrong)).collect()
}

/// A number of ours: TOML lets a short code be written without quotes.
fn text<'de, D: Deserializer<'de>>(from: D) -> Result<String, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Either {
        Text(String),
        Number(u64),
    }
    let wrong = || serde::de::Error::custom("write the number in quotes");
    Ok(match Either::deserialize(from).map_err(|_| wrong())? {
        Either::Text(text) => text,
        Either::Number(number) => number.to_string(),
    })
}
