//! Counts for the season's report.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use chrono::{DateTime, Days, NaiveDate, Utc};
use serde::Deserialize;

use super::Desk;
use super::fault::Fault;
use super::member::Member;
use super::page::{Frame, download, show};
use super::waiting::in_words;
use crate::store::{Count, Split};

/// Shown unless other days are chosen.
const WEEKS: u64 = 12;

#[derive(Deserialize)]
pub struct Asked {
    from: Option<NaiveDate>,
    until: Option<NaiveDate>,
    split: Option<String>,
}

/// First and last day.
struct Span {
    from: NaiveDate,
    until: NaiveDate,
}

impl Asked {
    fn days(&self, today: NaiveDate) -> Span {
        let until = self.until.unwrap_or(today);
        let from = self.from.or(until.checked_sub_days(Days::new(7 * WEEKS))).unwrap_or(until);
        Span { from, until }
    }
}

impl Span {
    fn times(&self) -> (DateTime<Utc>, DateTime<Utc>) {
        let start = |day: NaiveDate| day.and_time(chrono::NaiveTime::MIN).and_utc();
        (start(self.from), start(self.until.checked_add_days(Days::new(1)).unwrap_or(self.until)))
    }
}

#[derive(Template)]
#[template(path = "look/numbers.html", config = "src/askama.toml")]
struct NumbersPage<'a> {
    frame: Frame<'a>,
    from: NaiveDate,
    until: NaiveDate,
    tables: Vec<(&'static str, Vec<Count>)>,
}

impl NumbersPage<'_> {
    fn time(&self, seconds: &Option<f64>) -> String {
        seconds.map_or("-".to_owned(), |seconds| in_words(chrono::TimeDelta::seconds(seconds as i64)))
    }
}

pub async fn show_numbers(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let days = asked.days(Utc::now().date_naive());
    let (from, until) = days.times();
    let mut tables = Vec::new();
    for split in Split::ALL {
        tables.push((split.name(), desk.store.counts(split, from, until).await?));
    }
    show(&NumbersPage { frame: Frame::new("Numbers", Some(&member)), from: days.from, until: days.until, tables })
}

pub async fn export(State(desk): State<Arc<Desk>>, _member: Member, Query(asked): Query<Asked>) -> Result<Response, Fault> {
    let named = asked.split.as_deref().unwrap_or("week");
    let split = Split::ALL.into_iter().find(|split| split.name() == named).ok_or(Fault::NotFound)?;
    let (from, until) = asked.days(Utc::now().date_naive()).times();
    let mut writer = csv::Writer::from_writer(Vec::new());
    let head = [
        split.name(),
        "messages",
        "by_program",
        "to_person",
        "person_answered",
        "person_median_s",
        "enough",
        "tight",
        "short",
        "with_trouble",
    ];
    writer.write_record(head).map_err(|_| Fault::Failed)?;
    for count in desk.store.counts(split, from, until).await? {
        let median = count.person_median_s.map(|seconds| format!("{seconds:.0}")).unwrap_or_default();
        let [messages, by_program, to_person, answered, enough, tight, short, trouble] = [
            count.messages,
            count.by_program,
            count.to_person,
            count.person_answered,
            count.enough,
            count.tight,
            count.short,
            count.with_trouble,
        ]
        .map(|number| number.to_string());
        let row = [count.key, messages, by_program, to_person, answered, median, enough, tight, short, trouble];
        writer.write_record(row).map_err(|_| Fault::Failed)?;
    }
    let bytes = writer.into_inner().map_err(|_| Fault::Failed)?;
    Ok(download(&format!("counts-by-{named}.csv"), "text/csv; charset=utf-8", bytes))
}
