//! The desk at work: what it shares, and the ear that tells its open pages of changes.

use std::sync::Arc;

use tokio::sync::watch;
use tokio::task::JoinHandle;

use super::staff::hashing::Hashing;
use super::staff::noticed::Noticed;
use super::staff::streams::Streams;
use super::staff::tries::Tries;
use super::staff::writing_down::write_down;
use super::state::Desk;
use crate::config::Config;
use crate::lines::Lines;
use crate::store::{Signal, Store};
use crate::world::Shelf;

/// The desk at work.
pub struct Running {
    pub desk: Arc<Desk>,
    listening: JoinHandle<()>,
    writing_down: JoinHandle<()>,
}

impl Running {
    pub fn start(store: Store, shelf: Arc<Shelf>, lines: Arc<Lines>, config: Config) -> Self {
        let desk = Arc::new(Desk {
            store,
            shelf,
            lines,
            config,
            hashing: Hashing::default(),
            tries: Tries::default(),
            noticed: Noticed::default(),
            streams: Streams::default(),
            changes: watch::Sender::new(None),
            counting: tokio::sync::Mutex::default(),
            gauges: tokio::sync::Mutex::default(),
            stopping: watch::Sender::new(false),
        });
        let listening = tokio::spawn({
            // Passes on to open pages that the waiting talks have changed.
            let (desk, stopping) = (Arc::clone(&desk), desk.stopping.subscribe());
            async move {
                // Counted once for all of them.
                let changed = || async {
                    desk.changes.send_replace(desk.store.waiting_count().await.ok());
                };
                desk.store.follow(Signal::Desk, None, stopping, changed).await;
            }
        });
        let writing_down = tokio::spawn(write_down(Arc::clone(&desk)));
        Self { desk, listening, writing_down }
    }

    /// Ends the streams of open pages, so that the server can stop.
    pub async fn stop(self) {
        self.desk.stopping.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.listening.await;
        let _ = self.writing_down.await;
    }
}
