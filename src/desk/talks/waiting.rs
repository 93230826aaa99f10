//! Talks that wait for a human, the longest waiting first; open pages follow.

use std::convert::Infallible;
use std::sync::Arc;

use askama::Template;
use axum::extract::State;
use axum::response::Response;
use axum::response::sse::{Event, KeepAlive, Sse};
use chrono::{DateTime, Utc};
use futures_util::stream::{Stream, unfold};

use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;
use crate::desk::frame::span::in_words;
use crate::desk::state::Desk;
use crate::store::WaitingRow;

/// More are named by their count only.
const SHOWN: i64 = 200;

#[derive(Template)]
#[template(path = "look/waiting.html", config = "src/askama.toml")]
struct WaitingPage<'a> {
    frame: Frame<'a>,
    rows: Vec<WaitingRow>,
    total: i64,
    now: DateTime<Utc>,
}

impl WaitingPage<'_> {
    fn waited(&self, row: &WaitingRow) -> String {
        in_words(self.now - row.since)
    }

    fn is_mine(&self, row: &WaitingRow) -> bool {
        row.holder_id.is_some() && row.holder_id == self.frame.member.map(|member| member.id)
    }
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    let rows = desk.store.waiting(SHOWN).await?;
    let total = desk.store.waiting_count().await?;
    show(&WaitingPage { frame: Frame::new("Waiting talks", Some(&member)), rows, total, now: Utc::now() })
}

/// One event at every change of the waiting talks, until the page or the service goes.
pub async fn events(State(desk): State<Arc<Desk>>, _member: Member) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let state = (desk.changes.subscribe(), desk.stopping.subscribe());
    let stream = unfold(state, |(mut changes, mut stopping)| async move {
        let is_changed = tokio::select! {
            biased;
            _ = stopping.wait_for(|stop| *stop) => false,
            changed = changes.changed() => changed.is_ok(),
        };
        is_changed.then(|| (Ok(Event::default().event("changed").data("waiting")), (changes, stopping)))
    });
    Sse::new(stream).keep_alive(KeepAlive::default())
}
