//! What is on its way. A sender leases a row, tries it, and says how it went; one that dies loses the lease. The times are
//! those of `crate::sending`.

use std::time::Duration;

use sqlx::FromRow;
use uuid::Uuid;

use super::interval::interval;
use crate::sending::{LEASE, Priority, TRY_FOR};
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A message that this sender alone may try until the lease ends.
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
    /// Its number has opted out since it was queued, and it is not what that number asked for.
    pub opted_out: bool,
}

/// Messages given up at once when they are too old.
const GIVEN_UP_AT_ONCE: i64 = 500;

impl Step<'_> {
    /// Takes up to `limit` messages of a line that are due, or whose sender died: the more important ones first. One number
    /// gets its messages in order: a later one waits while an earlier one of the same or more importance is on its way.
    pub(super) async fn lease_due(&mut self, line: &str, limit: i64) -> Result<Vec<Lease>, StoreError> {
        Ok(sqlx::query_as(
            "with due as (
                 select each.id from generate_series(0, $4::int) as rank(priority)
                 cross join lateral (
                     select s.id from sending s
                     where s.line = $1 and s.priority = rank.priority and s.due_at <= now()
                       and not exists (
                           select 1 from sending first
                           where first.recipient = s.recipient and first.line = s.line and first.due_at is not null
                             and (first.priority, first.seq) < (s.priority, s.seq)
                       )
                     order by s.due_at, s.seq limit $2 for update of s skip locked
                 ) as each
                 limit $2
             )
             update sending set is_leased = true, attempts = attempts + 1, due_at = now() + $3
             from due, outbox where sending.id = due.id and outbox.id = due.id
             returning sending.id, sender, outbox.recipient, body, encoding, parts, attempts,
                       priority >= $5 and exists (
                           select 1 from talk where talk.number = outbox.recipient and talk.stopped
                       ) as opted_out",
        )
        .bind(line)
        .bind(limit)
        .bind(interval(LEASE))
        .bind(i32::from(Priority::List.rank()))
        .bind(Priority::ALL.into_iter().find(|each| each.heeds_opt_out()).map_or(i16::MAX, Priority::rank))
        .fetch_all(self.opened.on())
        .await?)
    }
}

impl Store {
    /// The gateway has it. Says nothing of a row that a receipt has settled, or that another sender has leased since.
    pub async fn taken(&self, id: Uuid, attempt: i32) -> Result<(), StoreError> {
        self.leave(id, attempt, "taken").await?;
        self.tally_taken(id).await?;
        self.let_go_of_last_word(id).await
    }

    /// Its number has opted out meanwhile.
    pub async fn stopped(&self, id: Uuid, attempt: i32) -> Result<(), StoreError> {
        self.leave(id, attempt, "stopped").await
    }

    async fn leave(&self, id: Uuid, attempt: i32, state: &str) -> Result<(), StoreError> {
        sqlx::query(
            "with gone as (delete from sending where id = $1 and is_leased and attempts = $2 returning id)
             update outbox set state = $3, updated_at = now()
             where id in (select id from gone) and state in ('queued', 'refused', 'undelivered', 'failed', 'expired')",
        )
        .bind(id)
        .bind(attempt)
        .bind(state)
        .execute(&self.database)
        .await?;
        Ok(())
    }

    /// The gateway will never take it: staff see it, and the number's next message goes.
    pub async fn refused(&self, id: Uuid, attempt: i32, reason: &str) -> Result<(), StoreError> {
        sqlx::query(
            "with refused as (
                 update sending set due_at = null, is_leased = false, reason = $3, given_up_at = now()
                 where id = $1 and is_leased and attempts = $2 returning id
             )
             update outbox set state = 'refused', updated_at = now() where id in (select id from refused)",
        )
        .bind(id)
        .bind(attempt)
        .bind(reason)
        .execute(&self.database)
        .await?;
        self.let_go_of_last_word(id).await
    }

    /// To be tried again after a pause, spread by a quarter each way so that messages held up together do not all come back
    /// at the same moment.
    pub async fn retry_later(&self, id: Uuid, attempt: i32, pause: Duration, reason: &str) -> Result<(), StoreError> {
        sqlx::query(
            "update sending set is_leased = false, reason = $4, due_at = now() + $3 * (0.75 + 0.5 * random())
             where id = $1 and is_leased and attempts = $2",
        )
        .bind(id)
        .bind(attempt)
        .bind(interval(pause))
        .bind(reason)
        .execute(&self.database)
        .await?;
        Ok(())
    }

    /// Puts before staff what has been tried for too long; says how many.
    pub async fn give_up_old(&self) -> Result<u64, StoreError> {
        let done = sqlx::query(
            "with old as (
                 select id from sending where due_at is not null and not is_leased and since < now() - $1 limit $2
                 for update skip locked
             ), given_up as (
                 update sending set due_at = null, given_up_at = now() where id in (select id from old) returning id
             )
             update outbox set state = 'undelivered', updated_at = now() where id in (select id from given_up)",
        )
        .bind(interval(TRY_FOR))
        .bind(GIVEN_UP_AT_ONCE)
        .execute(&self.database)
        .await?;
        Ok(done.rows_affected())
    }

    /// Gives back every lease; only for a start that knows itself to be the database's one user.
    pub async fn release_leases(&self) -> Result<(), StoreError> {
        for statement in [
            "update sending set is_leased = false, due_at = now() where is_leased",
            // Who probed it is gone as well.
            "update line_state set not_before = null where down_since is not null",
        ] {
            sqlx::query(statement).execute(&self.database).await?;
        }
        Ok(())
    }
}
