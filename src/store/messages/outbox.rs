//! Replies on their way out. A sender leases a row, tries it, and says how it went; one that dies loses the lease.

use std::time::Duration;

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use sqlx::postgres::types::PgInterval;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A reply to be queued. No `Debug`: it holds a number and a text.
pub struct NewReply<'a> {
    pub id: Uuid,
    pub line: &'a str,
    pub sender: &'a str,
    pub recipient: &'a str,
    pub body: &'a str,
    pub encoding: &'a str,
    pub parts: i32,
    pub in_reply_to: Option<Uuid>,
    /// It tells that everything is deleted, and goes too once it is taken.
    pub last_word: bool,
    pub created_at: DateTime<Utc>,
}

/// A reply as it stands.
#[derive(FromRow)]
pub struct Reply {
    pub id: Uuid,
    pub body: String,
    pub encoding: String,
    pub parts: i32,
    pub state: String,
    pub created_at: DateTime<Utc>,
}

/// A reply that this sender alone may try until the lease ends.
#[derive(FromRow)]
pub struct Lease {
    pub id: Uuid,
    pub sender: String,
    pub recipient: String,
    pub body: String,
    pub encoding: String,
    pub parts: i32,
    /// This try included.
    pub attempts: i32,
}

/// What a gateway's receipt says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    Delivered,
    Failed,
    Expired,
}

impl Outcome {
    fn state(self) -> &'static str {
        match self {
            Self::Delivered => "delivered",
            Self::Failed => "failed",
            Self::Expired => "expired",
        }
    }
}

impl Step<'_> {
    pub async fn queue_reply(&mut self, reply: &NewReply<'_>) -> Result<(), StoreError> {
        sqlx::query(
            "insert into outbox (id, line, sender, recipient, body, encoding, parts, in_reply_to, last_word,
                                 next_try_at, created_at, updated_at)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, now(), $10, $10)",
        )
        .bind(reply.id)
        .bind(reply.line)
        .bind(reply.sender)
        .bind(reply.recipient)
        .bind(reply.body)
        .bind(reply.encoding)
        .bind(reply.parts)
        .bind(reply.in_reply_to)
        .bind(reply.last_word)
        .bind(reply.created_at)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}

impl Store {
    /// The reply to a message.
    pub async fn reply_to(&self, inbound: Uuid) -> Result<Option<Reply>, StoreError> {
        Ok(sqlx::query_as("select id, body, encoding, parts, state, created_at from outbox where in_reply_to = $1")
            .bind(inbound)
            .fetch_optional(&self.database)
            .await?)
    }

    /// The newest replies to a number on a line, oldest first.
    pub async fn replies_of(&self, line: &str, recipient: &str, limit: i64) -> Result<Vec<Reply>, StoreError> {
        let mut rows: Vec<Reply> = sqlx::query_as(
            "select id, body, encoding, parts, state, created_at from outbox
             where line = $1 and recipient = $2 order by seq desc limit $3",
        )
        .bind(line)
        .bind(recipient)
        .bind(limit)
        .fetch_all(&self.database)
        .await?;
        rows.reverse();
        Ok(rows)
    }

    /// Takes up to `limit` replies of a line that are due, or whose sender died. One number gets its replies in order:
    /// a later one waits while an earlier one is still on its way. The first of each number is looked up row by row along
    /// the index, so that the end of a long list costs no more than the end of a short one.
    pub async fn lease(&self, line: &str, limit: i64, lease: Duration) -> Result<Vec<Lease>, StoreError> {
        Ok(sqlx::query_as(
            "update outbox set state = 'leased', attempts = attempts + 1, lease_until = now() + $3, updated_at = now()
             where id in (
                 select id from outbox o
                 where line = $1
                   and (state = 'queued' and next_try_at <= now() or state = 'leased' and lease_until <= now())
                   and seq = (
                       select min(seq) from outbox first
                       where first.line = o.line and first.recipient = o.recipient
                         and first.state in ('queued', 'leased')
                   )
                 order by next_try_at, seq
                 limit $2
                 for update skip locked
             )
             returning id, sender, recipient, body, encoding, parts, attempts",
        )
        .bind(line)
        .bind(limit)
        .bind(interval(lease))
        .fetch_all(&self.database)
        .await?)
    }

    /// The gateway has it. Says nothing of a row that a receipt has settled, or that another sender has leased since.
    pub async fn taken(&self, id: Uuid, attempt: i32) -> Result<(), StoreError> {
        self.give_up_lease(id, attempt, "taken").await
    }

    /// Not to be tried again.
    pub async fn undelivered(&self, id: Uuid, attempt: i32) -> Result<(), StoreError> {
        self.give_up_lease(id, attempt, "undelivered").await
    }

    async fn give_up_lease(&self, id: Uuid, attempt: i32, state: &str) -> Result<(), StoreError> {
        sqlx::query(
            "update outbox set state = $3, lease_until = null, updated_at = now()
             where id = $1 and state = 'leased' and attempts = $2",
        )
        .bind(id)
        .bind(attempt)
        .bind(state)
        .execute(&self.database)
        .await?;
        if state == "taken" {
            self.tally_taken(id).await?;
        }
        self.let_go(id).await
    }

    /// To be tried again after a pause, spread by a quarter each way so that replies held up together do not all come
    /// back at the same moment.
    pub async fn retry_later(&self, id: Uuid, attempt: i32, pause: Duration) -> Result<(), StoreError> {
        sqlx::query(
            "update outbox set state = 'queued', lease_until = null, updated_at = now(),
                               next_try_at = now() + $3 * (0.75 + 0.5 * random())
             where id = $1 and state = 'leased' and attempts = $2",
        )
        .bind(id)
        .bind(attempt)
        .bind(interval(pause))
        .execute(&self.database)
        .await?;
        Ok(())
    }

    /// Deletes a last word that is no longer on its way, and the message that it answered.
    async fn let_go(&self, id: Uuid) -> Result<(), StoreError> {
        sqlx::query(
            "with gone as (
                 delete from outbox where id = $1 and last_word and state not in ('queued', 'leased') returning in_reply_to
             )
             delete from inbound where id in (select in_reply_to from gone)",
        )
        .bind(id)
        .execute(&self.database)
        .await?;
        Ok(())
    }

    /// Gives back every lease; only for a start that knows itself to be the database's one user.
    pub async fn release_leases(&self) -> Result<(), StoreError> {
        sqlx::query("update outbox set state = 'queued', lease_until = null where state = 'leased'")
            .execute(&self.database)
            .await?;
        Ok(())
    }

    /// Keeps what a receipt says; false when this line never sent such a message. Receipts come late, twice and in any
    /// order: `delivered` stays whatever comes after it.
    pub async fn settle(&self, line: &str, id: Uuid, outcome: Outcome) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "update outbox set state = case when state = 'delivered' then state else $3 end,
                               lease_until = null, updated_at = now()
             where id = $1 and line = $2",
        )
        .bind(id)
        .bind(line)
        .bind(outcome.state())
        .execute(&self.database)
        .await?;
        // A receipt may overtake the gateway's answer to our call.
        self.tally_taken(id).await?;
        Ok(done.rows_affected() == 1)
    }
}

fn interval(duration: Duration) -> PgInterval {
    PgInterval { months: 0, days: 0, microseconds: i64::try_from(duration.as_micros()).unwrap_or(i64::MAX) }
}
