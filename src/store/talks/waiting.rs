//! Talks that wait for a human or are in somebody's hands: what is asked, why, since when.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use super::hand::SIGN_WITHIN;
use super::talk::TalkForm;
use crate::store::error::StoreError;
use crate::store::handle::Step;
use crate::store::handle::Store;
use crate::talk::Talk;

/// A talk of the work list. No `Debug`: it holds a number and a text.
#[derive(FromRow)]
pub struct WaitingRow {
    pub grower: Uuid,
    pub number: String,
    pub line: Option<String>,
    /// When the oldest message that waits came; none of a talk that is held and has nothing that waits.
    pub since: Option<DateTime<Utc>>,
    pub messages: i64,
    /// The newest message that says something.
    pub body: Option<String>,
    pub reason: Option<String>,
    pub is_danger: bool,
    pub language: Option<String>,
    pub place: Option<String>,
    pub holder: Option<String>,
    pub holder_id: Option<Uuid>,
    pub taken_at: Option<DateTime<Utc>>,
}

/// Which talks of the work list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct WaitingFilter {
    pub language: Option<String>,
    pub place: Option<String>,
    pub reason: Option<String>,
    /// Only those in these hands.
    pub mine: Option<Uuid>,
    /// Only those in nobody's.
    pub free: bool,
}

/// How many wait, and how many of those are in danger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, FromRow)]
pub struct WaitingCount {
    pub talks: i64,
    pub danger: i64,
}

/// A talk as the desk opens it. No `Debug`, for the same reason.
#[derive(FromRow)]
pub struct TalkKey {
    pub grower: Uuid,
    pub number: String,
    /// The line of the newest message, and our number there; none of a grower who has never written.
    pub line: Option<String>,
    pub hotline: Option<String>,
    pub holder: Option<String>,
    pub holder_id: Option<Uuid>,
    pub taken_at: Option<DateTime<Utc>>,
    pub program_helps: bool,
    /// Whether a message of the talk still waits.
    pub waits: bool,
}

impl Step<'_> {
    /// The grower of a number, a new one for a new number.
    pub async fn grower_of(&mut self, number: &str, now: DateTime<Utc>) -> Result<Uuid, StoreError> {
        Ok(sqlx::query_scalar(
            "insert into grower (number, since, last_at) values ($1, $2, $2)
             on conflict on constraint grower_once do update set number = excluded.number returning id",
        )
        .bind(number)
        .bind(now)
        .fetch_one(self.opened.on())
        .await?)
    }
}

impl Store {
    /// The work list: danger first, then the longest waiting, then those that are held and have nothing that waits.
    pub async fn waiting(
        &self,
        filter: &WaitingFilter,
        now: DateTime<Utc>,
        offset: i64,
        limit: i64,
    ) -> Result<Vec<WaitingRow>, StoreError> {
        Ok(sqlx::query_as(
            "with waits as (
                 select sender as number, min(received_at) as since, count(*) as messages,
                        bool_or(person_reason = 'danger') as is_danger,
                        (array_agg(id order by received_at desc, id desc))[1] as newest,
                        (array_agg(person_reason order by person_reason = 'danger' desc, received_at desc)
                            filter (where person_reason is not null))[1] as reason
                 from inbound where wants_person and person_done_at is null group by sender
             ), held as (
                 select number, staff, taken_at from talk_in_hand where finished_at is null and seen_at > $1
             )
             select grower.id as grower, grower.number, newest.line, waits.since, coalesce(waits.messages, 0) as messages,
                    said.body, waits.reason, coalesce(waits.is_danger, false) as is_danger, tally.language, tally.place,
                    staff.name as holder, staff.id as holder_id, held.taken_at
             from waits full join held on held.number = waits.number
             join grower on grower.number = coalesce(waits.number, held.number)
             left join inbound newest on newest.id = waits.newest
             left join tally on tally.message = waits.newest
             left join staff on staff.id = held.staff
             left join lateral (
                 select body from inbound where sender = grower.number
                   and received_at >= coalesce(waits.since, held.taken_at) - interval '1 day'
                 order by array_length(regexp_split_to_array(btrim(body), '\\s+'), 1) > 1 desc, received_at desc limit 1
             ) said on true
             where ($2::text is null or tally.language = $2) and ($3::text is null or tally.place = $3)
               and ($4::text is null or waits.reason = $4) and ($5::uuid is null or held.staff = $5)
               and (not $6 or held.staff is null)
             order by coalesce(waits.is_danger, false) desc, waits.since nulls last, held.taken_at, grower.number
             offset $7 limit $8",
        )
        .bind(now - SIGN_WITHIN)
        .bind(&filter.language)
        .bind(&filter.place)
        .bind(&filter.reason)
        .bind(filter.mine)
        .bind(filter.free)
        .bind(offset)
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }

    pub async fn waiting_count(&self) -> Result<WaitingCount, StoreError> {
        Ok(sqlx::query_as(
            "select count(distinct sender) as talks,
                    count(distinct sender) filter (where person_reason = 'danger') as danger
             from inbound where wants_person and person_done_at is null",
        )
        .fetch_one(&self.database)
        .await?)
    }

    /// The grower whose message this is.
    pub async fn grower_of_message(&self, message: Uuid) -> Result<Option<Uuid>, StoreError> {
        Ok(sqlx::query_scalar("select grower.id from inbound join grower on grower.number = sender where inbound.id = $1")
            .bind(message)
            .fetch_optional(&self.database)
            .await?)
    }

    /// The talk of a grower as the desk opens it.
    pub async fn talk_key(&self, grower: Uuid, now: DateTime<Utc>) -> Result<Option<TalkKey>, StoreError> {
        Ok(sqlx::query_as(
            "select grower.id as grower, grower.number, newest.line, newest.recipient as hotline,
                    staff.name as holder, staff.id as holder_id, hand.taken_at,
                    coalesce(hand.program_helps, false) as program_helps,
                    exists (select 1 from inbound where sender = grower.number and wants_person
                            and person_done_at is null) as waits
             from grower
             left join lateral (
                 select line, recipient from inbound where sender = grower.number order by received_at desc, id desc limit 1
             ) newest on true
             left join talk_in_hand hand on hand.number = grower.number and hand.finished_at is null and hand.seen_at > $2
             left join staff on staff.id = hand.staff
             where grower.id = $1",
        )
        .bind(grower)
        .bind(now - SIGN_WITHIN)
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
