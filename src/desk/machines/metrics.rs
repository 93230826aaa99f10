//! How things stand, in the text form that Prometheus reads (exposition format 0.0.4): what this process has counted, and
//! what the database holds now.

use std::fmt::Write;
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use chrono::Utc;

use crate::desk::state::Desk;
use crate::meters;
use crate::refusal::Refusal;
use crate::store::LineNow;

/// For so long what the database holds is told again without a look at it, whoever asks.
const KEPT: Duration = Duration::from_secs(1);

pub async fn text(State(desk): State<Arc<Desk>>) -> Result<Response, Refusal> {
    // One look at a time: the others wait for it and take what it found.
    let mut kept = desk.gauges.lock().await;
    let gauges = match &*kept {
        Some((at, gauges)) if at.elapsed() < KEPT => gauges.clone(),
        _ => {
            let gauges = gauges(&desk).await?;
            *kept = Some((Instant::now(), gauges.clone()));
            gauges
        }
    };
    drop(kept);
    let text = meters::text() + &gauges;
    Ok(([(header::CONTENT_TYPE, "text/plain; version=0.0.4")], text).into_response())
}

async fn gauges(desk: &Desk) -> Result<String, Refusal> {
    let now = desk.store.gauges().await.map_err(|_| Refusal::unavailable())?;
    let lines = desk.store.lines_now().await.map_err(|_| Refusal::unavailable())?;
    let mut text = String::new();
    let (open, idle) = desk.store.connections();
    for (name, help, value) in [
        ("waiting_talks", "Talks that wait for a human.", now.waiting_talks),
        ("outbox_queued", "Messages on their way to a gateway.", now.outbox_queued),
        (
            "outbox_undelivered",
            "Messages given up, refused, or failed at the phone, not dealt with.",
            now.outbox_undelivered,
        ),
        ("reminders_due", "Reminders that have fallen due and are not sent.", now.reminders_due),
        ("bulk_rows_waiting", "Rows of lists that wait for their answer.", now.bulk_waiting),
        ("database_connections", "Connections to the database.", i64::from(open)),
        ("database_connections_idle", "Those of them that wait for work.", i64::try_from(idle).unwrap_or(i64::MAX)),
    ] {
        // Writing to a text cannot fail.
        let _ = write!(text, "# HELP noonwater_{name} {help}\n# TYPE noonwater_{name} gauge\nnoonwater_{name} {value}\n");
    }
    let at = Utc::now();
    let oldest = |line: &LineNow| line.oldest.map_or(0, |since| (at - since).num_seconds().max(0));
    by_line(&mut text, "line_queued", "Messages on their way, by line.", &lines, |line| line.queued);
    by_line(
        &mut text,
        "line_oldest_seconds",
        "How long the oldest message on its way has waited, by line.",
        &lines,
        oldest,
    );
    by_line(&mut text, "line_down", "1 while the line is down.", &lines, |line| i64::from(line.down_since.is_some()));
    Ok(text)
}

fn by_line(text: &mut String, name: &str, help: &str, lines: &[LineNow], value: impl Fn(&LineNow) -> i64) {
    let _ = write!(text, "# HELP noonwater_{name} {help}\n# TYPE noonwater_{name} gauge\n");
    for line in lines {
        // A line's name is small letters, digits, - and _: nothing to escape.
        let _ = writeln!(text, "noonwater_{name}{{line=\"{}\"}} {}", line.line, value(line));
    }
}
