//! What every page may use.

use std::sync::Arc;

use tokio::sync::{Semaphore, watch};
use tracing::warn;

use super::frame::clock::Clock;
use crate::config::Config;
use crate::lines::Lines;
use crate::store::{Signal, Store};
use crate::turn::World;
use crate::world::Shelf;

/// What every page may use.
pub struct Desk {
    pub store: Store,
    pub shelf: Arc<Shelf>,
    pub lines: Arc<Lines>,
    pub config: Config,
    pub hashing: Semaphore,
    /// Counts changes of the waiting talks.
    pub changes: watch::Sender<u64>,
    pub stopping: watch::Sender<bool>,
}

impl Desk {
    pub fn world(&self) -> Arc<World> {
        self.shelf.now()
    }

    /// The clock of the home place.
    pub fn clock(&self) -> Clock {
        let world = self.world();
        Clock::new(world.place(&world.home_place).map_or(0.0, |climate| climate.place.utc_offset_h))
    }

    /// After a place, a price or a class of pump was changed: this page's next look sees it, and so does every other process
    /// on this database.
    pub async fn world_changed(&self) {
        if let Err(error) = self.shelf.reload(&self.store, &self.config).await {
            warn!(%error, "a change is known after the next one or the next start");
        }
        if let Err(error) = self.store.signal(Signal::World).await {
            warn!(%error, "other processes know a change after the next one or their next start");
        }
    }
}
