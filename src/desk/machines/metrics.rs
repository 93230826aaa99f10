//! How things stand, in the text form that Prometheus reads (exposition format 0.0.4).

use std::fmt::Write;
use std::sync::Arc;

use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};

use crate::desk::state::Desk;
use crate::refusal::Refusal;

pub async fn text(State(desk): State<Arc<Desk>>) -> Result<Response, Refusal> {
    let now = desk.store.gauges().await.map_err(|_| Refusal::unavailable())?;
    let mut text = String::new();
    for (name, kind, help, value) in [
        ("messages_total", "counter", "Messages that came in.", now.messages),
        ("messages_to_person_total", "counter", "Messages that went to staff.", now.to_person),
        ("waiting_talks", "gauge", "Talks that wait for a human.", now.waiting_talks),
        ("outbox_queued", "gauge", "Replies on their way to a gateway.", now.outbox_queued),
        ("outbox_undelivered", "gauge", "Replies given up.", now.outbox_undelivered),
        ("bulk_rows_waiting", "gauge", "Rows of lists that wait for their answer.", now.bulk_waiting),
    ] {
        // Writing to a text cannot fail.
        let _ = write!(text, "# HELP noonwater_{name} {help}\n# TYPE noonwater_{name} {kind}\nnoonwater_{name} {value}\n");
    }
    Ok(([(header::CONTENT_TYPE, "text/plain; version=0.0.4")], text).into_response())
}
