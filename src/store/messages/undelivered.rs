//! What is on its way and what was given up, as staff see it: by line, one by one, sent again or let be.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::sending::Priority;
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A message that was given up. No `Debug`: it holds a number and a text.
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

/// How a line stands now.
#[derive(Debug, Clone, FromRow)]
pub struct LineNow {
    pub line: String,
    /// On their way, and those of them that have been tried in vain.
    pub queued: i64,
    pub failing: i64,
    /// Before staff.
    pub given_up: i64,
    /// Since when the oldest of those on their way has waited.
    pub oldest: Option<DateTime<Utc>>,
    /// Since when the line is down.
    pub down_since: Option<DateTime<Utc>>,
    /// When it is next tried, or goes on.
    pub not_before: Option<DateTime<Utc>>,
    pub reason: Option<String>,
}

/// Which of the messages that were given up are sent again.
#[derive(Debug, Clone, Default)]
pub struct Again<'a> {
    pub line: Option<&'a str>,
    /// Given up at this time or later.
    pub since: Option<DateTime<Utc>>,
    /// By this line, and from our number there, instead of their own; with those on their way by the line of that name.
    pub by: Option<(&'a str, &'a str)>,
}

const ROWS: &str = "select outbox.id, outbox.line, outbox.recipient, body, parts, attempts, reason, outbox.created_at,
                           given_up_at,
                           exists (select 1 from talk where talk.number = outbox.recipient and talk.stopped) as opted_out
                    from sending join outbox on outbox.id = sending.id where due_at is null";

impl Store {
    /// The newest of them first.
    pub async fn undelivered_replies(&self, limit: i64) -> Result<Vec<UndeliveredRow>, StoreError> {
        let sql = format!("{ROWS} order by given_up_at desc, sending.seq desc limit $1");
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(sql)).bind(limit).fetch_all(&self.database).await?)
    }

    /// How many staff have not dealt with.
    pub async fn undelivered_count(&self) -> Result<i64, StoreError> {
        Ok(sqlx::query_scalar("select count(*) from sending where due_at is null").fetch_one(&self.database).await?)
    }

    /// Every line that has something on its way, something given up, or trouble.
    pub async fn lines_now(&self) -> Result<Vec<LineNow>, StoreError> {
        Ok(sqlx::query_as(
            "select line, coalesce(queued, 0) as queued, coalesce(failing, 0) as failing, coalesce(given_up, 0) as given_up,
                    oldest, down_since, case when not_before > now() then not_before end as not_before, reason
             from (select line, count(*) filter (where due_at is not null) as queued,
                          count(*) filter (where due_at is not null and attempts > 0 and not is_leased) as failing,
                          count(*) filter (where due_at is null) as given_up,
                          min(since) filter (where due_at is not null) as oldest
                   from sending group by line) as counted
             full join (select * from line_state where failures > 0 or not_before > now()) as troubled using (line)
             order by line",
        )
        .fetch_all(&self.database)
        .await?)
    }
}

impl Step<'_> {
    /// One that was given up, which nobody else sends again or lets be until this step ends.
    pub async fn lock_undelivered(&mut self, id: Uuid) -> Result<Option<UndeliveredRow>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!("{ROWS} and sending.id = $1 for update of sending")))
            .bind(id)
            .fetch_optional(self.opened.on())
            .await?)
    }

    /// Queues one anew, and says under which name: its own, since the gateway may have it after all; another where a gateway had
    /// it and it failed at the phone, since the same name would be the same message to it.
    pub async fn send_again(&mut self, id: Uuid, now: DateTime<Utc>) -> Result<(), StoreError> {
        self.queue_anew("sending.id = $5", &Again::default(), Some(id), now).await?;
        Ok(())
    }

    /// The same for all that was given up and meets all that is asked, but nothing to numbers that have opted out; says how many.
    pub async fn send_all_again(&mut self, again: &Again<'_>, now: DateTime<Utc>) -> Result<u64, StoreError> {
        self.queue_anew("$5::uuid is null", again, None, now).await
    }

    async fn queue_anew(
        &mut self,
        which: &'static str,
        again: &Again<'_>,
        id: Option<Uuid>,
        now: DateTime<Utc>,
    ) -> Result<u64, StoreError> {
        let chosen = format!(
            "{which} and ($1::text is null or sending.line = $1)
             and not exists (select 1 from talk where talk.number = sending.recipient and talk.stopped)"
        );
        let by = "coalesce($3::text, outbox.line), coalesce($4::text, outbox.sender)";
        let copies = format!(
            "with failed as (
                 delete from sending using outbox
                 where outbox.id = sending.id and due_at is null and state in ('failed', 'expired') and {chosen}
                   and ($2::timestamptz is null or given_up_at >= $2)
                 returning outbox.id
             ), fresh as (
                 insert into outbox (id, line, sender, recipient, body, encoding, parts, staff, created_at, updated_at)
                 select gen_random_uuid(), {by}, recipient, body, encoding, parts, staff, $6, $6
                 from outbox where id in (select id from failed) order by seq returning id, seq, line, recipient
             )
             insert into sending (id, seq, line, recipient, priority, due_at, since)
             select id, seq, line, recipient, $7, now(), now() from fresh"
        );
        let again_as_they_are = format!(
            "with again as (
                 update sending set due_at = now(), since = now(), given_up_at = null, is_leased = false,
                                    line = coalesce($3, line)
                 where {chosen}
                   and (due_at is null and ($2::timestamptz is null or given_up_at >= $2)
                        or due_at is not null and not is_leased and $3::text is not null and $1 is not null)
                 returning id
             )
             update outbox set state = 'queued', updated_at = $6, line = coalesce($3, line), sender = coalesce($4, sender)
             where id in (select id from again)"
        );
        let mut queued = 0;
        for statement in [copies, again_as_they_are] {
            let done = sqlx::query(sqlx::AssertSqlSafe(statement))
                .bind(again.line)
                .bind(again.since)
                .bind(again.by.map(|(line, _)| line))
                .bind(again.by.map(|(_, sender)| sender))
                .bind(id)
                .bind(now)
                .bind(Priority::Staff.rank())
                .execute(self.opened.on())
                .await?;
            queued += done.rows_affected();
        }
        Ok(queued)
    }

    /// Takes one out of the list; what became of it stays.
    pub async fn let_be(&mut self, id: Uuid) -> Result<(), StoreError> {
        sqlx::query("delete from sending where id = $1 and due_at is null").bind(id).execute(self.opened.on()).await?;
        Ok(())
    }
}
