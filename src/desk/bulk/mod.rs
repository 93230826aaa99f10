//! Many messages at once: pasted or dropped, looked at, answered in the background, mended, sent, taken away.

mod away;
mod bring;

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use askama::Template;
use axum::extract::{Form, Multipart, Path, Query, State};
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use futures_util::stream::{Stream, unfold};
use serde::Deserialize;
use serde_json::json;
use tokio::sync::mpsc;
use tracing::warn;
use uuid::Uuid;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;
use crate::desk::state::Desk;
use crate::message::{print, read};
use crate::store::{BulkCounts, BulkFilter, BulkList, BulkRow, NewBulkList, Signal, ToSend};
use crate::turn::World;
pub use away::take_away;
use bring::brought;

/// Batches of rows that are read while one is stored.
const BATCHES_AHEAD: usize = 2;

/// Rows of one page.
const SHOWN: i64 = 100;

const LISTS_SHOWN: i64 = 50;

#[derive(Template)]
#[template(path = "look/bulk.html", config = "src/askama.toml")]
struct BulkPage<'a> {
    frame: Frame<'a>,
    lists: Vec<(BulkList, BulkCounts)>,
    languages: Vec<(&'a str, &'a str)>,
    places: Vec<&'a str>,
    problem: Option<&'a str>,
}

/// A row with what is understood of its text.
struct Shown {
    row: BulkRow,
    understood: String,
}

#[derive(Template)]
#[template(path = "look/bulk_list.html", config = "src/askama.toml")]
struct ListPage<'a> {
    frame: Frame<'a>,
    list: BulkList,
    counts: BulkCounts,
    rows: Vec<Shown>,
    filter: BulkFilter,
    next: Option<i32>,
    to_send: ToSend,
    lines: Vec<String>,
    problem: Option<&'a str>,
}

impl ListPage<'_> {
    fn is_done(&self) -> bool {
        self.counts.done == self.counts.rows
    }

    fn chosen(&self) -> &str {
        if self.filter.trouble { "trouble" } else { self.filter.verdict.as_deref().unwrap_or("") }
    }
}

pub async fn show_lists(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    lists_page(&desk, &member, None).await
}

async fn lists_page(desk: &Desk, member: &Member, problem: Option<&str>) -> Result<Response, Fault> {
    let world = desk.world();
    let mut lists = Vec::new();
    for list in desk.store.bulk_lists(LISTS_SHOWN).await? {
        let counts = desk.store.bulk_counts(list.id).await?;
        lists.push((list, counts));
    }
    let page = BulkPage {
        frame: Frame::new("Many at once", Some(member)),
        lists,
        languages: world.languages.iter().map(|each| (each.code.as_str(), each.name.as_str())).collect(),
        places: world.place_names().collect(),
        problem,
    };
    if problem.is_some() { crate::desk::frame::show::show_wrong(&page) } else { show(&page) }
}

/// Keeps a list, to be looked at before it is answered.
pub async fn bring(State(desk): State<Arc<Desk>>, member: Member, form: Multipart) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let mut brought = brought(form).await?;
    let source = match brought.source() {
        Ok(source) => source,
        Err(problem) => return lists_page(&desk, &member, Some(&problem)).await,
    };
    let (id, now) = (Uuid::now_v7(), Utc::now());
    let mut step = desk.store.begin().await?;
    step.add_bulk_list(&NewBulkList {
        id,
        name: source.name(),
        staff: &member.name,
        created_at: now,
        language: brought.language.as_deref(),
        place: brought.place.as_deref(),
    })
    .await?;
    let (give, mut rows) = mpsc::channel(BATCHES_AHEAD);
    let reading = tokio::task::spawn_blocking(move || source.give(&give));
    let mut from = 1;
    while let Some(batch) = rows.recv().await {
        from = step.add_bulk_rows(id, from, &batch).await?;
    }
    match reading.await.map_err(|_| Fault::Failed)? {
        Ok(columns) => step.set_bulk_columns(id, &json!(columns)).await?,
        Err(problem) => {
            drop(step);
            return lists_page(&desk, &member, Some(&problem)).await;
        }
    }
    step.note(&member.name, "brought a list", &id.to_string(), now).await?;
    step.commit().await?;
    Ok(Redirect::to(&format!("/desk/bulk/{id}")).into_response())
}

#[derive(Deserialize)]
pub struct Asked {
    #[serde(default)]
    only: String,
    #[serde(default)]
    after: i32,
}

pub async fn show_list(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(list): Path<Uuid>,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    list_page(&desk, &member, list, &asked, None).await
}

