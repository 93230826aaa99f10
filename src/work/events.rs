//! Tells of talks that want a person or are in danger, as soon as they do.

use std::time::Duration;

use chrono::{SecondsFormat, Utc};
use serde_json::json;
use tracing::{info, warn};

use super::background::Background;
use crate::lines::http::events::Events;
use crate::store::{EventRow, Signal, Store, StoreError};

/// What has become due is looked for at the latest after so long.
const LOOK_EVERY: Duration = Duration::from_secs(15);

/// Events taken up at once.
const AT_ONCE: i64 = 20;

/// Tells for as long as the service runs.
pub fn start(store: Store, events: Events) -> Background {
    Background::start(async move |mut stopped| {
        let mut ear = None;
        loop {
            if let Err(error) = tell_due(&store, &events).await {
                warn!(%error, "events could not be told");
            }
            if ear.is_none() {
                ear = store.hear(Signal::Desk).await.ok();
            }
            let heard = async {
                match &mut ear {
                    Some(heard) => heard.wait().await.is_ok(),
                    None => std::future::pending().await,
                }
            };
            tokio::select! {
                biased;
                _ = stopped.wait_for(|stop| *stop) => return,
                is_heard = heard => if !is_heard { ear = None },
                () = tokio::time::sleep(LOOK_EVERY) => {}
            }
        }
    })
}

async fn tell_due(store: &Store, events: &Events) -> Result<(), StoreError> {
    loop {
        let due = store.events_due(AT_ONCE).await?;
        for event in &due {
            if events.tell(event.message, &body_of(event)).await {
                store.event_told(event.message, Utc::now()).await?;
                info!(message_id = %event.message, "event told");
            } else {
                warn!(message_id = %event.message, attempts = event.attempts, "an event was not taken; tried again later");
            }
        }
        if (due.len() as i64) < AT_ONCE {
            return Ok(());
        }
    }
}

fn body_of(event: &EventRow) -> String {
    let kind = if event.is_danger { "talk.danger" } else { "talk.wants_person" };
    let data = json!({
        "grower": event.grower,
        "message": event.message,
        "reason": event.reason,
        "line": event.line,
    });
    let at = event.at.to_rfc3339_opts(SecondsFormat::Millis, true);
    json!({ "type": kind, "timestamp": at, "data": data }).to_string()
}
