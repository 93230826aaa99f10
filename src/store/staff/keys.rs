//! Keys of machines that ask for answers in bulk.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A key as a list shows it.
#[derive(Debug, Clone, FromRow)]
pub struct KeyRow {
    pub id: Uuid,
    pub name: String,
    pub created_at: DateTime<Utc>,
}

impl Step<'_> {
    /// Keeps a new key by its hash.
    pub async fn add_key(
        &mut self,
        name: &str,
        key_hash: &[u8],
        reads_records: bool,
        now: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        sqlx::query("insert into api_key (id, name, key_hash, created_at, reads_records) values ($1, $2, $3, $4, $5)")
            .bind(Uuid::now_v7())
            .bind(name)
            .bind(key_hash)
            .bind(now)
            .bind(reads_records)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// Closes a key for good and gives its name; none when it is closed or unknown.
    pub async fn close_key(&mut self, key: Uuid, now: DateTime<Utc>) -> Result<Option<String>, StoreError> {
        Ok(sqlx::query_scalar("update api_key set closed_at = $2 where id = $1 and closed_at is null returning name")
            .bind(key)
            .bind(now)
            .fetch_optional(self.opened.on())
            .await?)
    }
}

impl Store {
    /// Whether the open key of this hash reads records; none where there is no such key.
    pub async fn key_reads_records(&self, key_hash: &[u8]) -> Result<Option<bool>, StoreError> {
        Ok(sqlx::query_scalar("select reads_records from api_key where key_hash = $1 and closed_at is null")
            .bind(key_hash)
            .fetch_optional(&self.database)
            .await?)
    }

    /// The open keys.
    pub async fn keys(&self) -> Result<Vec<KeyRow>, StoreError> {
        Ok(sqlx::query_as("select id, name, created_at from api_key where closed_at is null order by created_at")
            .fetch_all(&self.database)
            .await?)
    }
}
