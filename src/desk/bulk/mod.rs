//! Many messages at once: pasted or dropped, looked at, answered in the background, mended, sent, taken away.

mod away;
mod bring;
mod reach;

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Multipart, Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde::Deserialize;
use serde_json::json;
use tokio::sync::mpsc;
use tracing::warn;
use uuid::Uuid;

use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;
use crate::desk::frame::words::said;
use crate::desk::set::advice::verdict_in_words;
use crate::desk::state::Desk;
use crate::desk::talks::told::state_in_words;
use crate::message::{print, read};
use crate::printable::shown;
use crate::single::TEXT_MOST;
use crate::store::{BulkCounts, BulkFilter, BulkList, BulkRow, NewBulkList, Signal, ToSend};
use crate::turn::World;
pub use away::take_away;
use bring::{By, brought};

/// Batches of rows that are read while one is stored.
const BATCHES_AHEAD: usize = 2;

/// Rows of one page.
const SHOWN: i64 = 100;

const LISTS_SHOWN: i64 = 50;

#[derive(Template)]
#[template(path = "look/bulk.html", config = "src/askama.toml")]
struct BulkPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
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
    clock: Clock,
    list: BulkList,
    counts: BulkCounts,
    rows: Vec<Shown>,
    filter: BulkFilter,
    next: Option<i32>,
    to_send: ToSend,
    /// Another account has to confirm it.
    is_large: bool,
    lines: Vec<String>,
    problem: Option<&'a str>,
}

impl ListPage<'_> {
    /// Who asked for it to be sent is not who may confirm it.
    fn may_confirm(&self) -> bool {
        self.frame.answers() && self.list.asked_by != self.frame.member.map(|member| member.id)
    }

    fn is_done(&self) -> bool {
        self.counts.done == self.counts.rows
    }

    fn verdict(&self, row: &BulkRow) -> String {
        row.verdict.as_deref().map(verdict_in_words).unwrap_or_default()
    }

    /// What was seen of the file's form.
    fn notes(&self) -> Vec<String> {
        let notes = self.list.notes.as_array().into_iter().flatten().filter_map(|note| note.as_str());
        notes.map(|note| said(note).into_owned()).collect()
    }

    /// How far a row's message has come.
    fn sent(&self, row: &BulkRow) -> String {
        row.sent_state.as_deref().map(state_in_words).unwrap_or_default()
    }

    /// What the rows were chosen by, in words.
    fn chosen_in_words(&self) -> String {
        if self.filter.trouble { said("With trouble").into_owned() } else { verdict_in_words(self.chosen()) }
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
        clock: desk.clock(),
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
        name: &source.name(),
        staff: &member.name,
        created_at: now,
        language: brought.language.as_deref(),
        place: brought.place.as_deref(),
    })
    .await?;
    let (give, mut rows) = mpsc::channel(BATCHES_AHEAD);
    let home_number = desk.lines.names().iter().find_map(|line| desk.lines.number(line).filter(|own| own.starts_with('+')));
    let by = By { world: desk.world(), home_number: home_number.map(str::to_owned) };
    let reading = tokio::task::spawn_blocking(move || source.give(&by, &give));
    let mut from = 1;
    while let Some(batch) = rows.recv().await {
        from = step.add_bulk_rows(id, from, &batch).await?;
    }
    match reading.await.map_err(|_| Fault::Failed)? {
        Ok(given) => step.set_bulk_columns(id, &json!(given.columns), &json!(given.notes)).await?,
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
    let to_send = desk.store.bulk_to_send(list.id, filter.verdict.as_deref(), &desk.config.home_codes()).await?;
    let page = ListPage {
        frame: Frame::new("A list", Some(member)),
        clock: desk.clock(),
        counts: desk.store.bulk_counts(list.id).await?,
        next: (rows.len() as i64 == SHOWN).then(|| rows.last().map(|row| row.n)).flatten(),
        rows: rows.into_iter().map(|row| Shown { understood: understood(&world, &list, &row.text), row }).collect(),
        is_large: reach::needs_another(&desk.config, &to_send),
        to_send,
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
    /// The rows that were looked at, to come back to them.
    #[serde(default)]
    only: String,
    #[serde(default)]
    after: i32,
}

/// No name of a list is longer.
const NAME_MOST: usize = 80;

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(id): Path<Uuid>,
    Form(done): Form<Done>,
) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let list = desk.store.bulk_list(id).await?.ok_or(Fault::NotFound)?;
    if ["send", "confirm", "refuse"].contains(&done.what.as_str()) {
        return send(&desk, &member, &list, &done).await;
    }
    let now = Utc::now();
    let text: String = done.text.replace('\0', "").chars().take(TEXT_MOST + 1).collect();
    let mut step = desk.store.begin().await?;
    let did = match done.what.as_str() {
        "start" => {
            let is_new = step.start_bulk_list(id, now).await?;
            step.stop_bulk_list(id, None).await?;
            (is_new || list.stopped_at.is_some()).then_some("had a list answered")
        }
        "stop" => {
            step.stop_bulk_list(id, Some(now)).await?;
            list.stopped_at.is_none().then_some("stopped a list")
        }
        "anew" => (step.answer_bulk_anew(id).await? > 0).then_some("had a list answered anew"),
        "failed" => (step.unsend_failed(id).await? > 0).then_some("took back what failed of a list"),
        "rename" => {
            let name: String = shown(&text).trim().chars().take(NAME_MOST).collect();
            let is_other = !name.is_empty() && name != list.name;
            if is_other {
                step.rename_bulk_list(id, &name).await?;
            }
            is_other.then_some("renamed a list")
        }
        "delete" => {
            step.delete_bulk_list(id).await?;
            Some("deleted a list")
        }
        "mend" => step.mend_bulk_row(id, done.n, &text).await?.then_some("corrected a row"),
        _ => return Err(Fault::NotFound),
    };
    let about = if done.what == "mend" { format!("{id} row {}", done.n) } else { id.to_string() };
    if let Some(did) = did {
        step.note(&member.name, did, &about, now).await?;
    }
    step.commit().await?;
    if let Err(error) = desk.store.signal(Signal::Bulk).await {
        // The loop looks by itself every few seconds.
        warn!(%error, "a loop was not woken");
    }
    if done.what == "delete" {
        return Ok(Redirect::to("/desk/bulk").into_response());
    }
    Ok(Redirect::to(&format!("/desk/bulk/{id}?only={}&after={}", only_of(&done.only), done.after)).into_response())
}

