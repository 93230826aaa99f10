//! Keys of machines that ask for answers in bulk.

use chrono::{DateTime, TimeDelta, Utc};
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
    pub expires_at: DateTime<Utc>,
    pub last_used_at: Option<DateTime<Utc>>,
}

/// A key to be made. No `Debug`: it holds the key's hash.
pub struct NewKey<'a> {
    pub name: &'a str,
    pub key_hash: &'a [u8],
    /// After so many days it opens nothing any more.
    pub days: u32,
    /// It also reads who wrote what.
    pub reads_records: bool,
}

impl Step<'_> {
    /// Keeps a new key.
    pub async fn add_key(&mut self, new: &NewKey<'_>, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "insert into api_key (id, name, key_hash, created_at, expires_at, reads_records) values ($1, $2, $3, $4, $5, $6)",
        )
            .bind(Uuid::now_v7())
            .bind(new.name)
            .bind(new.key_hash)
            .bind(now)
            .bind(now + TimeDelta::days(i64::from(new.days)))
            .bind(new.reads_records)
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
    /// The name of the open key that has this hash, and whether it reads records; that it was used is kept to the minute.
    pub async fn key_used(&self, key_hash: &[u8], now: DateTime<Utc>) -> Result<Option<(String, bool)>, StoreError> {
        let found: Option<(Uuid, String, bool, bool)> = sqlx::query_as(
            "select id, name, reads_records, coalesce(last_used_at < $2 - interval '1 minute', true) from api_key
             where key_hash = $1 and closed_at is null and expires_at > $2",
        )
        .bind(key_hash)
        .bind(now)
        .fetch_optional(&self.database)
        .await?;
        let Some((id, name, reads_records, is_long_ago)) = found else { return Ok(None) };
        if is_long_ago {
            sqlx::query("update api_key set last_used_at = $2 where id = $1")
                .bind(id)
                .bind(now)
                .execute(&self.database)
                .await?;
        }
        Ok(Some((name, reads_records)))
    }

    /// The open keys.
    pub async fn keys(&self) -> Result<Vec<KeyRow>, StoreError> {
        Ok(sqlx::query_as("select id, name, created_at, expires_at, last_used_at from api_key where closed_at is null order by created_at")
            .fetch_all(&self.database)
            .await?)
    }
}
