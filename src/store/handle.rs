//! The database as everything else holds it, and steps that stand or fall whole.

use sqlx::postgres::PgConnectOptions;

use super::connection::{Database, Opened};
use super::error::StoreError;

/// The database behind a pool of connections.
#[derive(Clone)]
pub struct Store {
    pub(super) database: Database,
}

/// Statements that stand or fall together.
pub struct Step<'a> {
    pub(super) opened: Opened<'a>,
}

impl Store {
    /// Connects and brings the tables up to date.
    pub async fn open(options: PgConnectOptions) -> Result<Self, StoreError> {
        let store = Self { database: Database::connect(options).await? };
        store.migrate().await?;
        Ok(store)
    }

    /// Connects for reading only: PostgreSQL itself refuses every change.
    pub async fn open_to_read(options: PgConnectOptions) -> Result<Self, StoreError> {
        let options = options.options([("default_transaction_read_only", "on")]);
        let store = Self { database: Database::connect(options).await? };
        if store.is_ready().await { Ok(store) } else { Err(StoreError::NotSetUp) }
    }

    pub async fn begin(&self) -> Result<Step<'_>, StoreError> {
        Ok(Step { opened: self.database.begin().await? })
    }

    /// Connections that exist, and those of them that wait for work.
    pub fn connections(&self) -> (u32, usize) {
        self.database.connections()
    }

    pub async fn close(&self) {
        self.database.pool().close().await;
    }
}

impl Step<'_> {
    /// Makes all that was done durable; dropped without it, nothing was done.
    pub async fn commit(self) -> Result<(), StoreError> {
        Ok(self.opened.commit().await?)
    }
}
