//! Sends the reminders that have fallen due.

use std::sync::Arc;
use std::time::Duration;

use chrono::Utc;
use tokio::sync::watch;
use tokio::task::JoinHandle;
use tracing::{info, warn};

use crate::answering::Answering;

/// Reminders come in the morning of a day; a minute is soon enough.
const LOOK_EVERY: Duration = Duration::from_secs(60);

/// A running loop.
pub struct Remind {
    task: JoinHandle<()>,
    stop: watch::Sender<bool>,
}

impl Remind {
    /// Looks at once and then every minute for as long as the service runs.
    pub fn start(answering: Arc<Answering>) -> Self {
        let (stop, mut stopped) = watch::channel(false);
        let task = tokio::spawn(async move {
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
        });
        Self { task, stop }
    }

    /// Ends the loop once what is in hand is done.
    pub async fn stop(self) {
        self.stop.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.task.await;
    }
}
