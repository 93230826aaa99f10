//! The phone-network edge. Each line turns what a network sends into an [`Incoming`] and takes an [`Outgoing`]; what
//! happens between is behind [`Reception`], so that no line knows the database or another line.

mod call;
mod decode;
pub mod handset;
pub mod http;
mod limit;
mod proof;
mod signature;
pub mod ussd;

use std::collections::BTreeMap;
use std::future::Future;
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::Router;
use chrono::{DateTime, Utc};
use uuid::Uuid;

use crate::config::{Config, ConfigError, LineKind};
use crate::number::Number;
use crate::reply::Encoding;
use crate::sending::Receipt;
use crate::talk::Channel;
use limit::Limiter;

/// A message that came in. No `Debug`: it holds a number and a text, which no log may see.
pub struct Incoming {
    pub line: String,
    /// The network's own name for the message: the same again is the same message.
    pub external_id: String,
    pub from: Number,
    pub to: String,
    pub text: String,
    pub channel: Channel,
    /// Where what is worth keeping also goes out: a screen is gone when it closes.
    pub also_by: Option<AlsoBy>,
    /// The call that brings the message carries its answer back: none is sent.
    pub is_shown: bool,
    /// After this moment nobody waits for the answer: nothing is kept of a message that could not be answered before.
    pub until: Option<Instant>,
    /// When the network says it was sent.
    pub sent_at: Option<DateTime<Utc>>,
    pub received_at: DateTime<Utc>,
}

/// Another line, and our number there.
#[derive(Clone)]
pub struct AlsoBy {
    pub line: String,
    pub number: String,
}

/// A message on its way out. No `Debug`, for the same reason.
pub struct Outgoing {
    pub id: Uuid,
    pub from: String,
    pub to: String,
    pub text: String,
    pub encoding: Encoding,
    pub parts: usize,
}

/// What became of a message that came in.
pub struct Received {
    pub message: Uuid,
    /// This line brought the same message before.
    pub is_repeat: bool,
    /// A human was asked for.
    pub to_person: bool,
    /// None when the number has opted out.
    pub reply: Option<SentText>,
    /// A menu session waits for more.
    pub more: bool,
}

/// A reply as it stands.
pub struct SentText {
    pub text: String,
    pub encoding: Encoding,
    /// The time of the message that it answers.
    pub at: DateTime<Utc>,
}

/// A message of a number.
pub struct SaidText {
    pub text: String,
    pub at: DateTime<Utc>,
}

/// Nothing was stored; the sender may send again.
#[derive(Debug)]
pub struct NotStored;

/// Why a message did not get through: each kind asks for something else.
#[derive(Debug, thiserror::Error)]
pub enum NotTaken {
    /// This message never will; the next one may.
    #[error("the gateway refuses it ({0})")]
    Refused(u16),
    #[error("a {0} line can send nothing; give it an sms_line")]
    NoWay(&'static str),
    /// The line takes less for a while.
    #[error("the gateway asks for less (429)")]
    SlowDown(Duration),
    /// The line takes nothing: each message would fail the same.
    #[error("the gateway answered {0}")]
    Status(u16),
    #[error("the gateway did not answer")]
    NoAnswer,
    #[error("no line by this name")]
    NoLine,
}

impl NotTaken {
    /// Its kind, for counts.
    pub fn outcome(&self) -> &'static str {
        match self {
            Self::Refused(_) | Self::NoWay(_) => "refused",
            Self::SlowDown(_) => "slow_down",
            Self::Status(_) | Self::NoAnswer | Self::NoLine => "failed",
        }
    }
}

/// How a member of staff, a list or a reminder reaches somebody whose message came by a line.
pub struct WayOut {
    pub line: String,
    /// Our own number there.
    pub number: String,
}

/// Where lines hand in what they hear.
pub trait Reception: Send + Sync + 'static {
    /// Stores a message and decides its reply; durable when this returns.
    fn receive(&self, incoming: Incoming) -> impl Future<Output = Result<Received, NotStored>> + Send;

    /// Whether a text shows somebody in danger: no limit holds it up.
    fn is_danger(&self, text: &str) -> bool;

    /// Whether the same message is stored already, so that its sender needs no other answer than before.
    fn is_stored(&self, incoming: &Incoming) -> impl Future<Output = bool> + Send;

    /// What a caller sees when no answer can be made in time.
    fn busy(&self) -> String;

    /// Keeps a receipt; false when this line sent no such message.
    fn settle(&self, line: &str, id: Uuid, receipt: Receipt) -> impl Future<Output = Result<bool, NotStored>> + Send;

    /// The newest messages between a number and a line, each kind oldest first.
    fn conversation(
        &self,
        line: &str,
        number: &Number,
    ) -> impl Future<Output = Result<(Vec<SaidText>, Vec<SentText>), NotStored>> + Send;
}