async fn list_page(
    desk: &Desk,
    member: &Member,
    list: Uuid,
    asked: &Asked,
    problem: Option<&str>,
) -> Result<Response, Fault> {
    let world = desk.world();
    let filter = BulkFilter {
        verdict: ["enough", "tight", "short"].contains(&asked.only.as_str()).then(|| asked.only.clone()),
        trouble: asked.only == "trouble",
        after: asked.after,
    };
    let list = desk.store.bulk_list(list).await?.ok_or(Fault::NotFound)?;
    let rows = desk.store.bulk_rows(list.id, &filter, SHOWN).await?;
    let page = ListPage {
        frame: Frame::new("A list", Some(member)),
        counts: desk.store.bulk_counts(list.id).await?,
        next: (rows.len() as i64 == SHOWN).then(|| rows.last().map(|row| row.n)).flatten(),
        rows: rows.into_iter().map(|row| Shown { understood: understood(&world, &list, &row.text), row }).collect(),
        to_send: desk.store.bulk_to_send(list.id).await?,
        lines: desk.lines.sending_names(),
        list,
        filter,
        problem,
    };
    if problem.is_some() { crate::desk::frame::show::show_wrong(&page) } else { show(&page) }
}

fn understood(world: &World, list: &BulkList, text: &str) -> String {
    let code = list.language.as_deref().unwrap_or(&world.home_language);
    let reading = read(text, &world.languages, code, None);
    let language = reading.language.as_deref().unwrap_or(code);
    let Some(language) = world.languages.get(language) else { return String::new() };
    if reading.facts.is_empty() { "nothing".to_owned() } else { print(&reading.facts, language) }
}

#[derive(Deserialize)]
pub struct Done {
    #[serde(rename = "do")]
    what: String,
    #[serde(default)]
    n: i32,
    #[serde(default)]
    text: String,
    #[serde(default)]
    line: String,
    #[serde(default)]
    count: i64,
}

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(id): Path<Uuid>,
    Form(done): Form<Done>,
) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    desk.store.bulk_list(id).await?.ok_or(Fault::NotFound)?;
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    let signal = match done.what.as_str() {
        "start" => {
            step.start_bulk_list(id, now).await?;
            step.note(&member.name, "had a list answered", &id.to_string(), now).await?;
            Signal::Bulk
        }
        "mend" => {
            step.mend_bulk_row(id, done.n, &done.text.replace('\0', "")).await?;
            step.note(&member.name, "mended a row", &format!("{id} row {}", done.n), now).await?;
            Signal::Bulk
        }
        "send" => {
            let all = Asked { only: String::new(), after: 0 };
            let way_out = match desk.lines.way_out(&done.line) {
                Ok(way_out) if desk.lines.sending_names().contains(&done.line) => way_out,
                refused => {
                    // No page is made while a step holds a connection: enough of them at once would wait for each other.
                    drop(step);
                    let why =
                        refused.err().unwrap_or_else(|| format!("The line {} reaches nobody; choose another.", done.line));
                    return list_page(&desk, &member, id, &all, Some(&why)).await;
                }
            };
            let sent = step.send_bulk(id, &way_out.line, &way_out.number, now).await?;
            if sent != u64::try_from(done.count).unwrap_or_default() {
                drop(step);
                let problem = "Nothing was sent: the list has changed meanwhile. Look at the count again.";
                return list_page(&desk, &member, id, &all, Some(problem)).await;
            }
            step.note(&member.name, "sent a list", &format!("{id}: {sent} messages"), now).await?;
            Signal::Outbox
        }
        _ => return Err(Fault::NotFound),
    };
    step.commit().await?;
    if let Err(error) = desk.store.signal(signal).await {
        // The loops look by themselves every few seconds.
        warn!(%error, "a loop was not woken");
    }
    Ok(Redirect::to(&format!("/desk/bulk/{id}")).into_response())
}

/// One event a second while the list is being answered, and one when it is.
pub async fn events(
    State(desk): State<Arc<Desk>>,
    _member: Member,
    Path(list): Path<Uuid>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let state = (Arc::clone(&desk), desk.stopping.subscribe(), false);
    let stream = unfold(state, move |(desk, mut stopping, was_done)| async move {
        if was_done {
            return None;
        }
        let goes_on = tokio::select! {
            biased;
            _ = stopping.wait_for(|stop| *stop) => false,
            () = tokio::time::sleep(Duration::from_secs(1)) => true,
        };
        let counts = desk.store.bulk_counts(list).await.ok().filter(|_| goes_on)?;
        let event = Event::default().event("changed").data(counts.done.to_string());
        Some((Ok(event), (desk, stopping, counts.done == counts.rows)))
    });
    Sse::new(stream)
}
