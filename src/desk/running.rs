//! The desk at work: what it shares, and the ear that tells its open pages of changes.

use std::sync::Arc;

use tokio::sync::{Semaphore, watch};
use tokio::task::JoinHandle;

use super::state::Desk;
use crate::config::Config;
use crate::lines::Lines;
use crate::store::{Signal, Store};
use crate::world::Shelf;

/// Passwords hashed at once: each takes a processor for a while.
const HASHING_AT_ONCE: usize = 2;

/// The desk at work.
pub struct Running {
    pub desk: Arc<Desk>,
    listening: JoinHandle<()>,
}

impl Running {
    pub fn start(store: Store, shelf: Arc<Shelf>, lines: Arc<Lines>, config: Config) -> Self {
        let desk = Arc::new(Desk {
            store,
            shelf,
            lines,
            config,
            hashing: Semaphore::new(HASHING_AT_ONCE),
            changes: watch::Sender::new(0),
            stopping: watch::Sender::new(false),
        });
        let listening = tokio::spawn({
            // Passes on to open pages that the waiting talks have changed.
            let (desk, stopping) = (Arc::clone(&desk), desk.stopping.subscribe());
            async move {
                let changed = || {
                    desk.changes.send_modify(|count| *count += 1);
                    std::future::ready(())
                };
                desk.store.follow(Signal::Desk, None, stopping, changed).await;
            }
        });
        Self { desk, listening }
    }

    /// Ends the streams of open pages, so that the server can stop.
    pub async fn stop(self) {
        self.desk.stopping.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.listening.await;
    }
}