/// Every line of this service, by name.
pub struct Lines {
    http: BTreeMap<String, Arc<http::Gateway>>,
    ussd: BTreeMap<String, Arc<ussd::Menus>>,
    limiter: Arc<Limiter>,
}

impl Lines {
    pub fn new(config: &Config) -> Result<Self, ConfigError> {
        let (mut http, mut ussd) = (BTreeMap::new(), BTreeMap::new());
        for (name, line) in &config.lines {
            match line.kind {
                LineKind::Http => drop(http.insert(name.clone(), Arc::new(http::Gateway::new(name, line)?))),
                LineKind::Ussd => drop(ussd.insert(name.clone(), Arc::new(ussd::Menus::new(name, line, config)?))),
            }
        }
        Ok(Self { http, ussd, limiter: Arc::new(Limiter::new(config.limits)) })
    }

    pub fn names(&self) -> Vec<String> {
        self.http.keys().chain(self.ussd.keys()).cloned().chain([handset::LINE.to_owned()]).collect()
    }

    /// Our own number on a line.
    pub fn number(&self, line: &str) -> Option<&str> {
        if line == handset::LINE {
            return Some(handset::NUMBER);
        }
        let menus = || self.ussd.get(line).map(|menus| menus.number());
        self.http.get(line).map(|gateway| gateway.number()).or_else(menus)
    }

    /// By which line something can be sent to who wrote by `line`, or why it cannot: a screen shows only what its own call asks
    /// for, so that another line has to carry what comes unasked.
    pub fn way_out(&self, line: &str) -> Result<WayOut, String> {
        if let Some(menus) = self.ussd.get(line) {
            let also = menus.also_by().ok_or_else(|| {
                format!("The line {line} is a menu and can send nothing; set its sms_line to a line of short messages.")
            })?;
            return Ok(WayOut { line: also.line.clone(), number: also.number.clone() });
        }
        let number = self.number(line).ok_or_else(|| format!("The line {line} is not set up; set it up again."))?;
        Ok(WayOut { line: line.to_owned(), number: number.to_owned() })
    }

    /// Lines by which many may be sent to: the phone for trying things out reaches nobody.
    pub fn sending_names(&self) -> Vec<String> {
        let menus = self.ussd.iter().filter(|(_, menus)| menus.also_by().is_some()).map(|(name, _)| name);
        self.http.keys().chain(menus).cloned().collect()
    }

    /// How many messages a line may send in a second; as many as it takes without one.
    pub fn a_second(&self, line: &str) -> Option<u32> {
        self.http.get(line).and_then(|gateway| gateway.a_second())
    }

    /// Hands a message to its network; it may have been taken even when this fails, so the same `id` goes out again.
    pub async fn send(&self, line: &str, message: &Outgoing) -> Result<(), NotTaken> {
        if line == handset::LINE {
            // The phone's screen is read from the database, where the message is.
            return Ok(());
        }
        if self.ussd.contains_key(line) {
            return Err(NotTaken::NoWay("menu"));
        }
        self.http.get(line).ok_or(NotTaken::NoLine)?.send(message).await
    }

    /// The phone for trying things out, without the web.
    pub fn handset<R: Reception>(&self, reception: &Arc<R>) -> handset::Handset<R> {
        handset::Handset::new(Arc::clone(&self.limiter), Arc::clone(reception))
    }

    /// What the lines listen on.
    pub fn routes<R: Reception>(&self, reception: &Arc<R>) -> Router {
        http::routes(self.http.clone(), Arc::clone(&self.limiter), Arc::clone(reception))
            .merge(ussd::routes(self.ussd.clone(), Arc::clone(&self.limiter), Arc::clone(reception)))
            .merge(handset::routes(Arc::clone(&self.limiter), Arc::clone(reception)))
    }
}

/// PostgreSQL's text holds no NUL; it says nothing to a reader either.
fn without_nul(text: &str) -> String {
    text.replace('\0', "")
}
