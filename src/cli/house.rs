//! The service put together, without its doors: what `serve` and the terminal's handset share.

use std::sync::Arc;

use chrono::Utc;
use tracing::warn;

use crate::answering::Answering;
use crate::config::Config;
use crate::database::Database;
use crate::lines::Lines;
use crate::lines::http::events::Events;
use crate::sizing::Climate;
use crate::store::{Signal, Store};
use crate::turn::World;
use crate::work::background::Background;
use crate::work::deliver::Delivery;
use crate::work::{bulk, events, housekeeping, refresh, remind};
use crate::world::{self, Shelf};

use super::Failure;

pub struct House {
    pub database: Database,
    pub store: Store,
    pub lines: Arc<Lines>,
    pub shelf: Arc<Shelf>,
    pub answering: Arc<Answering>,
    delivery: Delivery,
    bulk: Background,
    refresh: Background,
    remind: Background,
    housekeeping: Background,
    events: Option<Background>,
}

impl House {
    /// Opens the database and starts sending on the lines that `is_served` picks.
    pub async fn open(config: &Config, fetch: bool, is_served: fn(&str) -> bool) -> Result<Self, Failure> {
        let lines = Arc::new(Lines::new(config)?);
        let told = config.events.as_ref().map(Events::new).transpose()?;
        let database = Database::open(config, fetch).await?;
        let opened = async {
            let store = Store::open(database.options()).await?;
            if database.is_private() {
                // Whoever held a lease on a private database is gone: its folder is locked by us.
                store.release_leases().await?;
            }
            for line in
                store.lines_now().await?.iter().filter(|line| line.queued > 0 && !lines.names().contains(&line.line))
            {
                let (line, queued) = (&line.line, line.queued);
                warn!(line, queued, "messages wait for a line that is not set up; see Undelivered at the desk");
            }
            world::stock(&store, Utc::now()).await?;
            let ear = store.hear(Signal::World).await?;
            let world = world::load(&store, config).await?;
            Ok::<_, Failure>((store, ear, Arc::new(Shelf::new(world))))
        };
        let (store, ear, shelf) = match opened.await {
            Ok(opened) => opened,
            Err(failure) => {
                database.close().await;
                return Err(failure);
            }
        };
        let refresh = refresh::start(store.clone(), config.clone(), Arc::clone(&shelf), ear);
        let answering = Arc::new(Answering::new(store.clone(), Arc::clone(&shelf)));
        let names: Vec<String> = lines.names().into_iter().filter(|name| is_served(name)).collect();
        let delivery = Delivery::start(&store, &lines, &names);
        let bulk = bulk::start(store.clone(), Arc::clone(&shelf));
        let remind = remind::start(Arc::clone(&answering));
        let events = told.map(|told| events::start(store.clone(), told));
        let housekeeping = housekeeping::start(store.clone(), config.retention);
        Ok(Self { database, store, lines, shelf, answering, delivery, bulk, refresh, remind, housekeeping, events })
    }

    /// Finishes what is in hand.
    pub async fn close(self) {
        self.remind.stop().await;
        self.housekeeping.stop().await;
        if let Some(events) = self.events {
            events.stop().await;
        }
        self.delivery.stop().await;
        self.bulk.stop().await;
        self.refresh.stop().await;
        self.store.close().await;
        self.database.close().await;
    }
}

/// The database for a command that may run beside the service.
pub async fn open_store(config: &Config) -> Result<(Database, Store), Failure> {
    let database = Database::open_or_join(config).await?;
    match Store::open(database.options()).await {
        Ok(store) => Ok((database, store)),
        Err(error) => {
            database.close().await;
            Err(error.into())
        }
    }
}

/// What the database knows, read and left as it is; for growers at `place` where one is given.
pub async fn world_in(config: &Config, place: Option<Climate>) -> Result<World, Failure> {
    let database = Database::open_or_join(config).await?;
    let read = async {
        let store = Store::open_to_read(database.options()).await?;
        let world = world::load_at(&store, config, place).await;
        store.close().await;
        Ok::<_, Failure>(world?)
    };
    let read = read.await;
    database.close().await;
    read
}
