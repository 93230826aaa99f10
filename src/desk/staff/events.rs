//! The one stream of events that a browser keeps open, whatever pages it shows: how many talks wait, at every change.

use std::convert::Infallible;
use std::sync::Arc;

use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::stream::{Stream, unfold};
use serde_json::json;

use crate::desk::frame::member::Member;
use crate::desk::state::Desk;

/// One event at every change of the waiting talks, until the page or the service goes.
pub async fn events(State(desk): State<Arc<Desk>>, _member: Member) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let state = (desk.changes.subscribe(), desk.stopping.subscribe(), desk);
    let stream = unfold(state, |(mut changes, mut stopping, desk)| async move {
        let is_changed = tokio::select! {
            biased;
            _ = stopping.wait_for(|stop| *stop) => false,
            changed = changes.changed() => changed.is_ok(),
        };
        if !is_changed {
            return None;
        }
        // A count that cannot be had now is had at the next change.
        let count = desk.store.waiting_count().await.ok();
        let data = count.map(|count| json!({"waiting": count.talks, "danger": count.danger}));
        let event = Event::default().event("changed").data(data.unwrap_or_else(|| json!({})).to_string());
        Some((Ok(event), (changes, stopping, desk)))
    });
    Sse::new(stream).keep_alive(KeepAlive::default())
}
