//! Talks that wait for a human: what is asked, since when, in whose hands.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use super::talk::TalkForm;
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};
use crate::talk::Talk;

/// A waiting talk. No `Debug`: it holds a number and a text.
#[derive(FromRow)]
pub struct WaitingRow {
    /// The oldest message that waits; the talk goes by its name at the desk.
    pub message: Uuid,
    pub line: String,
    pub number: String,
    pub since: DateTime<Utc>,
    pub messages: i64,
    /// The newest message that waits.
    pub body: String,
    pub holder: Option<String>,
    pub holder_id: Option<Uuid>,
    /// The danger that one of its messages showed, by its name: such a talk stands first.
    pub danger: Option<String>,
}

/// Whose talk a message belongs to. No `Debug`, for the same reason.
#[derive(FromRow)]
pub struct TalkKey {
    pub line: String,
    pub number: String,
    /// Our own number, to which the message came.
    pub hotline: String,
    pub holder: Option<String>,
    pub holder_id: Option<Uuid>,
    /// Whether a message of the talk still waits.
    pub waits: bool,
}

/// What became of taking a talk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hand {
    Taken,
    /// This member of staff has it.
    HeldBy(String),
}

impl Step<'_> {
    /// Puts a talk into somebody's hands if it is in nobody's.
    pub async fn take_talk(
        &mut self,
        line: &str,
        number: &str,
        staff: Uuid,
        now: DateTime<Utc>,
    ) -> Result<Hand, StoreError> {
        sqlx::query(
            "insert into talk_in_hand (line, number, staff, taken_at) values ($1, $2, $3, $4) on conflict do nothing",
        )
        .bind(line)
        .bind(number)
        .bind(staff)
        .bind(now)
        .execute(self.opened.on())
        .await?;
        let (holder, name): (Uuid, String) = sqlx::query_as(
            "select staff.id, staff.name from talk_in_hand join staff on staff.id = talk_in_hand.staff
             where line = $1 and number = $2",
        )
        .bind(line)
        .bind(number)
        .fetch_one(self.opened.on())
        .await?;
        Ok(if holder == staff { Hand::Taken } else { Hand::HeldBy(name) })
    }

    /// Locks a talk that is in these hands until this step ends; false when it no longer is.
    pub async fn hold_talk(&mut self, line: &str, number: &str, staff: Uuid) -> Result<bool, StoreError> {
        let row: Option<(Uuid,)> =
            sqlx::query_as("select staff from talk_in_hand where line = $1 and number = $2 and staff = $3 for update")
                .bind(line)
                .bind(number)
                .bind(staff)
                .fetch_optional(self.opened.on())
                .await?;
        Ok(row.is_some())
    }

    /// Lets go of a talk; it waits on.
    pub async fn let_go(&mut self, line: &str, number: &str) -> Result<(), StoreError> {
        sqlx::query("delete from talk_in_hand where line = $1 and number = $2")
            .bind(line)
            .bind(number)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// The talk has been dealt with: none of its messages waits any more.
    pub async fn talk_done(&mut self, line: &str, number: &str, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "with done as (
                 update inbound set person_done_at = $3
                 where line = $1 and sender = $2 and wants_person and person_done_at is null returning id
             )
             update tally set person_answered_at = $3 from done where tally.message = done.id",
        )
        .bind(line)
        .bind(number)
        .bind(now)
        .execute(self.opened.on())
        .await?;
        self.let_go(line, number).await
    }
}

impl Store {
    /// Waiting talks, those of danger first, then the longest waiting.
    pub async fn waiting(&self, limit: i64) -> Result<Vec<WaitingRow>, StoreError> {
        Ok(sqlx::query_as(
            "select (array_agg(inbound.id order by received_at, inbound.id))[1] as message,
                    inbound.line, inbound.sender as number, min(received_at) as since, count(*) as messages,
                    (array_agg(body order by received_at desc, inbound.id desc))[1] as body,
                    max(staff.name) as holder, (array_agg(staff.id))[1] as holder_id,
                    (array_agg(danger order by received_at desc) filter (where danger is not null))[1] as danger
             from inbound
             left join talk_in_hand hand on hand.line = inbound.line and hand.number = inbound.sender
             left join staff on staff.id = hand.staff
             where wants_person and person_done_at is null
             group by inbound.line, inbound.sender
             order by bool_or(danger is not null) desc, min(received_at), inbound.sender limit $1",
        )
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }

    pub async fn waiting_count(&self) -> Result<i64, StoreError> {
        Ok(sqlx::query_scalar(
            "select count(distinct (line, sender)) from inbound where wants_person and person_done_at is null",
        )
        .fetch_one(&self.database)
        .await?)
    }

    /// The talk that a message belongs to.
    pub async fn talk_key(&self, message: Uuid) -> Result<Option<TalkKey>, StoreError> {
        Ok(sqlx::query_as(
            "select inbound.line, inbound.sender as number, inbound.recipient as hotline,
                    staff.name as holder, staff.id as holder_id,
                    exists (select 1 from inbound other where other.line = inbound.line
                            and other.sender = inbound.sender and other.wants_person
                            and other.person_done_at is null) as waits
             from inbound
             left join talk_in_hand hand on hand.line = inbound.line and hand.number = inbound.sender
             left join staff on staff.id = hand.staff
             where inbound.id = $1",
        )
        .bind(message)
        .fetch_optional(&self.database)
        .await?)
    }

    /// The talk of a number as it stands.
    pub async fn talk_of(&self, number: &str) -> Result<Talk, StoreError> {
        let row: Option<(i32, serde_json::Value)> = sqlx::query_as("select form, talk from talk where number = $1")
            .bind(number)
            .fetch_optional(&self.database)
            .await?;
        row.map_or_else(|| Ok(Talk::default()), |(form, talk)| TalkForm { form, talk }.read())
    }
}
