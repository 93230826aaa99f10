//! A phone for trying things out: a page of the service, and the same in a terminal. What is typed comes in like a
//! gateway's message, and what is shown has gone out like one.

mod page;
mod screen;

use std::sync::Arc;

use axum::extract::rejection::JsonRejection;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::StatusCode;
use axum::routing::{get, post};
use axum::{Json, Router};
use chrono::Utc;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::limit::Limiter;
use super::{Incoming, NotStored, Reception, SentText, without_nul};
use crate::number::Number;
use crate::refusal::Refusal;
use crate::talk::Channel;
pub use screen::{Part, Screen};

/// The line's name, which no configured line may take.
pub const LINE: &str = "handset";

/// The number it stands for; like its phones' numbers, from a range set aside for fiction.
pub const NUMBER: &str = "+447700900999";

/// The phones that may be tried, so that nobody can write in a real number's name: +44 7700 900000 to 900999.
const PHONES: &str = "+447700900";

/// The number that a phone has until another is chosen.
pub const FIRST_PHONE: &str = "+447700900001";

/// Ten parts of the longest kind; a real network cuts or refuses more.
const TEXT_MAX: usize = 1600;

const BODY_MAX: usize = 16 * 1024;

/// The line's way in.
pub struct Handset<R> {
    limiter: Arc<Limiter>,
    reception: Arc<R>,
}

/// What the terminal sends.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Typed {
    pub number: String,
    pub text: String,
}

/// What the terminal gets back.
#[derive(Serialize, Deserialize)]
pub struct Shown {
    /// None when the number has opted out.
    pub reply: Option<Screen>,
}

impl<R: Reception> Handset<R> {
    pub(super) fn new(limiter: Arc<Limiter>, reception: Arc<R>) -> Self {
        Self { limiter, reception }
    }

    /// Sends a text from a phone and returns what its screen shows.
    pub async fn say(&self, typed: &Typed) -> Result<Shown, Refusal> {
        let reply = self.send(&typed.number, &typed.text, Uuid::now_v7()).await?;
        Ok(Shown { reply: reply.map(|reply| Screen::of(&reply.text)) })
    }

    async fn send(&self, number: &str, text: &str, id: Uuid) -> Result<Option<SentText>, Refusal> {
        let from = phone(number)?;
        if text.chars().count() > TEXT_MAX {
            return Err(Refusal::field("text", format!("The text is over {TEXT_MAX} characters; write less.")));
        }
        self.limiter.check(&from, self.reception.is_danger(text)).map_err(Refusal::too_many)?;
        let incoming = Incoming {
            line: LINE.to_owned(),
            external_id: id.to_string(),
            from,
            to: NUMBER.to_owned(),
            text: without_nul(text),
            channel: Channel::Sms,
            also_by: None,
            is_shown: true,
            until: None,
            sent_at: None,
            received_at: Utc::now(),
        };
        let received = self.reception.receive(incoming).await;
        Ok(received.map_err(|NotStored| Refusal::unavailable())?.reply)
    }
}

/// A phone that may be tried.
fn phone(number: &str) -> Result<Number, Refusal> {
    let number = number.trim();
    let is_one = number.len() == PHONES.len() + 3 && number.starts_with(PHONES);
    match Number::parse(number) {
        Ok(number) if is_one => Ok(number),
        _ => Err(Refusal::field("number", format!("Choose a number from {PHONES}000 to {PHONES}999."))),
    }
}

pub(super) fn routes<R: Reception>(limiter: Arc<Limiter>, reception: Arc<R>) -> Router {
    Router::new()
        .route("/handset", get(page::show::<R>).post(page::send::<R>))
        .route("/handset/messages", post(say::<R>))
        .layer(DefaultBodyLimit::max(BODY_MAX))
        .with_state(Arc::new(Handset::new(limiter, reception)))
}

async fn say<R: Reception>(
    State(handset): State<Arc<Handset<R>>>,
    typed: Result<Json<Typed>, JsonRejection>,
) -> Result<Json<Shown>, Refusal> {
    let Json(typed) = typed.map_err(|rejection| {
        let (code, what) = match rejection.status() {
            StatusCode::PAYLOAD_TOO_LARGE => ("too_large", "The body is too large; write less."),
            _ => ("unreadable", "Send a JSON object with number and text."),
        };
        Refusal::new(rejection.status(), code, what)
    })?;
    handset.say(&typed).await.map(Json)
}
