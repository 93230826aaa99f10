//! All talks, the newest first, found again by what is known of them; and a talk that staff begin.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, Days, NaiveDate, Utc};
use serde::Deserialize;
use uuid::Uuid;

use super::talk::path_of;
use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::frame::words::{said, said_with};
use crate::desk::set::advice::verdict_in_words;
use crate::desk::state::Desk;
use crate::number::Number;
use crate::store::{FoundRow, Hand, Search};

const SHOWN: i64 = 50;

#[derive(Deserialize, Default)]
#[serde(default)]
pub struct Asked {
    number: String,
    words: String,
    place: String,
    language: String,
    verdict: String,
    staff: String,
    tag: String,
    from: String,
    until: String,
    behind: String,
}

impl Asked {
    fn search(&self, clock: &Clock) -> Search {
        let told = |text: &str| Some(text.trim().replace('\0', "")).filter(|text| !text.is_empty());
        let day = |text: &str| text.parse::<NaiveDate>().ok();
        // As somebody says a number: a zero before it is the country's own.
        let digits: String = self.number.chars().filter(char::is_ascii_digit).collect();
        let behind = self
            .behind
            .split_once('.')
            .and_then(|(at, id)| Some((DateTime::from_timestamp_micros(at.parse().ok()?)?, id.parse::<Uuid>().ok()?)));
        Search {
            digits: told(digits.trim_start_matches('0')),
            words: told(&self.words),
            place: told(&self.place),
            language: told(&self.language),
            verdict: told(&self.verdict),
            staff: told(&self.staff),
            tag: told(&self.tag),
            from: day(&self.from).map(|day| clock.start_of(day)),
            until: day(&self.until).and_then(|day| day.checked_add_days(Days::new(1))).map(|day| clock.start_of(day)),
            behind,
        }
    }

    /// The query of the same search further down.
    fn query(&self, row: &FoundRow) -> String {
        let told = [
            ("number", &self.number),
            ("words", &self.words),
            ("place", &self.place),
            ("language", &self.language),
            ("verdict", &self.verdict),
            ("staff", &self.staff),
            ("tag", &self.tag),
            ("from", &self.from),
            ("until", &self.until),
        ];
        let mut query = form_urlencoded::Serializer::new(String::new());
        for (name, value) in told.into_iter().filter(|(_, value)| !value.is_empty()) {
            query.append_pair(name, value);
        }
        query.append_pair("behind", &format!("{}.{}", row.last_at.timestamp_micros(), row.grower)).finish()
    }
}

#[derive(Template)]
#[template(path = "look/found.html", config = "src/askama.toml")]
struct FoundPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
    rows: Vec<FoundRow>,
    next: Option<String>,
    asked: &'a Asked,
    languages: Vec<(&'a str, &'a str)>,
    places: Vec<&'a str>,
    staff: Vec<String>,
    tags: Vec<String>,
    begin: &'a str,
    problem: Option<String>,
}

impl FoundPage<'_> {
    fn verdict(&self, row: &FoundRow) -> String {
        row.verdict.as_deref().map(verdict_in_words).unwrap_or_default()
    }

    fn verdicts(&self) -> [(&'static str, String); 3] {
        ["enough", "tight", "short"].map(|name| (name, verdict_in_words(name)))
    }
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member, Query(asked): Query<Asked>) -> Result<Response, Fault> {
    page(&desk, &member, &asked, "", None).await
}

async fn page(
    desk: &Desk,
    member: &Member,
    asked: &Asked,
    begin: &str,
    problem: Option<String>,
) -> Result<Response, Fault> {
    let (world, clock) = (desk.world(), desk.clock());
    let mut rows = desk.store.find_growers(&asked.search(&clock), SHOWN + 1).await?;
    let goes_on = rows.len() as i64 > SHOWN;
    rows.truncate(SHOWN as usize);
    let staff = desk.store.staff().await?.into_iter().map(|row| row.name).collect();
    let page = FoundPage {
        frame: Frame::new("All talks", Some(member)),
        clock,
        next: if goes_on { rows.last().map(|row| asked.query(row)) } else { None },
        rows,
        asked,
        languages: world.languages.iter().map(|each| (each.code.as_str(), each.name.as_str())).collect(),
        places: world.place_names().collect(),
        staff,
        tags: desk.store.tags().await?,
        begin,
        problem,
    };
    if page.problem.is_some() { show_wrong(&page) } else { show(&page) }
}

#[derive(Deserialize)]
pub struct Begun {
    number: String,
}

/// Begins a talk with a number, or goes on with it: a grower rang up.
pub async fn begin(State(desk): State<Arc<Desk>>, member: Member, Form(begun): Form<Begun>) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let typed: String = begun.number.chars().filter(|letter| !" -.()/".contains(*letter)).collect();
    let Ok(number) = Number::parse(&typed) else {
        let sentence = "This is no number with its country code, such as +447700900123; write it so.";
        return page(&desk, &member, &Asked::default(), &begun.number, Some(said(sentence).into_owned())).await;
    };
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    let grower = step.grower_of(number.as_str(), now).await?;
    if let Hand::HeldBy(name) = step.take_talk(number.as_str(), member.id, false, now).await? {
        drop(step);
        let problem = said_with("{name} is talking with this number.", &[("name", &name)]);
        return page(&desk, &member, &Asked::default(), &begun.number, Some(problem)).await;
    }
    step.note(&member.name, "began a talk", &grower.to_string(), now).await?;
    step.commit().await?;
    Ok(Redirect::to(&path_of(grower)).into_response())
}
