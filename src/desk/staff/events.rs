//! The one stream of events that a browser keeps open, whatever pages it shows: how many talks wait, at every change.

use std::convert::Infallible;
use std::sync::Arc;

use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::stream::{Stream, unfold};
use serde_json::json;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::staff::session::Session;
use crate::desk::state::Desk;

/// One event at every change of the waiting talks, until the page, its session or the service goes.
pub async fn events(
    State(desk): State<Arc<Desk>>,
    member: Member,
    headers: HeaderMap,
) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>>>, Fault> {
    let session = Session::begin(&desk, &member, &headers)?;
    let state = (desk.changes.subscribe(), session);
    let stream = unfold(state, |(mut changes, mut session)| async move {
        session.wait(async { changes.changed().await.ok() }).await?;
        // A count that could not be had is had at the next change.
        let count = *changes.borrow_and_update();
        let data = count.map(|count| json!({"waiting": count.talks, "danger": count.danger}));
        let event = Event::default().event("changed").data(data.unwrap_or_else(|| json!({})).to_string());
        Some((Ok(event), (changes, session)))
    });
    Ok(Sse::new(stream).keep_alive(KeepAlive::default()))
}
