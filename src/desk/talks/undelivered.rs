//! What is on its way by each line, and what no gateway took: why, and whether to send it again.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, TimeDelta, Utc};
use serde::Deserialize;
use tracing::warn;
use uuid::Uuid;

use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::frame::span::in_words;
use crate::desk::state::Desk;
use crate::store::{Again, LineNow, Signal, UndeliveredRow};

/// More are named by their count only.
const SHOWN: i64 = 200;

#[derive(Template)]
#[template(path = "look/undelivered.html", config = "src/askama.toml")]
struct UndeliveredPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
    lines: Vec<LineShown>,
    /// Lines by which what was given up can be sent instead.
    ways: Vec<String>,
    rows: Vec<UndeliveredRow>,
    total: i64,
    problem: Option<String>,
}

/// A line as it stands, in words.
struct LineShown {
    now: LineNow,
    /// How long the oldest on its way has waited.
    waits: Option<String>,
    state: String,
}

impl LineShown {
    fn of(now: LineNow, names: &[String], at: DateTime<Utc>) -> Self {
        let since = |time: DateTime<Utc>| in_words(at - time);
        let is_set_up = names.contains(&now.line);
        let because = now.reason.as_deref().map(|reason| format!(": {reason}")).unwrap_or_default();
        let state = match (now.down_since, now.not_before) {
            _ if !is_set_up => "not set up any more; send what waits by another line, or set it up again".to_owned(),
            (Some(down), _) => format!("down for {}{because}; one message at a time tries it", since(down)),
            (None, Some(until)) => format!("waits until {}{because}", until.format("%H:%M:%S")),
            (None, None) => "works".to_owned(),
        };
        Self { waits: now.oldest.map(since), state, now }
    }
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, None).await
}

async fn page(desk: &Desk, member: &Member, problem: Option<String>) -> Result<Response, Fault> {
    let rows = desk.store.undelivered_replies(SHOWN).await?;
    let total = desk.store.undelivered_count().await?;
    let names = desk.lines.names();
    let lines = desk.store.lines_now().await?.into_iter().map(|now| LineShown::of(now, &names, Utc::now())).collect();
    let (is_wrong, ways) = (problem.is_some(), desk.lines.sending_names());
    let page = UndeliveredPage {
        frame: Frame::new("Undelivered", Some(member)),
        clock: desk.clock(),
        lines,
        ways,
        rows,
        total,
        problem,
    };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

#[derive(Deserialize)]
pub struct Chosen {
    id: Option<Uuid>,
    #[serde(rename = "do")]
    what: String,
    /// Of all that is sent again: by which line it was to go, in how many of the last hours it was given up, and by which line
    /// it goes now; empty for any, for all, and for its own.
    #[serde(default)]
    line: String,
    #[serde(default)]
    hours: String,
    #[serde(default)]
    by: String,
}

pub async fn act(State(desk): State<Arc<Desk>>, member: Member, Form(chosen): Form<Chosen>) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let Some(id) = chosen.id else { return send_all(&desk, &member, &chosen).await };
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    let Some(row) = step.lock_undelivered(id).await? else {
        drop(step);
        let problem = "Somebody has dealt with this message meanwhile; look at the list as it is now.";
        return page(&desk, &member, Some(problem.to_owned())).await;
    };
    let is_again = chosen.what == "again";
    let did = if is_again {
        let problem = if row.opted_out {
            Some("This number has opted out: nothing may be sent to it. Let the message be.".to_owned())
        } else if !desk.lines.names().contains(&row.line) {
            Some(format!("The line {} is not set up any more; set it up again, or let the message be.", row.line))
        } else {
            None
        };
        if problem.is_some() {
            drop(step);
            return page(&desk, &member, problem).await;
        }
        step.send_again(row.id, now).await?;
        "sent an undelivered message again"
    } else {
        step.let_be(row.id).await?;
        "let an undelivered message be"
    };
    step.note(&member.name, did, &row.id.to_string(), now).await?;
    step.commit().await?;
    if is_again && let Err(error) = desk.store.signal(Signal::Outbox).await {
        // The senders look by themselves every few seconds.
        warn!(%error, "senders not woken");
    }
    Ok(Redirect::to("/desk/undelivered").into_response())
}

/// Sends again all that is asked for.
async fn send_all(desk: &Desk, member: &Member, chosen: &Chosen) -> Result<Response, Fault> {
    let now = Utc::now();
    let some = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let since = match some(&chosen.hours).map(|hours| hours.parse::<u32>()) {
        None => None,
        Some(Ok(hours)) => Some(now - TimeDelta::hours(hours.into())),
        Some(Err(_)) => {
            return page(desk, member, Some("Write the hours as a whole number, or leave them empty.".to_owned())).await;
        }
    };
    let by = match some(&chosen.by).map(|by| desk.lines.way_out(&by)) {
        None => None,
        Some(Ok(way_out)) => Some(way_out),
        Some(Err(why)) => return page(desk, member, Some(why)).await,
    };
    let line = some(&chosen.line);
    let again = Again {
        line: line.as_deref(),
        since,
        by: by.as_ref().map(|way_out| (way_out.line.as_str(), way_out.number.as_str())),
    };
    let mut step = desk.store.begin().await?;
    let sent = step.send_all_again(&again, now).await?;
    step.note(&member.name, "sent undelivered messages again", &format!("{sent} messages"), now).await?;
    step.commit().await?;
    if let Err(error) = desk.store.signal(Signal::Outbox).await {
        warn!(%error, "senders not woken");
    }
    Ok(Redirect::to("/desk/undelivered").into_response())
}
