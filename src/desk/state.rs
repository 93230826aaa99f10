//! What every page may use.

use std::sync::Arc;
use std::time::Instant;

use tokio::sync::watch;
use tracing::warn;

use super::frame::clock::Clock;
use super::staff::hashing::Hashing;
use super::staff::noticed::Noticed;
use super::staff::streams::Streams;
use super::staff::tries::Tries;
use crate::config::Config;
use crate::lines::Lines;
use crate::store::{Signal, Store, WaitingCount};
use crate::turn::World;
use crate::world::Shelf;

/// What every page may use.
pub struct Desk {
    pub store: Store,
    pub shelf: Arc<Shelf>,
    pub lines: Arc<Lines>,
    pub config: Config,
    pub hashing: Hashing,
    pub tries: Tries,
    pub noticed: Noticed,
    pub streams: Streams,
    /// How many talks wait, anew at every change of them.
    pub changes: watch::Sender<Option<WaitingCount>>,
    /// Held while messages are counted over weeks: one at a time, so that those who come in find a connection.
    pub counting: tokio::sync::Mutex<()>,
    /// How things stand, and when that was.
    pub gauges: tokio::sync::Mutex<Option<(Instant, String)>>,
    pub stopping: watch::Sender<bool>,
}

impl Desk {
    /// Streams look again whether their session still goes on.
    pub fn sessions_ended(&self) {
        self.streams.look_again();
    }

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
