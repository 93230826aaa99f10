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

use axum::Router;
use chrono::{DateTime, Utc};
use uuid::Uuid;

use crate::config::{Config, ConfigError, LineKind};
use crate::number::Number;
use crate::reply::Encoding;
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

/// What a receipt says became of a message at the phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Receipt {
    Delivered,
    Failed,
    Expired,
}

/// Nothing was stored; the sender may send again.
#[derive(Debug)]
pub struct NotStored;

/// Why a message did not get through this time.
#[derive(Debug, thiserror::Error)]
pub enum NotTaken {
    #[error("no line by this name")]
    NoLine,
    #[error("the gateway answered {0}")]
    Status(u16),
    #[error("the gateway did not answer")]
    NoAnswer,
}

/// Where lines hand in what they hear.
pub trait Reception: Send + Sync + 'static {
    /// Stores a message and decides its reply; durable when this returns.
    fn receive(&self, incoming: Incoming) -> impl Future<Output = Result<Received, NotStored>> + Send;

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

    /// Hands a message to its network; it may have been taken even when this fails, so the same `id` goes out again.
    pub async fn send(&self, line: &str, message: &Outgoing) -> Result<(), NotTaken> {
        if line == handset::LINE || self.ussd.contains_key(line) {
            // The phone's screen is read from the database, where the message is; a menu's went out as the call's answer.
            return Ok(());
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
