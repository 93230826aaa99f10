//! The work list: talks that wait for a human or are in somebody's hands, danger first, then the longest waiting.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, Utc};
use serde::Deserialize;

use super::talk::path_of;
use super::told::{REASONS, reason_in_words};
use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;
use crate::desk::frame::span::in_words;
use crate::desk::frame::words::said;
use crate::desk::state::Desk;
use crate::store::{Hand, WaitingFilter, WaitingRow};

/// Rows of one page: with them the page stays under 30 KiB.
const SHOWN: i64 = 30;

/// Talks that are tried when the next one is taken: others take at the same time.
const TRIED: i64 = 20;

#[derive(Deserialize, Default)]
pub struct Asked {
    #[serde(default)]
    language: String,
    #[serde(default)]
    place: String,
    #[serde(default)]
    reason: String,
    /// `mine`, `free` or nothing.
    #[serde(default)]
    whose: String,
    #[serde(default)]
    page: i64,
    /// What was done just now.
    #[serde(default)]
    done: String,
}

impl Asked {
    fn filter(&self, member: &Member) -> WaitingFilter {
        let told = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
        WaitingFilter {
            language: told(&self.language),
            place: told(&self.place),
            reason: told(&self.reason),
            mine: (self.whose == "mine").then_some(member.id),
            free: self.whose == "free",
        }
    }

    /// The query of the same choice on another page.
    fn query(&self, page: i64) -> String {
        let mut query = form_urlencoded::Serializer::new(String::new());
        let choice =
            [("language", &self.language), ("place", &self.place), ("reason", &self.reason), ("whose", &self.whose)];
        for (name, value) in choice.into_iter().filter(|(_, value)| !value.is_empty()) {
            query.append_pair(name, value);
        }
        query.append_pair("page", &page.to_string()).finish()
    }
}

#[derive(Template)]
#[template(path = "look/waiting.html", config = "src/askama.toml")]
struct WaitingPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
    rows: Vec<WaitingRow>,
    total: i64,
    now: DateTime<Utc>,
    asked: &'a Asked,
    languages: Vec<(&'a str, &'a str)>,
    places: Vec<&'a str>,
    reasons: Vec<(&'a str, String)>,
    done: Option<String>,
    earlier: Option<String>,
    later: Option<String>,
}

impl WaitingPage<'_> {
    fn waited(&self, since: &DateTime<Utc>) -> String {
        in_words(self.now - *since)
    }

    fn is_mine(&self, row: &WaitingRow) -> bool {
        row.holder_id.is_some() && row.holder_id == self.frame.member.map(|member| member.id)
    }

    fn reason(&self, row: &WaitingRow) -> String {
        row.reason.as_deref().map(reason_in_words).unwrap_or_default()
    }

    fn language<'s>(&'s self, row: &'s WaitingRow) -> &'s str {
        let code = row.language.as_deref().unwrap_or_default();
        self.languages.iter().find(|(known, _)| *known == code).map_or(code, |(_, name)| name)
    }
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member, Query(asked): Query<Asked>) -> Result<Response, Fault> {
    let (now, world) = (Utc::now(), desk.world());
    let page = asked.page.clamp(0, 1_000_000);
    let mut rows = desk.store.waiting(&asked.filter(&member), now, page * SHOWN, SHOWN + 1).await?;
    let goes_on = rows.len() as i64 > SHOWN;
    rows.truncate(SHOWN as usize);
    let done = match asked.done.as_str() {
        "send" => Some("Sent. For an hour what this grower writes comes back to you."),
        "done" => Some("Finished without a message."),
        "back" => Some("The program answers this grower again."),
        "back-word" => Some("The program answers this grower again, and the grower was told."),
        "none" => Some("Nobody else waits."),
        _ => None,
    };
    show(&WaitingPage {
        frame: Frame::new("Waiting talks", Some(&member)),
        clock: desk.clock(),
        rows,
        total: member.waiting,
        now,
        languages: world.languages.iter().map(|each| (each.code.as_str(), each.name.as_str())).collect(),
        places: world.place_names().collect(),
        reasons: REASONS.iter().map(|reason| (*reason, reason_in_words(reason))).collect(),
        done: done.map(|sentence| said(sentence).into_owned()),
        earlier: (page > 0).then(|| asked.query(page - 1)),
        later: goes_on.then(|| asked.query(page + 1)),
        asked: &asked,
    })
}

/// Takes the talk that is next in the list and in nobody's hands.
pub async fn next(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let now = Utc::now();
    let filter = WaitingFilter { free: true, ..WaitingFilter::default() };
    for row in desk.store.waiting(&filter, now, 0, TRIED).await? {
        let mut step = desk.store.begin().await?;
        if step.take_talk(&row.number, member.id, false, now).await? == Hand::Taken {
            step.note(&member.name, "took a talk", &row.grower.to_string(), now).await?;
            step.commit().await?;
            return Ok(Redirect::to(&path_of(row.grower)).into_response());
        }
    }
    Ok(Redirect::to("/desk/waiting?done=none").into_response())
}
