//! Counts of days that are over, made once, so that a season's numbers are not counted from every message each time.

use std::collections::BTreeMap;

use chrono::{DateTime, Days, NaiveDate, Utc};
use serde_json::Value;
use sqlx::FromRow;

use super::error::StoreError;
use super::handle::Store;
use super::tally::{Count, Split};

/// Buckets of times: each a tenth longer than the one before, the first a millisecond, so that a median is off by 5 % at most.
const GROWTH: f64 = 1.1;
const SHORTEST_S: f64 = 0.001;

/// Days after which nothing changes any more: a person's answer comes late, and so does a gateway that was down.
const SETTLES_IN: u64 = 10;

/// A key's counts, with its times by bucket.
#[derive(FromRow)]
struct Counted {
    key: String,
    messages: i64,
    by_program: i64,
    to_person: i64,
    person_answered: i64,
    enough: i64,
    tight: i64,
    short: i64,
    with_trouble: i64,
    with_fix: i64,
    person_times: Value,
    taken_times: Value,
}

/// Messages by the bucket of a time.
#[derive(Default)]
struct Times(BTreeMap<i32, i64>);

impl Times {
    fn add(&mut self, stored: &Value) {
        for (bucket, count) in stored.as_object().into_iter().flatten() {
            if let (Ok(bucket), Some(count)) = (bucket.parse(), count.as_i64()) {
                *self.0.entry(bucket).or_default() += count;
            }
        }
    }

    /// The time that this share of the messages does not pass, s: the middle of its bucket.
    fn share(&self, share: f64) -> Option<f64> {
        let all: i64 = self.0.values().sum();
        let wanted = share * all as f64;
        let mut passed = 0;
        let found = self.0.iter().find(|(_, count)| {
            passed += **count;
            passed as f64 >= wanted
        });
        found.map(|(bucket, _)| SHORTEST_S * GROWTH.powf(f64::from(*bucket) + 0.5))
    }
}

/// Counts of the messages of a time, by a split; `$1` and `$2` bound the time.
fn counting(split: Split) -> String {
    let (key, each) = (split.key(), split.each());
    let bucket = |of: &str| {
        let ms = format!("greatest(extract(epoch from {of} - received_at)::double precision, {SHORTEST_S})");
        format!("floor(ln({ms} / {SHORTEST_S}) / ln({GROWTH}::double precision))::int")
    };
    let times = |bucket: &str| {
        format!(
            "select key, jsonb_object_agg({bucket}, n) as times from (
                 select key, {bucket}, count(*) as n from rows where {bucket} is not null group by 1, 2
             ) as each group by key"
        )
    };
    format!(
        "with rows as materialized (
             select {key} as key, verdict, replied, to_person, person_answered_at is not null as is_answered,
                    cardinality(troubles) > 0 as has_trouble, cardinality(fixes) > 0 as has_fix,
                    {} as person, {} as taken
             from tally {each} where received_at >= $1 and received_at < $2
         ), counted as (
             select key, count(*) as messages, count(*) filter (where replied and not to_person) as by_program,
                    count(*) filter (where to_person) as to_person, count(*) filter (where is_answered) as person_answered,
                    count(*) filter (where verdict = 'enough') as enough, count(*) filter (where verdict = 'tight') as tight,
                    count(*) filter (where verdict = 'short') as short, count(*) filter (where has_trouble) as with_trouble,
                    count(*) filter (where has_fix) as with_fix
             from rows group by key
         ), person as ({}), taken as ({})
         select counted.*, coalesce(person.times, '{{}}') as person_times, coalesce(taken.times, '{{}}') as taken_times
         from counted left join person using (key) left join taken using (key)",
        bucket("person_answered_at"),
        bucket("reply_taken_at"),
        times("person"),
        times("taken"),
    )
}

fn start_of(day: NaiveDate) -> DateTime<Utc> {
    day.and_time(chrono::NaiveTime::MIN).and_utc()
}

