//! Counts for the season's report.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};
use serde::Deserialize;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::{Frame, download};
use crate::desk::frame::show::show;
use crate::desk::frame::span::in_words;
use crate::desk::staff::taken::took_away;
use crate::desk::state::Desk;
use crate::store::{Count, Split};
use crate::table::defused;

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
        seconds.map_or("-".to_owned(), |seconds| in_words(TimeDelta::seconds(seconds as i64)))
    }

    /// A time that is mostly short.
    fn short_time(&self, seconds: &Option<f64>) -> String {
        match seconds {
            Some(seconds) if *seconds < 100.0 => format!("{seconds:.1} s"),
            other => self.time(other),
        }
    }
}

pub async fn show_numbers(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let days = asked.days(Utc::now().date_naive());
    let (from, until) = days.times();
    let counting = desk.counting.lock().await;
    let mut tables = Vec::new();
    for split in Split::ALL {
        tables.push((split.name(), desk.store.counts(split, from, until).await?));
    }
    drop(counting);
    show(&NumbersPage { frame: Frame::new("Numbers", Some(&member)), from: days.from, until: days.until, tables })
}

pub async fn export(State(desk): State<Arc<Desk>>, member: Member, Query(asked): Query<Asked>) -> Result<Response, Fault> {
    let named = asked.split.as_deref().unwrap_or("week");
    let split = Split::ALL.into_iter().find(|split| split.name() == named).ok_or(Fault::NotFound)?;
    let (from, until) = asked.days(Utc::now().date_naive()).times();
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record([split.name()].into_iter().chain(COLUMNS)).map_err(|_| Fault::Failed)?;
    let counting = desk.counting.lock().await;
    let counts = desk.store.counts(split, from, until).await?;
    drop(counting);
    took_away(&desk, &member, &format!("counts by {named}")).await?;
    for count in counts {
        // A place is called as a grower wrote it.
        let key = defused(&count.key).into_owned();
        writer.write_record([key].into_iter().chain(cells(&count))).map_err(|_| Fault::Failed)?;
    }
    let bytes = writer.into_inner().map_err(|_| Fault::Failed)?;
    Ok(download(&format!("counts-by-{named}.csv"), "text/csv; charset=utf-8", bytes))
}

/// The columns of the file behind the first, and a row's cells in them.
const COLUMNS: [&str; 12] = [
    "messages",
    "by_program",
    "to_person",
    "person_answered",
    "person_median_s",
    "taken_median_s",
    "taken_nine_in_ten_s",
    "enough",
    "tight",
    "short",
    "with_trouble",
    "with_fix",
];

fn cells(count: &Count) -> [String; 12] {
    let number = |number: i64| number.to_string();
    let seconds = |seconds: Option<f64>| seconds.map(|seconds| format!("{seconds:.0}")).unwrap_or_default();
    let tenths = |seconds: Option<f64>| seconds.map(|seconds| format!("{seconds:.1}")).unwrap_or_default();
    [
        number(count.messages),
        number(count.by_program),
        number(count.to_person),
        number(count.person_answered),
        seconds(count.person_median_s),
        tenths(count.taken_median_s),
        tenths(count.taken_nine_in_ten_s),
        number(count.enough),
        number(count.tight),
        number(count.short),
        number(count.with_trouble),
        number(count.with_fix),
    ]
}
