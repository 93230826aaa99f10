//! Who did what at the desk.

use chrono::{DateTime, Utc};
use sqlx::FromRow;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// One thing that was done.
#[derive(Debug, Clone, FromRow)]
pub struct AuditRow {
    pub id: i64,
    pub at: DateTime<Utc>,
    pub staff: String,
    pub did: String,
    pub about: String,
}

impl Step<'_> {
    /// Writes down what was done, in the same transaction as the doing.
    pub async fn note(&mut self, staff: &str, did: &str, about: &str, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("insert into audit (at, staff, did, about) values ($1, $2, $3, $4)")
            .bind(now)
            .bind(staff)
            .bind(did)
            .bind(about)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }
}

impl Store {
    /// Entries older than `before`, the newest first.
    pub async fn audit(&self, before: Option<i64>, limit: i64) -> Result<Vec<AuditRow>, StoreError> {
        Ok(sqlx::query_as(
            "select id, at, staff, did, about from audit where id < coalesce($1, 9223372036854775807)
             order by id desc limit $2",
        )
        .bind(before)
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }
}
