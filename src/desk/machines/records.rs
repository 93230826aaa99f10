//! `GET /api/v1/messages` and `/api/v1/growers`: what was said and who was reached, page after page, for an organisation's own
//! reports. Nothing here changes anything.

use std::sync::Arc;

use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::HeaderMap;
use chrono::{DateTime, SecondsFormat, Utc};
use serde::Deserialize;
use serde_json::{Value, json};
use uuid::Uuid;

use crate::desk::doors::{Asks, let_in};
use crate::desk::state::Desk;
use crate::refusal::Refusal;
use crate::store::{Cursor, GrowerRecord, MessageRecord};

/// Records of one page, where none is asked for and at the most.
const LIMIT: i64 = 100;
const LIMIT_MOST: i64 = 1000;

#[derive(Deserialize)]
pub struct Asked {
    /// Where the page before this one ended: its `next`.
    after: Option<String>,
    limit: Option<i64>,
    from: Option<String>,
    until: Option<String>,
}

/// What is asked for, understood.
struct Page {
    after: Option<Cursor>,
    limit: i64,
    from: Option<DateTime<Utc>>,
    until: Option<DateTime<Utc>>,
}

fn wrong(field: &str, what: &str) -> Refusal {
    Refusal::field(field, what)
}

fn understood(asked: Result<Query<Asked>, QueryRejection>) -> Result<Page, Refusal> {
    let Query(asked) = asked.map_err(|_| wrong("limit", "limit is no whole number; give 1 to 1000"))?;
    let time = |field: &'static str, text: &Option<String>| match text {
        None => Ok(None),
        Some(text) => match DateTime::parse_from_rfc3339(text) {
            Ok(time) => Ok(Some(time.to_utc())),
            Err(_) => Err(wrong(field, &format!("{field} is no time; give RFC 3339, such as 2026-03-01T06:30:00Z"))),
        },
    };
    let after = match &asked.after {
        None => None,
        Some(text) => Some(cursor(text).ok_or_else(|| wrong("after", "after is no next of a page before; leave it out"))?),
    };
    let limit = asked.limit.unwrap_or(LIMIT);
    if !(1..=LIMIT_MOST).contains(&limit) {
        return Err(wrong("limit", "limit is out of range; give 1 to 1000"));
    }
    Ok(Page { after, limit, from: time("from", &asked.from)?, until: time("until", &asked.until)? })
}

fn cursor(text: &str) -> Option<Cursor> {
    let (at, id) = text.split_once('_')?;
    Some((DateTime::from_timestamp_micros(at.parse().ok()?)?, id.parse::<Uuid>().ok()?))
}

fn next(last: Option<Cursor>, is_full: bool) -> Value {
    let text = last.filter(|_| is_full).map(|(at, id)| format!("{}_{id}", at.timestamp_micros()));
    json!(text)
}

fn rfc3339(at: &DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Millis, true)
}

pub async fn messages(
    State(desk): State<Arc<Desk>>,
    headers: HeaderMap,
    asked: Result<Query<Asked>, QueryRejection>,
) -> Result<Json<Value>, Refusal> {
    let who = let_in(&desk, &headers, Asks::Records).await?;
    let page = understood(asked)?;
    let rows = desk.store.message_records(page.after, page.from, page.until, page.limit).await;
    let rows = rows.map_err(|_| Refusal::unavailable())?;
    desk.noticed.count(&who, "read records", "messages", rows.len() as u64);
    let is_full = rows.len() as i64 == page.limit;
    let last = rows.last().map(|row| (row.at, row.id));
    let messages: Vec<Value> = rows.iter().map(message).collect();
    Ok(Json(json!({ "messages": messages, "next": next(last, is_full) })))
}

fn message(row: &MessageRecord) -> Value {
    json!({
        "id": row.id,
        "at": rfc3339(&row.at),
        "direction": if row.came { "in" } else { "out" },
        "line": row.line,
        "number": row.number,
        "text": row.body,
        "parts": row.parts,
        "state": row.state,
        "answers": row.answers,
        "staff": row.staff,
        "wants_person": row.wants_person,
        "language": row.language,
        "place": row.place,
        "crop": row.crop,
        "verdict": row.verdict,
    })
}

pub async fn growers(
    State(desk): State<Arc<Desk>>,
    headers: HeaderMap,
    asked: Result<Query<Asked>, QueryRejection>,
) -> Result<Json<Value>, Refusal> {
    let who = let_in(&desk, &headers, Asks::Records).await?;
    let page = understood(asked)?;
    let rows = desk.store.grower_records(page.after, page.from, page.until, page.limit).await;
    let rows = rows.map_err(|_| Refusal::unavailable())?;
    desk.noticed.count(&who, "read records", "growers", rows.len() as u64);
    let is_full = rows.len() as i64 == page.limit;
    let last = rows.last().map(|row| (row.since, row.id));
    let growers: Vec<Value> = rows.iter().map(grower).collect();
    Ok(Json(json!({ "growers": growers, "next": next(last, is_full) })))
}

fn grower(row: &GrowerRecord) -> Value {
    json!({
        "id": row.id,
        "number": row.number,
        "since": rfc3339(&row.since),
        "last_at": rfc3339(&row.last_at),
        "messages": row.messages,
        "language": row.language,
        "place": row.place,
        "crop": row.crop,
        "verdict": row.verdict,
        "tags": row.tags,
        "waits": row.waits,
    })
}
