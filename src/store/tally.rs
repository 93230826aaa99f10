//! Counts: what each message came to, without its text and its number.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// What a message came to.
pub struct NewTally<'a> {
    pub message: Uuid,
    pub received_at: DateTime<Utc>,
    pub line: &'a str,
    pub language: Option<&'a str>,
    pub place: Option<&'a str>,
    pub crop: Option<&'a str>,
    pub verdict: Option<&'a str>,
    pub troubles: &'a [&'static str],
    /// Codes of the changes that were advised.
    pub fixes: &'a [&'static str],
    pub replied: bool,
    /// The call that brought it carried the reply back at once.
    pub is_shown: bool,
    pub to_person: bool,
    /// Whose message it is: kept as the grower's random name only.
    pub number: &'a str,
    pub garden_m2: Option<f64>,
    pub water_m3_day: Option<f64>,
}

/// How things stand now, for machines that watch.
#[derive(Debug, Clone, FromRow)]
pub struct Gauges {
    pub waiting_talks: i64,
    pub outbox_queued: i64,
    pub outbox_undelivered: i64,
    /// Reminders that have fallen due and are not sent yet.
    pub reminders_due: i64,
    pub bulk_waiting: i64,
}

impl Step<'_> {
    pub async fn tally(&mut self, tally: &NewTally<'_>) -> Result<(), StoreError> {
        sqlx::query(
            "insert into tally (message, received_at, line, language, place, crop, verdict, troubles, replied, to_person, fixes,
                                grower, garden_m2, water_m3_day, reply_taken_at)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, (select id from grower where number = $12), $13, $14,
                     case when $15 then greatest(now(), $2) end)",
        )
        .bind(tally.message)
        .bind(tally.received_at)
        .bind(tally.line)
        .bind(tally.language)
        .bind(tally.place)
        .bind(tally.crop)
        .bind(tally.verdict)
        .bind(tally.troubles)
        .bind(tally.replied)
        .bind(tally.to_person)
        .bind(tally.fixes)
        .bind(tally.number)
        .bind(tally.garden_m2)
        .bind(tally.water_m3_day)
        .bind(tally.replied && tally.is_shown)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}

impl Store {
    /// The gateway has the reply of this name: the message that it answers is counted with the time that took, once.
    pub(super) async fn tally_taken(&self, reply: Uuid) -> Result<(), StoreError> {
        sqlx::query(
            "update tally set reply_taken_at = greatest(now(), received_at) from outbox
             where outbox.id = $1 and tally.message = outbox.in_reply_to and reply_taken_at is null
               and outbox.state in ('taken', 'delivered', 'failed', 'expired')",
        )
        .bind(reply)
        .execute(&self.database)
        .await?;
        Ok(())
    }

    pub async fn gauges(&self) -> Result<Gauges, StoreError> {
        Ok(sqlx::query_as(
            "select (select count(distinct (line, sender)) from inbound
                     where wants_person and person_done_at is null) as waiting_talks,
                    (select count(*) from sending where due_at is not null) as outbox_queued,
                    (select count(*) from sending where due_at is null) as outbox_undelivered,
                    (select count(*) from reminder where due_at <= now()) as reminders_due,
                    (select count(*) from bulk_row where state = 'waiting') as bulk_waiting",
        )
        .fetch_one(&self.database)
        .await?)
    }
}