impl Store {
    /// Counts every day before today that is not counted yet, or may have changed since; says how many.
    pub async fn count_days(&self, today: NaiveDate) -> Result<u64, StoreError> {
        let settled = today.checked_sub_days(Days::new(SETTLES_IN)).unwrap_or(today);
        let days: Vec<NaiveDate> = sqlx::query_scalar(
            "select day::date from generate_series(
                 (select min(received_at) from tally)::date::timestamp, $1::date - interval '1 day', interval '1 day'
             ) as day
             where day >= $2 or not exists (select 1 from tally_day_counted c where c.day = day.day::date)",
        )
        .bind(today)
        .bind(settled)
        .fetch_all(&self.database)
        .await?;
        for day in &days {
            self.count_day(*day).await?;
        }
        Ok(days.len() as u64)
    }

    async fn count_day(&self, day: NaiveDate) -> Result<(), StoreError> {
        let (from, until) = (start_of(day), start_of(day.checked_add_days(Days::new(1)).unwrap_or(day)));
        let mut step = self.begin().await?;
        sqlx::query("delete from tally_day where day = $1").bind(day).execute(step.opened.on()).await?;
        for split in Split::ALL {
            let sql = format!(
                "insert into tally_day (day, split, key, messages, by_program, to_person, person_answered, enough, tight, short,
                                        with_trouble, with_fix, person_times, taken_times)
                 select $3, $4, counts.* from ({}) as counts",
                counting(split)
            );
            sqlx::query(sqlx::AssertSqlSafe(sql))
                .bind(from)
                .bind(until)
                .bind(day)
                .bind(split.name())
                .execute(step.opened.on())
                .await?;
        }
        sqlx::query(
            "insert into tally_day_counted (day, messages)
             select $1, count(*) from tally where received_at >= $2 and received_at < $3
             on conflict (day) do update set messages = excluded.messages",
        )
        .bind(day)
        .bind(from)
        .bind(until)
        .execute(step.opened.on())
        .await?;
        step.commit().await
    }

    /// Counts of a time, split so: from the days that are counted and, for the rest, from the messages themselves. None where no
    /// counted day has a message, so that nothing is won by it.
    pub(super) async fn counts_by_day(
        &self,
        split: Split,
        from: DateTime<Utc>,
        until: DateTime<Utc>,
    ) -> Result<Option<Vec<Count>>, StoreError> {
        // The counted days at the head of the time, without a gap.
        let first = from.date_naive();
        let head: Option<(Option<NaiveDate>, Option<i64>)> = sqlx::query_as(
            "select max(day), sum(messages)::bigint from (
                 select day, messages, day - (row_number() over (order by day))::int as run
                 from tally_day_counted where day >= $1 and day < $2::date
             ) as days where run = $1 - 1",
        )
        .bind(first)
        .bind(until)
        .fetch_optional(&self.database)
        .await?;
        let Some((Some(last), Some(messages))) = head else { return Ok(None) };
        if messages == 0 || start_of(first) != from {
            return Ok(None);
        }
        let mut rows: Vec<Counted> = sqlx::query_as(
            "select key, messages, by_program, to_person, person_answered, enough, tight, short, with_trouble, with_fix,
                    person_times, taken_times
             from tally_day where split = $1 and day >= $2 and day <= $3",
        )
        .bind(split.name())
        .bind(first)
        .bind(last)
        .fetch_all(&self.database)
        .await?;
        let rest = start_of(last.checked_add_days(Days::new(1)).unwrap_or(last));
        let rest: Vec<Counted> =
            sqlx::query_as(sqlx::AssertSqlSafe(counting(split))).bind(rest).bind(until).fetch_all(&self.database).await?;
        rows.extend(rest);
        Ok(Some(summed(rows)))
    }
}

fn summed(rows: Vec<Counted>) -> Vec<Count> {
    let mut by_key: BTreeMap<String, Vec<Counted>> = BTreeMap::new();
    for row in rows {
        by_key.entry(row.key.clone()).or_default().push(row);
    }
    let counts = by_key.into_iter().map(|(key, rows)| {
        let sum = |of: fn(&Counted) -> i64| rows.iter().map(of).sum();
        let (mut person, mut taken) = (Times::default(), Times::default());
        for row in &rows {
            person.add(&row.person_times);
            taken.add(&row.taken_times);
        }
        Count {
            key,
            messages: sum(|row| row.messages),
            by_program: sum(|row| row.by_program),
            to_person: sum(|row| row.to_person),
            person_answered: sum(|row| row.person_answered),
            person_median_s: person.share(0.5),
            taken_median_s: taken.share(0.5),
            taken_nine_in_ten_s: taken.share(0.9),
            enough: sum(|row| row.enough),
            tight: sum(|row| row.tight),
            short: sum(|row| row.short),
            with_trouble: sum(|row| row.with_trouble),
            with_fix: sum(|row| row.with_fix),
        }
    });
    counts.collect()
}
