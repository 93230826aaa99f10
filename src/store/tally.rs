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
}

/// By what counts are split.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    Week,
    Place,
    Language,
    Crop,
    Trouble,
    Fix,
}

impl Split {
    pub const ALL: [Split; 6] = [Split::Week, Split::Place, Split::Language, Split::Crop, Split::Trouble, Split::Fix];

    pub fn name(self) -> &'static str {
        match self {
            Split::Week => "week",
            Split::Place => "place",
            Split::Language => "language",
            Split::Crop => "crop",
            Split::Trouble => "trouble",
            Split::Fix => "fix",
        }
    }

    /// What a message is counted under; a message with several troubles or fixes is counted under each.
    pub(super) fn key(self) -> &'static str {
        match self {
            Split::Week => "to_char(received_at at time zone 'UTC', 'IYYY-\"W\"IW')",
            Split::Place => "coalesce(place, '-')",
            Split::Language => "coalesce(language, '-')",
            Split::Crop => "coalesce(crop, '-')",
            Split::Trouble => "trouble",
            Split::Fix => "fix",
        }
    }

    pub(super) fn each(self) -> &'static str {
        match self {
            Split::Trouble => "cross join unnest(troubles) as trouble",
            Split::Fix => "cross join unnest(fixes) as fix",
            _ => "",
        }
    }
}

/// One line of counts.
#[derive(Debug, Clone, FromRow)]
pub struct Count {
    pub key: String,
    pub messages: i64,
    pub by_program: i64,
    pub to_person: i64,
    pub person_answered: i64,
    /// Median time from a message for a human to the human's answer, s.
    pub person_median_s: Option<f64>,
    /// Time from a message's arrival until its reply was taken by the gateway: the median, and what nine in ten do not
    /// pass, s.
    pub taken_median_s: Option<f64>,
    pub taken_nine_in_ten_s: Option<f64>,
    pub enough: i64,
    pub tight: i64,
    pub short: i64,
    pub with_trouble: i64,
    pub with_fix: i64,
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
                                reply_taken_at)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, case when $12 then greatest(now(), $2) end)",
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

    /// Counts of a time, split so; times to a twentieth where days are counted already, exactly where none is.
    pub async fn counts(&self, split: Split, from: DateTime<Utc>, until: DateTime<Utc>) -> Result<Vec<Count>, StoreError> {
        if let Some(counts) = self.counts_by_day(split, from, until).await? {
            return Ok(counts);
        }
        let (key, each) = (split.key(), split.each());
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!(
            "select {key} as key, count(*) as messages,
                    count(*) filter (where replied and not to_person) as by_program,
                    count(*) filter (where to_person) as to_person, count(person_answered_at) as person_answered,
                    percentile_cont(0.5) within group (
                        order by extract(epoch from person_answered_at - received_at)
                    )::double precision as person_median_s,
                    percentile_cont(0.5) within group (
                        order by extract(epoch from reply_taken_at - received_at)
                    )::double precision as taken_median_s,
                    percentile_cont(0.9) within group (
                        order by extract(epoch from reply_taken_at - received_at)
                    )::double precision as taken_nine_in_ten_s,
                    count(*) filter (where verdict = 'enough') as enough,
                    count(*) filter (where verdict = 'tight') as tight,
                    count(*) filter (where verdict = 'short') as short,
                    count(*) filter (where cardinality(troubles) > 0) as with_trouble,
                    count(*) filter (where cardinality(fixes) > 0) as with_fix
             from tally {each} where received_at >= $1 and received_at < $2 group by 1 order by 1"
        )))
        .bind(from)
        .bind(until)
        .fetch_all(&self.database)
        .await?)
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
