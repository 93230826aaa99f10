//! `POST /api/v1/answers` (and `/api/answers`): a JSON array or one object a line in, one object a line or one array out, in the
//! order they came, each sent as soon as it is answered. An element that is wrong is answered with what is wrong, and the next one as if nothing had been.
//! No more than one element and one piece of the body is held at a time.

mod cutter;

use std::ops::RangeInclusive;
use std::sync::Arc;

use axum::body::{Body, BodyDataStream, Bytes};
use axum::extract::State;
use axum::http::{HeaderMap, HeaderName, header};
use axum::response::{IntoResponse, Response};
use chrono::{DateTime, Datelike, Utc};
use futures_util::StreamExt;
use futures_util::stream::unfold;
use serde_json::{Map, Value, json};

use self::cutter::{Cutter, Piece};
use crate::desk::doors::{Asks, let_in};
use crate::desk::state::Desk;
use crate::refusal::Refusal;
use crate::single::{self, Refused, Single};
use crate::talk::Depth;
use crate::turn::World;

pub async fn answer_all(State(desk): State<Arc<Desk>>, headers: HeaderMap, body: Body) -> Result<Response, Refusal> {
    let who = let_in(&desk, &headers, Asks::Answers).await?;
    let as_array = wants_array(&headers);
    let (world, body) = (desk.world(), body.into_data_stream());
    let asked = Asking { desk, who, count: 0, world, body, cutter: Cutter::default(), is_over: false };
    let answers = unfold((asked, Told::Nothing), move |(mut asked, told)| async move {
        let (text, told) = match (asked.next().await, told) {
            (_, Told::Everything) => return None,
            (Some(answer), _) if !as_array => (format!("{answer}\n"), Told::Some),
            (Some(answer), Told::Nothing) => (format!("[{answer}"), Told::Some),
            (Some(answer), Told::Some) => (format!(",\n{answer}"), Told::Some),
            (None, _) if !as_array => return None,
            (None, Told::Nothing) => ("[]\n".to_owned(), Told::Everything),
            (None, Told::Some) => ("]\n".to_owned(), Told::Everything),
        };
        Some((Ok::<_, std::convert::Infallible>(Bytes::from(text)), (asked, told)))
    });
    let mime = if as_array { "application/json" } else { "application/x-ndjson" };
    let kind: [(HeaderName, &str); 2] = [(header::CONTENT_TYPE, mime), (header::CACHE_CONTROL, "no-store")];
    Ok((kind, Body::from_stream(answers)).into_response())
}

/// How far an answer has been told.
#[derive(Clone, Copy)]
enum Told {
    Nothing,
    Some,
    Everything,
}

/// One JSON array where Accept asks for JSON before lines of it (RFC 9110, 12.5.1: the greater weight, then the order).
fn wants_array(headers: &HeaderMap) -> bool {
    let accept = headers.get(header::ACCEPT).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let weighed = |wanted: &str| {
        accept.split(',').enumerate().find_map(|(place, range)| {
            let mut parts = range.split(';').map(str::trim);
            let is_it = parts.next()?.eq_ignore_ascii_case(wanted);
            let weight = parts.find_map(|part| part.strip_prefix("q=")?.parse::<f64>().ok()).unwrap_or(1.0);
            (is_it && weight > 0.0).then_some((weight, std::cmp::Reverse(place)))
        })
    };
    match (weighed("application/json"), weighed("application/x-ndjson")) {
        (Some(array), Some(lines)) => array > lines,
        (array, _) => array.is_some(),
    }
}

struct Asking {
    desk: Arc<Desk>,
    /// Who asks, and how much was answered: written down when it is over, however it ends.
    who: String,
    count: u64,
    world: Arc<World>,
    body: BodyDataStream,
    cutter: Cutter,
    is_over: bool,
}

impl Drop for Asking {
    fn drop(&mut self) {
        self.desk.noticed.count(&self.who, "had texts answered", "", self.count);
    }
}

impl Asking {
    /// The next answer.
    async fn next(&mut self) -> Option<String> {
        loop {
            if let Some(piece) = self.cutter.ready.pop_front() {
                self.count += 1;
                let world = Arc::clone(&self.world);
                // The year of a set takes a processor for a while.
                let answered = tokio::task::spawn_blocking(move || answer(&world, piece)).await;
                let failed = || json!({"error": Refused::new("failed", "", "no answer could be made".to_owned()).json()});
                return Some(answered.unwrap_or_else(|_| failed()).to_string());
            }
            if self.is_over {
                return None;
            }
            match self.body.next().await {
                Some(Ok(bytes)) => self.cutter.take(&bytes),
                Some(Err(_)) | None => {
                    self.cutter.end();
                    self.is_over = true;
                }
            }
        }
    }
}

/// The years that a time may be in; a day's length is worked out for any of them.
const YEARS: RangeInclusive<i32> = 1970..=9999;

/// What one element asks.
struct Question {
    text: String,
    language: Option<String>,
    place: Option<String>,
    at: Option<DateTime<Utc>>,
}

fn answer(world: &World, piece: Piece) -> Value {
    let unreadable = |what: &str| Refused::new("unreadable", "", what.to_owned());
    let object = piece.map_err(unreadable).and_then(|bytes| match serde_json::from_slice::<Value>(&bytes) {
        Ok(Value::Object(object)) => Ok(object),
        Ok(_) => Err(unreadable("this is no JSON object; send objects, in an array or one a line")),
        Err(error) => Err(unreadable(&format!("this is no JSON object ({error}); correct it"))),
    });
    let object = match object {
        Ok(object) => object,
        Err(refused) => return json!({"ref": null, "error": refused.json()}),
    };
    let mut line = json!({"ref": object.get("ref")});
    match asked(&object).and_then(|question| answer_to(world, &question)) {
        Ok(single) => {
            line["reply"] = json!(single.text());
            line["turn"] = single.turn_json();
            match single.advice.and_then(|advised| advised.json()) {
                Ok(advice) => line["advice"] = advice,
                Err(refused) => line["error"] = refused.json(),
            }
        }
        Err(refused) => line["error"] = refused.json(),
    }
    line
}

fn answer_to(world: &World, question: &Question) -> Result<Single, Refused> {
    let (language, place) = (question.language.as_deref(), question.place.as_deref());
    single::answer(world, &question.text, language, place, Depth::Answer, question.at.unwrap_or_else(Utc::now))
}

fn asked(object: &Map<String, Value>) -> Result<Question, Refused> {
    let told = |name: &str| match object.get(name) {
        None | Some(Value::Null) => Ok(None),
        Some(Value::String(text)) => Ok(Some(text.clone())),
        Some(_) => Err(Refused::new("wrong_type", name, format!("{name} is no text; give it as a JSON string"))),
    };
    let missing = || Refused::new("missing", "text", "text is missing; give the message as a string".to_owned());
    let time = |text: String| {
        let time = DateTime::parse_from_rfc3339(&text).ok().map(|time| time.to_utc());
        time.filter(|time| YEARS.contains(&time.year())).ok_or_else(|| {
            Refused::new("bad_time", "at", "at is no time; give RFC 3339, such as 2026-03-01T06:30:00Z".to_owned())
        })
    };
    Ok(Question {
        text: told("text")?.ok_or_else(missing)?,
        language: told("lang")?,
        place: told("place")?,
        at: told("at")?.map(time).transpose()?,
    })
}
