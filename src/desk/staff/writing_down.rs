//! Writes down what was noticed, and notices who was refused.

use std::sync::Arc;
use std::time::Duration;

use axum::extract::{MatchedPath, Request, State};
use axum::http::StatusCode;
use axum::middleware::Next;
use axum::response::Response;
use chrono::Utc;
use tracing::warn;

use super::noticed::NOBODY;
use crate::desk::frame::fault::Refused;
use crate::desk::state::Desk;
use crate::store::StoreError;

/// How long a batch is gathered.
const GATHERED: Duration = Duration::from_secs(10);

/// Writes down what was noticed for as long as the desk runs, and once more at its end.
pub async fn write_down(desk: Arc<Desk>) {
    let mut stopping = desk.stopping.subscribe();
    loop {
        let is_over = tokio::select! {
            biased;
            _ = stopping.wait_for(|stop| *stop) => true,
            () = async {
                desk.noticed.woken.notified().await;
                tokio::time::sleep(GATHERED).await;
            } => false,
        };
        if let Err(error) = write(&desk).await {
            warn!(%error, "what was noticed is not written down");
        }
        if is_over {
            return;
        }
    }
}

async fn write(desk: &Desk) -> Result<(), StoreError> {
    let (lines, now) = (desk.noticed.take(), Utc::now());
    if lines.is_empty() {
        return Ok(());
    }
    let mut step = desk.store.begin().await?;
    for ((who, did, about), times) in &lines {
        let about = if about.is_empty() { format!("{times} times") } else { format!("{about}: {times} times") };
        step.note(who, did, &about, now).await?;
    }
    step.forget_tries(now).await?;
    step.commit().await
}

/// Notices who was not let in and who asked for more than the role allows.
pub async fn refusals(State(desk): State<Arc<Desk>>, request: Request, next: Next) -> Response {
    // The path as it was set up: what was asked for may hold anything.
    let path = request.extensions().get::<MatchedPath>().map(|path| path.as_str().to_owned()).unwrap_or_default();
    let response = next.run(request).await;
    match (response.extensions().get::<Refused>(), response.status()) {
        (Some(Refused(who)), _) => desk.noticed.count(who, "was refused by the role", &path, 1),
        (None, StatusCode::UNAUTHORIZED) => desk.noticed.count(NOBODY, "was refused without a key", &path, 1),
        _ => {}
    }
    response
}
