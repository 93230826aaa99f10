//! Loads the world anew when somebody changed it: a place imported beside the running service is known at once.

use std::sync::Arc;
use std::time::Duration;

use chrono::Utc;
use tokio::sync::watch;
use tokio::task::JoinHandle;
use tracing::{info, warn};

use crate::config::Config;
use crate::store::{Signal, Store, StoreError};
use crate::world::Shelf;

/// Pause before listening again after the connection was lost.
const PAUSE: Duration = Duration::from_secs(2);

/// A running loop.
pub struct Refresh {
    task: JoinHandle<()>,
    stop: watch::Sender<bool>,
}

impl Refresh {
    /// Follows the database for as long as the service runs.
    pub fn start(store: Store, config: Config, shelf: Arc<Shelf>) -> Self {
        let (stop, mut stopped) = watch::channel(false);
        let task = tokio::spawn(async move {
            loop {
                tokio::select! {
                    biased;
                    _ = stopped.wait_for(|stop| *stop) => return,
                    ended = follow(&store, &config, &shelf) => {
                        if let Err(error) = ended {
                            warn!(%error, "changes to places are not heard");
                        }
                    }
                }
                tokio::select! {
                    _ = stopped.wait_for(|stop| *stop) => return,
                    () = tokio::time::sleep(PAUSE) => {}
                }
            }
        });
        Self { task, stop }
    }

    /// Ends the loop.
    pub async fn stop(self) {
        self.stop.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.task.await;
    }
}

async fn follow(store: &Store, config: &Config, shelf: &Shelf) -> Result<(), StoreError> {
    let mut ear = store.hear(Signal::World).await?;
    loop {
        // Also once at the beginning: a change may have come before we listened.
        if let Err(error) = shelf.reload(store, config, Utc::now()).await {
            warn!(%error, "the world could not be loaded anew; the old one is kept");
        }
        ear.wait().await?;
        info!("loading the world anew");
    }
}
