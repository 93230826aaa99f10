//! The desk at work: what it shares, and the ear that tells its open pages of changes.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::{Semaphore, watch};
use tokio::task::JoinHandle;
use tracing::warn;

use super::state::Desk;
use crate::config::Config;
use crate::lines::Lines;
use crate::store::{Signal, Store, StoreError};
use crate::world::Shelf;

/// Passwords hashed at once: each takes a processor for a while.
const HASHING_AT_ONCE: usize = 2;

/// Pause before listening again after the connection was lost.
const PAUSE: Duration = Duration::from_secs(2);

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
        let listening = tokio::spawn(listen(Arc::clone(&desk)));
        Self { desk, listening }
    }

    /// Ends the streams of open pages, so that the server can stop.
    pub async fn stop(self) {
        self.desk.stopping.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.listening.await;
    }
}

/// Passes on to open pages that the waiting talks have changed.
async fn listen(desk: Arc<Desk>) {
    let mut stopping = desk.stopping.subscribe();
    loop {
        let follow = async {
            let mut ear = desk.store.hear(Signal::Desk).await?;
            loop {
                ear.wait().await?;
                desk.changes.send_modify(|count| *count += 1);
            }
        };
        let ended: Result<(), StoreError> = tokio::select! {
            biased;
            _ = stopping.wait_for(|stop| *stop) => return,
            ended = follow => ended,
        };
        if let Err(error) = ended {
            warn!(%error, "open pages are not told of changes");
        }
        tokio::select! {
            _ = stopping.wait_for(|stop| *stop) => return,
            () = tokio::time::sleep(PAUSE) => {}
        }
    }
}
