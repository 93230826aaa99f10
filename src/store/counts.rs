//! Counts of a time: by one thing, or by two of them crossed.

use chrono::{DateTime, Utc};
use sqlx::FromRow;

use crate::store::error::StoreError;
use crate::store::handle::Store;

/// By what counts are split.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    Week,
    Month,
    Place,
    Language,
    Crop,
    Verdict,
    Trouble,
    Fix,
}

impl Split {
    pub const ALL: [Split; 8] =
        [Split::Week, Split::Month, Split::Place, Split::Language, Split::Crop, Split::Verdict, Split::Trouble, Split::Fix];

    pub fn name(self) -> &'static str {
        match self {
            Split::Week => "week",
            Split::Month => "month",
            Split::Place => "place",
            Split::Language => "language",
            Split::Crop => "crop",
            Split::Verdict => "verdict",
            Split::Trouble => "trouble",
            Split::Fix => "fix",
        }
    }

    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|split| split.name() == name)
    }

    /// What a message is counted under; a message with several troubles or fixes is counted under each. Weeks and months are
    /// those of the deployment's clock; places that are none of the deployment's own are one.
    fn key(self) -> &'static str {
        match self {
            Split::Week => "to_char(received_at at time zone 'UTC' + $3 * interval '1 hour', 'IYYY-\"W\"IW')",
            Split::Month => "to_char(received_at at time zone 'UTC' + $3 * interval '1 hour', 'YYYY-MM')",
            Split::Place => "case when place is null then '-' when place = any($4) then place else '*' end",
            Split::Language => "coalesce(language, '-')",
            Split::Crop => "coalesce(crop, '-')",
            Split::Verdict => "coalesce(verdict, '-')",
            Split::Trouble => "trouble",
            Split::Fix => "fix",
        }
    }

    fn each(self) -> &'static str {
        match self {
            Split::Trouble => "cross join unnest(troubles) as trouble",
            Split::Fix => "cross join unnest(fixes) as fix",
            _ => "",
        }
    }
}

/// What is counted, and by which clock and places.
#[derive(Debug, Clone)]
pub struct Span {
    pub from: DateTime<Utc>,
    pub until: DateTime<Utc>,
    pub utc_offset_h: f64,
    /// Places by their names; all others are counted together.
    pub places: Vec<String>,
}

/// One line of counts.
#[derive(Debug, Clone, FromRow)]
pub struct Count {
    pub key: String,
    pub messages: i64,
    pub growers: i64,
    /// Of those, first heard of in this time.
    pub new_growers: i64,
    /// Growers with an advice for a garden of theirs, and all of those gardens, the latest of each.
    pub gardens: i64,
    pub hectares: Option<f64>,
    /// Water that the latest sets that are enough, or just enough, give in the month they were counted for.
    pub water_m3_day: Option<f64>,
    pub by_program: i64,
    pub to_person: i64,
    pub person_answered: i64,
    /// Median time from a message for a human to the human's answer, s.
    pub person_median_s: Option<f64>,
    /// Time from a message's arrival until a reply was taken by the gateway, or a human answered: the median, and what nine
    /// in ten do not pass, s.
    pub taken_median_s: Option<f64>,
    pub taken_nine_in_ten_s: Option<f64>,
    pub enough: i64,
    pub tight: i64,
    pub short: i64,
    pub with_trouble: i64,
    pub with_fix: i64,
}

/// One cell of counts by two things.
#[derive(Debug, Clone, FromRow)]
pub struct Crossed {
    pub row: String,
    pub col: String,
    pub messages: i64,
    pub growers: i64,
    pub hectares: Option<f64>,
}

impl Store {
    /// Counts of a time, split so.
    pub async fn counts(&self, split: Split, span: &Span) -> Result<Vec<Count>, StoreError> {
        self.counts_by(split.key(), split.each(), span).await
    }

    /// All of a time in one line.
    pub async fn totals(&self, span: &Span) -> Result<Option<Count>, StoreError> {
        Ok(self.counts_by("''", "", span).await?.pop())
    }

    async fn counts_by(&self, key: &str, each: &str, span: &Span) -> Result<Vec<Count>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!(
            "with told as (
                 select {key} as key, tally.*,
                        garden_m2 is not null and row_number() over (
                            partition by {key}, grower, garden_m2 is null order by received_at desc
                        ) = 1 as is_latest
                 from tally {each}
                 where received_at >= $1 and received_at < $2 and $3::float8 is not null and $4::text[] is not null
             )
             select key, count(*) as messages, count(distinct grower) as growers,
                    count(distinct grower) filter (where known.since >= $1) as new_growers,
                    count(distinct grower) filter (where garden_m2 is not null) as gardens,
                    sum(garden_m2) filter (where is_latest) / 10000 as hectares,
                    sum(water_m3_day) filter (where is_latest and verdict in ('enough', 'tight')) as water_m3_day,
                    count(*) filter (where replied and not to_person) as by_program,
                    count(*) filter (where to_person) as to_person, count(person_answered_at) as person_answered,
                    percentile_cont(0.5) within group (
                        order by extract(epoch from person_answered_at - received_at)
                    )::double precision as person_median_s,
                    percentile_cont(0.5) within group (
                        order by extract(epoch from least(reply_taken_at, person_answered_at) - received_at)
                    )::double precision as taken_median_s,
                    percentile_cont(0.9) within group (
                        order by extract(epoch from least(reply_taken_at, person_answered_at) - received_at)
                    )::double precision as taken_nine_in_ten_s,
                    count(*) filter (where verdict = 'enough') as enough,
                    count(*) filter (where verdict = 'tight') as tight,
                    count(*) filter (where verdict = 'short') as short,
                    count(*) filter (where cardinality(troubles) > 0) as with_trouble,
                    count(*) filter (where cardinality(fixes) > 0) as with_fix
             from told left join grower known on known.id = told.grower group by key order by key"
        )))
        .bind(span.from)
        .bind(span.until)
        .bind(span.utc_offset_h)
        .bind(&span.places)
        .fetch_all(&self.database)
        .await?)
    }

    /// Counts of a time by two things.
    pub async fn crossed(&self, rows: Split, columns: Split, span: &Span) -> Result<Vec<Crossed>, StoreError> {
        let (row, col) = (rows.key(), columns.key());
        let each = if rows == columns { rows.each().to_owned() } else { format!("{} {}", rows.each(), columns.each()) };
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!(
            "with told as (
                 select {row} as row, {col} as col, grower, garden_m2,
                        garden_m2 is not null and row_number() over (
                            partition by {row}, {col}, grower, garden_m2 is null order by received_at desc
                        ) = 1 as is_latest
                 from tally {each}
                 where received_at >= $1 and received_at < $2 and $3::float8 is not null and $4::text[] is not null
             )
             select row, col, count(*) as messages, count(distinct grower) as growers,
                    sum(garden_m2) filter (where is_latest) / 10000 as hectares
             from told group by row, col order by row, col"
        )))
        .bind(span.from)
        .bind(span.until)
        .bind(span.utc_offset_h)
        .bind(&span.places)
        .fetch_all(&self.database)
        .await?)
    }

    /// Messages of a time that never reached a phone.
    pub async fn not_delivered(&self, span: &Span) -> Result<i64, StoreError> {
        Ok(sqlx::query_scalar(
            "select count(*) from outbox
             where created_at >= $1 and created_at < $2 and state in ('refused', 'undelivered', 'failed', 'expired')",
        )
        .bind(span.from)
        .bind(span.until)
        .fetch_one(&self.database)
        .await?)
    }
}