/// A choice of rows, or all of them.
fn only_of(only: &str) -> &str {
    if ["enough", "tight", "short", "trouble"].contains(&only) { only } else { "" }
}

/// The verdict whose rows were chosen; none for all of them.
fn verdict_of(only: &str) -> Option<&str> {
    Some(only_of(only)).filter(|only| !only.is_empty() && *only != "trouble")
}

/// Sends the answered rows that were chosen to their numbers, asks for another account's word, or hears it; nothing, where they
/// are not as many as were looked at.
async fn send(desk: &Desk, member: &Member, list: &BulkList, done: &Done) -> Result<Response, Fault> {
    let verdict = verdict_of(&done.only);
    // Looked at before a step holds a connection: enough of them at once would wait for each other.
    let to_send = desk.store.bulk_to_send(list.id, verdict, &desk.config.home_codes()).await?;
    let is_large = reach::needs_another(&desk.config, &to_send);
    let wish = reach::Wish { what: &done.what, line: &done.line, count: done.count, verdict };
    let mut step = desk.store.begin().await?;
    let signal = match reach::decide(desk, member, list, &wish, is_large, &mut step).await? {
        Ok(signal) => signal,
        Err(problem) => {
            drop(step);
            let asked = Asked { only: done.only.clone(), after: 0 };
            return list_page(desk, member, list.id, &asked, Some(&problem)).await;
        }
    };
    step.commit().await?;
    if let Err(error) = desk.store.signal(signal).await {
        // The senders look by themselves every few seconds.
        warn!(%error, "senders not woken");
    }
    Ok(Redirect::to(&format!("/desk/bulk/{}?only={}", list.id, only_of(&done.only))).into_response())
}
