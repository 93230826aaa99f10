//! Sends the reminders that have fallen due.

use std::sync::Arc;
use std::time::Duration;

use chrono::Utc;
use tracing::{info, warn};

use super::background::Background;
use crate::answering::Answering;

/// Reminders come in the morning of a day; a minute is soon enough.
const LOOK_EVERY: Duration = Duration::from_secs(60);

/// Looks at once and then every minute for as long as the service runs.
pub fn start(answering: Arc<Answering>) -> Background {
    Background::start(async move |mut stopped| {
        loop {
            match answering.remind_due(Utc::now()).await {
                Ok(0) => {}
                Ok(sent) => info!(sent, "reminded"),
                Err(error) => warn!(%error, "reminders could not be sent"),
            }
            tokio::select! {
                _ = stopped.wait_for(|stop| *stop) => return,
                () = tokio::time::sleep(LOOK_EVERY) => {}
            }
        }
    })
}
