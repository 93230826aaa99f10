//! Growers: found again, with notes and tags.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Step;
use crate::store::handle::Store;

/// A grower of a list. No `Debug`: it holds a number and a text.
#[derive(FromRow)]
pub struct FoundRow {
    pub grower: Uuid,
    pub number: String,
    pub last_at: DateTime<Utc>,
    /// The newest message, in or out.
    pub body: Option<String>,
    pub language: Option<String>,
    pub place: Option<String>,
    pub verdict: Option<String>,
    /// Who of staff wrote last.
    pub staff: Option<String>,
    pub tags: Vec<String>,
    pub waits: bool,
}

/// Which growers; what is not told does not matter.
#[derive(Debug, Clone, Default)]
pub struct Search {
    /// Digits of the number, wherever they stand in it.
    pub digits: Option<String>,
    /// Words of a message, each one or the start of one.
    pub words: Option<String>,
    pub place: Option<String>,
    pub language: Option<String>,
    pub verdict: Option<String>,
    pub staff: Option<String>,
    pub tag: Option<String>,
    pub from: Option<DateTime<Utc>>,
    pub until: Option<DateTime<Utc>>,
    /// Where the page begins: behind the grower of this time and id.
    pub behind: Option<(DateTime<Utc>, Uuid)>,
}

/// A note of staff about a grower. No `Debug`: it holds a text.
#[derive(FromRow)]
pub struct NoteRow {
    pub id: i64,
    pub at: DateTime<Utc>,
    pub staff: String,
    pub text: String,
}

/// Words as PostgreSQL's text search takes them: each may be the start of a longer one.
fn query_of(words: &str) -> Option<String> {
    let words = words.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    let query = words.map(|word| format!("{word}:*")).collect::<Vec<_>>().join(" & ");
    Some(query).filter(|query| !query.is_empty())
}

impl Store {
    /// Growers, those heard of last first.
    pub async fn find_growers(&self, search: &Search, limit: i64) -> Result<Vec<FoundRow>, StoreError> {
        let (at, id) = search.behind.unzip();
        Ok(sqlx::query_as(
            "select grower.id as grower, grower.number, grower.last_at, said.body, counted.language, counted.place,
                    counted.verdict, written.staff,
                    array(select tag from grower_tag where grower_tag.grower = grower.id order by tag) as tags,
                    exists (select 1 from inbound where sender = grower.number and wants_person
                            and person_done_at is null) as waits
             from grower
             left join lateral (
                 select body from inbound where sender = grower.number order by received_at desc, id desc limit 1
             ) said on true
             left join lateral (
                 select language, place, verdict from inbound join tally on tally.message = inbound.id
                 where sender = grower.number order by inbound.received_at desc, inbound.id desc limit 1
             ) counted on true
             left join lateral (
                 select staff from outbox where recipient = grower.number and staff is not null
                 order by created_at desc limit 1
             ) written on true
             where ($1::text is null or grower.number like '%' || $1 || '%')
               and ($2::text is null
                    or grower.number in (select sender from inbound
                                         where to_tsvector('simple', body) @@ to_tsquery('simple', $2))
                    or grower.number in (select recipient from outbox where staff is not null
                                         and to_tsvector('simple', body) @@ to_tsquery('simple', $2)))
               and ($3::text is null or counted.place = $3) and ($4::text is null or counted.language = $4)
               and ($5::text is null or exists (select 1 from inbound join tally on tally.message = inbound.id
                                                where sender = grower.number and tally.verdict = $5))
               and ($6::text is null or exists (select 1 from outbox where recipient = grower.number and staff = $6))
               and ($7::text is null or exists (select 1 from grower_tag where grower = grower.id and tag = $7))
               and ($8::timestamptz is null or exists (select 1 from inbound where sender = grower.number
                    and received_at >= $8 and ($9::timestamptz is null or received_at < $9)))
               and ($9::timestamptz is null or exists (select 1 from inbound where sender = grower.number
                    and received_at < $9))
               and ($10::timestamptz is null or (grower.last_at, grower.id) < ($10, $11))
             order by grower.last_at desc, grower.id desc limit $12",
        )
        .bind(&search.digits)
        .bind(search.words.as_deref().and_then(query_of))
        .bind(&search.place)
        .bind(&search.language)
        .bind(&search.verdict)
        .bind(&search.staff)
        .bind(&search.tag)
        .bind(search.from)
        .bind(search.until)
        .bind(at)
        .bind(id)
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }

    /// Every tag that is in use.
    pub async fn tags(&self) -> Result<Vec<String>, StoreError> {
        Ok(sqlx::query_scalar("select distinct tag from grower_tag order by tag").fetch_all(&self.database).await?)
    }

    pub async fn tags_of(&self, grower: Uuid) -> Result<Vec<String>, StoreError> {
        Ok(sqlx::query_scalar("select tag from grower_tag where grower = $1 order by tag")
            .bind(grower)
            .fetch_all(&self.database)
            .await?)
    }

    /// What staff have noted of a grower, oldest first.
    pub async fn notes_of(&self, grower: Uuid) -> Result<Vec<NoteRow>, StoreError> {
        Ok(sqlx::query_as("select id, at, staff, text from grower_note where grower = $1 order by at, id")
            .bind(grower)
            .fetch_all(&self.database)
            .await?)
    }

    /// Since when a grower is known.
    pub async fn known_since(&self, grower: Uuid) -> Result<Option<DateTime<Utc>>, StoreError> {
        Ok(sqlx::query_scalar("select since from grower where id = $1").bind(grower).fetch_optional(&self.database).await?)
    }
}

impl Step<'_> {
    pub async fn note_grower(
        &mut self,
        grower: Uuid,
        staff: &str,
        text: &str,
        now: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        sqlx::query("insert into grower_note (grower, at, staff, text) values ($1, $2, $3, $4)")
            .bind(grower)
            .bind(now)
            .bind(staff)
            .bind(text)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    pub async fn drop_note(&mut self, grower: Uuid, id: i64) -> Result<(), StoreError> {
        sqlx::query("delete from grower_note where grower = $1 and id = $2")
            .bind(grower)
            .bind(id)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    pub async fn set_tags(&mut self, grower: Uuid, tags: &[String]) -> Result<(), StoreError> {
        sqlx::query("delete from grower_tag where grower = $1 and tag <> all ($2)")
            .bind(grower)
            .bind(tags)
            .execute(self.opened.on())
            .await?;
        sqlx::query("insert into grower_tag (grower, tag) select $1, unnest($2::text[]) on conflict do nothing")
            .bind(grower)
            .bind(tags)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }
}
