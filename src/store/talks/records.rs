//! Messages and growers as records, in the order in which they came, for reports elsewhere.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Store;

/// Where a page ended.
pub type Cursor = (DateTime<Utc>, Uuid);

/// A message in or out, with what it came to. No `Debug`: it holds a number and a text.
#[derive(FromRow)]
pub struct MessageRecord {
    pub id: Uuid,
    pub at: DateTime<Utc>,
    pub came: bool,
    pub line: String,
    pub number: String,
    pub body: String,
    pub parts: Option<i32>,
    pub state: Option<String>,
    /// The message that it answers.
    pub answers: Option<Uuid>,
    pub staff: Option<String>,
    pub wants_person: Option<bool>,
    pub language: Option<String>,
    pub place: Option<String>,
    pub crop: Option<String>,
    pub verdict: Option<String>,
}

/// A grower. No `Debug`: it holds a number.
#[derive(FromRow)]
pub struct GrowerRecord {
    pub id: Uuid,
    pub number: String,
    pub since: DateTime<Utc>,
    pub last_at: DateTime<Utc>,
    pub messages: i64,
    pub language: Option<String>,
    pub place: Option<String>,
    pub crop: Option<String>,
    pub verdict: Option<String>,
    pub tags: Vec<String>,
    pub waits: bool,
}

impl Store {
    /// Messages in and out of a time, oldest first. The newest come two seconds late: a page never ends before a message that is
    /// still being stored.
    pub async fn message_records(
        &self,
        after: Option<Cursor>,
        from: Option<DateTime<Utc>>,
        until: Option<DateTime<Utc>>,
        limit: i64,
    ) -> Result<Vec<MessageRecord>, StoreError> {
        let (at, id) = after.unzip();
        Ok(sqlx::query_as(
            "select * from (
                 (select inbound.id, inbound.received_at as at, true as came, inbound.line, sender as number, body,
                         null::int as parts, null::text as state, null::uuid as answers, null::text as staff,
                         wants_person, tally.language, tally.place, tally.crop, tally.verdict
                  from inbound left join tally on tally.message = inbound.id
                  where ($1::timestamptz is null or (inbound.received_at, inbound.id) > ($1, $2))
                    and ($3::timestamptz is null or inbound.received_at >= $3)
                    and ($4::timestamptz is null or inbound.received_at < $4)
                    and inbound.received_at < now() - interval '2 seconds'
                  order by inbound.received_at, inbound.id limit $5)
                 union all
                 (select id, created_at, false, line, recipient, body, parts, state, in_reply_to, staff,
                         null, null, null, null, null
                  from outbox
                  where ($1::timestamptz is null or (created_at, id) > ($1, $2))
                    and ($3::timestamptz is null or created_at >= $3) and ($4::timestamptz is null or created_at < $4)
                    and created_at < now() - interval '2 seconds'
                  order by created_at, id limit $5)
             ) both_ways
             order by at, id limit $5",
        )
        .bind(at)
        .bind(id)
        .bind(from)
        .bind(until)
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }

    /// Growers first known in a time, oldest first.
    pub async fn grower_records(
        &self,
        after: Option<Cursor>,
        from: Option<DateTime<Utc>>,
        until: Option<DateTime<Utc>>,
        limit: i64,
    ) -> Result<Vec<GrowerRecord>, StoreError> {
        let (at, id) = after.unzip();
        Ok(sqlx::query_as(
            "select grower.id, grower.number, grower.since, grower.last_at,
                    (select count(*) from inbound where sender = grower.number) as messages,
                    counted.language, counted.place, counted.crop, counted.verdict,
                    array(select tag from grower_tag where grower_tag.grower = grower.id order by tag) as tags,
                    exists (select 1 from inbound where sender = grower.number and wants_person
                            and person_done_at is null) as waits
             from grower
             left join lateral (
                 select language, place, crop, verdict from inbound join tally on tally.message = inbound.id
                 where sender = grower.number order by inbound.received_at desc, inbound.id desc limit 1
             ) counted on true
             where ($1::timestamptz is null or (grower.since, grower.id) > ($1, $2))
               and ($3::timestamptz is null or grower.since >= $3) and ($4::timestamptz is null or grower.since < $4)
             order by grower.since, grower.id limit $5",
        )
        .bind(at)
        .bind(id)
        .bind(from)
        .bind(until)
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }
}
