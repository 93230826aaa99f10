//! What every turn may look things up in, read from the database and the language folders, and replaced whole when
//! that changes.

use std::sync::{Arc, PoisonError, RwLock};

use crate::store::{Store, StoreError};
use crate::turn::World;

#[derive(Debug, thiserror::Error)]
pub enum WorldError {
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Builds the world anew.
pub async fn load(_store: &Store, home_place: &str) -> Result<World, WorldError> {
    Ok(World { home_place: home_place.to_owned(), ..World::default() })
}

/// The world of now. A turn keeps the one that it began with.
pub struct Shelf {
    world: RwLock<Arc<World>>,
}

impl Shelf {
    pub fn new(world: World) -> Self {
        Self { world: RwLock::new(Arc::new(world)) }
    }

    pub fn now(&self) -> Arc<World> {
        Arc::clone(&self.world.read().unwrap_or_else(PoisonError::into_inner))
    }

    pub fn replace(&self, world: World) {
        *self.world.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(world);
    }
}
