//! Loads the world anew when somebody changed it: a place imported beside the running service is known at once.

use std::sync::Arc;
use std::time::Duration;

use tracing::warn;

use super::background::Background;
use crate::config::Config;
use crate::store::{Ear, Signal, Store, StoreError};
use crate::world::Shelf;

/// Pause before listening again after the connection was lost.
const PAUSE: Duration = Duration::from_secs(2);

/// Follows the database for as long as the service runs. `ear` has listened since before the world on the shelf was
/// loaded, so that no change in between is missed and nothing is loaded twice.
pub fn start(store: Store, config: Config, shelf: Arc<Shelf>, ear: Ear) -> Background {
    Background::start(async move |mut stopped| {
        let mut first_ear = Some(ear);
        loop {
            tokio::select! {
                biased;
                _ = stopped.wait_for(|stop| *stop) => return,
                ended = follow(&store, &config, &shelf, first_ear.take()) => {
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
    })
}

async fn follow(store: &Store, config: &Config, shelf: &Shelf, ear: Option<Ear>) -> Result<(), StoreError> {
    let mut ear = match ear {
        Some(ear) => ear,
        None => {
            let ear = store.hear(Signal::World).await?;
            // A change may have come while nobody listened.
            load(store, config, shelf).await;
            ear
        }
    };
    loop {
        ear.wait().await?;
        load(store, config, shelf).await;
    }
}

async fn load(store: &Store, config: &Config, shelf: &Shelf) {
    if let Err(error) = shelf.reload(store, config).await {
        warn!(%error, "the world could not be loaded anew; the old one is kept");
    }
}
