//! Replies that no gateway took after the last try: why, and whether to send them again.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde::Deserialize;
use tracing::warn;
use uuid::Uuid;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::state::Desk;
use crate::store::{Signal, UndeliveredRow};

/// More are named by their count only.
const SHOWN: i64 = 200;

#[derive(Template)]
#[template(path = "look/undelivered.html", config = "src/askama.toml")]
struct UndeliveredPage<'a> {
    frame: Frame<'a>,
    rows: Vec<UndeliveredRow>,
    total: i64,
    problem: Option<String>,
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, None).await
}

async fn page(desk: &Desk, member: &Member, problem: Option<String>) -> Result<Response, Fault> {
    let rows = desk.store.undelivered_replies(SHOWN).await?;
    let total = desk.store.undelivered_count().await?;
    let is_wrong = problem.is_some();
    let page = UndeliveredPage { frame: Frame::new("Undelivered", Some(member)), rows, total, problem };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

#[derive(Deserialize)]
pub struct Chosen {
    id: Uuid,
    #[serde(rename = "do")]
    what: String,
}

pub async fn act(State(desk): State<Arc<Desk>>, member: Member, Form(chosen): Form<Chosen>) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    let Some(row) = step.lock_undelivered(chosen.id).await? else {
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
        step.let_be(row.id, now).await?;
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
