//! Loads the world anew when somebody changed it: a place imported beside the running service is known at once.

use std::sync::Arc;

use tracing::warn;

use super::background::Background;
use crate::config::Config;
use crate::store::{Ear, Signal, Store};
use crate::world::Shelf;

/// Follows the database for as long as the service runs. `ear` has listened since before the world on the shelf was
/// loaded, so that no change in between is missed and nothing is loaded twice.
pub fn start(store: Store, config: Config, shelf: Arc<Shelf>, ear: Ear) -> Background {
    Background::start(async move |stopped| {
        store.follow(Signal::World, Some(ear), stopped, || load(&store, &config, &shelf)).await;
    })
}

async fn load(store: &Store, config: &Config, shelf: &Shelf) {
    if let Err(error) = shelf.reload(store, config).await {
        warn!(%error, "the world could not be loaded anew; the old one is kept");
    }
}
