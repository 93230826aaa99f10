//! Messages that came in.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A message as its line handed it in. No `Debug`: it holds a number and a text.
pub struct Inbound<'a> {
    pub id: Uuid,
    pub line: &'a str,
    pub external_id: &'a str,
    pub sender: &'a str,
    pub recipient: &'a str,
    pub body: &'a str,
    pub sent_at: Option<DateTime<Utc>>,
    pub received_at: DateTime<Utc>,
}

/// A message that is in the database.
#[derive(FromRow)]
pub struct Stored {
    pub id: Uuid,
    pub body: String,
    pub received_at: DateTime<Utc>,
}

impl Step<'_> {
    /// Stores a message; false when this line has stored one by this name before, which stays as it is. A repeat that
    /// comes while the first is still being answered waits here until that one is done.
    pub async fn store_inbound(&mut self, message: &Inbound<'_>) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "insert into inbound (id, line, external_id, sender, recipient, body, sent_at, received_at)
             values ($1, $2, $3, $4, $5, $6, $7, $8)
             on conflict on constraint inbound_once do nothing",
        )
        .bind(message.id)
        .bind(message.line)
        .bind(message.external_id)
        .bind(message.sender)
        .bind(message.recipient)
        .bind(message.body)
        .bind(message.sent_at)
        .bind(message.received_at)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Puts a message before a human, and says why.
    pub async fn want_person(&mut self, id: Uuid, reason: &str) -> Result<(), StoreError> {
        sqlx::query("update inbound set wants_person = true, person_reason = $2 where id = $1")
            .bind(id)
            .bind(reason)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }
}

impl Store {
    /// The identifier of the message that this line calls by this name.
    pub async fn inbound_by_name(&self, line: &str, external_id: &str) -> Result<Option<Uuid>, StoreError> {
        Ok(sqlx::query_scalar("select id from inbound where line = $1 and external_id = $2")
            .bind(line)
            .bind(external_id)
            .fetch_optional(&self.database)
            .await?)
    }

    /// The newest messages of a number on a line, oldest first.
    pub async fn inbound_of(&self, line: &str, sender: &str, limit: i64) -> Result<Vec<Stored>, StoreError> {
        let mut rows: Vec<Stored> = sqlx::query_as(
            "select id, body, received_at from inbound where line = $1 and sender = $2
             order by received_at desc, id desc limit $3",
        )
        .bind(line)
        .bind(sender)
        .bind(limit)
        .fetch_all(&self.database)
        .await?;
        rows.reverse();
        Ok(rows)
    }
}
