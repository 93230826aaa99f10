//! Replies that were given up: seen by staff, sent again or let be.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A reply that was given up. No `Debug`: it holds a number and a text.
#[derive(FromRow)]
pub struct UndeliveredRow {
    pub id: Uuid,
    pub line: String,
    pub recipient: String,
    pub body: String,
    pub parts: i32,
    pub attempts: i32,
    /// Why the last try failed; none of one that was given up before reasons were kept.
    pub reason: Option<String>,
    pub created_at: DateTime<Utc>,
    pub given_up_at: DateTime<Utc>,
    /// The number has opted out: nothing may be sent to it.
    pub opted_out: bool,
}

const ROWS: &str = "select id, line, recipient, body, parts, attempts, not_taken_because as reason, created_at,
                           updated_at as given_up_at,
                           exists (select 1 from talk where talk.number = outbox.recipient
                                   and talk.stopped) as opted_out
                    from outbox where state = 'undelivered' and let_be_at is null";

impl Store {
    /// The newest of them first.
    pub async fn undelivered_replies(&self, limit: i64) -> Result<Vec<UndeliveredRow>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!("{ROWS} order by updated_at desc, seq desc limit $1")))
            .bind(limit)
            .fetch_all(&self.database)
            .await?)
    }

    /// How many staff have not dealt with.
    pub async fn undelivered_count(&self) -> Result<i64, StoreError> {
        Ok(sqlx::query_scalar("select count(*) from outbox where state = 'undelivered' and let_be_at is null")
            .fetch_one(&self.database)
            .await?)
    }

    /// Keeps why a try failed.
    pub async fn not_taken(&self, id: Uuid, attempt: i32, reason: &str) -> Result<(), StoreError> {
        sqlx::query("update outbox set not_taken_because = $3 where id = $1 and state = 'leased' and attempts = $2")
            .bind(id)
            .bind(attempt)
            .bind(reason)
            .execute(&self.database)
            .await?;
        Ok(())
    }
}

impl Step<'_> {
    /// One that was given up, which nobody else sends again or lets be until this step ends.
    pub async fn lock_undelivered(&mut self, id: Uuid) -> Result<Option<UndeliveredRow>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!("{ROWS} and id = $1 for update of outbox")))
            .bind(id)
            .fetch_optional(self.opened.on())
            .await?)
    }

    /// Queues one anew under the same name, as often tried as a new one: the gateway may have it after all.
    pub async fn send_again(&mut self, id: Uuid, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "update outbox set state = 'queued', attempts = 0, next_try_at = now(), lease_until = null, updated_at = $2
             where id = $1",
        )
        .bind(id)
        .bind(now)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    /// Takes one out of the list.
    pub async fn let_be(&mut self, id: Uuid, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("update outbox set let_be_at = $2 where id = $1").bind(id).bind(now).execute(self.opened.on()).await?;
        Ok(())
    }
}
