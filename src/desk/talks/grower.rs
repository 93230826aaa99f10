//! Everything of one grower: the sheet, the notes, and all that was said, oldest first.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, Utc};
use serde::Deserialize;
use uuid::Uuid;

use super::talk::language_of;
use super::told::{Line, lines_of};
use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;
use crate::desk::set::advice::{AdviceView, view_of};
use crate::desk::state::Desk;
use crate::message::print;
use crate::printable::shown;
use crate::store::{Before, NoteRow};

/// Messages of one page.
const SHOWN: i64 = 100;

/// No note is longer, and no tag.
const NOTE_MOST: usize = 2000;
const TAG_MOST: usize = 40;
const TAGS_MOST: usize = 20;

/// One thing of the past.
enum Past {
    Said(Line),
    Noted(NoteRow),
}

impl Past {
    fn at(&self) -> DateTime<Utc> {
        match self {
            Self::Said(line) => line.at,
            Self::Noted(note) => note.at,
        }
    }
}

#[derive(Template)]
#[template(path = "look/grower.html", config = "src/askama.toml")]
struct GrowerPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
    grower: Uuid,
    number: &'a str,
    since: DateTime<Utc>,
    language: &'a str,
    tags: Vec<String>,
    known_tags: Vec<String>,
    sheet_text: String,
    advice: Result<AdviceView, String>,
    past: Vec<Past>,
    earlier: Option<String>,
}

#[derive(Deserialize)]
pub struct Asked {
    #[serde(default)]
    before: String,
}

pub async fn show_grower(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(grower): Path<Uuid>,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let now = Utc::now();
    let key = desk.store.talk_key(grower, now).await?.ok_or(Fault::NotFound)?;
    let since = desk.store.known_since(grower).await?.ok_or(Fault::NotFound)?;
    let (world, talk) = (desk.world(), desk.store.talk_of(&key.number).await?);
    let language = language_of(&world, talk.language.as_deref())?;
    let before = Before::parse(&asked.before);
    let rows = desk.store.history(&key.number, before, SHOWN).await?;
    let earlier = (rows.len() as i64 == SHOWN).then(|| rows.first().map(|row| Before::of(row).text())).flatten();
    let from = rows.first().filter(|_| earlier.is_some()).map(|row| row.at);
    let notes = desk.store.notes_of(grower).await?;
    let shown = |note: &NoteRow| from.is_none_or(|from| note.at >= from) && before.is_none_or(|before| note.at < before.at);
    let mut past: Vec<Past> = lines_of(rows, &world, language).into_iter().map(Past::Said).collect();
    past.extend(notes.into_iter().filter(shown).map(Past::Noted));
    past.sort_by_key(Past::at);
    // Whose page was looked at is written down, as everything that is done with a grower's words.
    let mut step = desk.store.begin().await?;
    step.note(&member.name, "looked at a grower", &grower.to_string(), now).await?;
    step.commit().await?;
    show(&GrowerPage {
        frame: Frame::new("A grower", Some(&member)),
        clock: desk.clock(),
        grower,
        number: &key.number,
        since,
        language: &language.name,
        tags: desk.store.tags_of(grower).await?,
        known_tags: desk.store.tags().await?,
        sheet_text: print(&talk.known.facts(), language),
        advice: view_of(&world, &talk.known),
        past,
        earlier,
    })
}

#[derive(Deserialize)]
pub struct Change {
    #[serde(rename = "do")]
    what: String,
    #[serde(default)]
    text: String,
    #[serde(default)]
    id: i64,
}

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(grower): Path<Uuid>,
    Form(change): Form<Change>,
) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let now = Utc::now();
    desk.store.talk_key(grower, now).await?.ok_or(Fault::NotFound)?;
    let text = change.text.replace('\0', "");
    let mut step = desk.store.begin().await?;
    let did = match change.what.as_str() {
        "note" => {
            let text: String = text.trim().chars().take(NOTE_MOST).collect();
            if !text.is_empty() {
                step.note_grower(grower, &member.name, &text, now).await?;
            }
            "noted something of a grower"
        }
        "drop-note" => {
            step.drop_note(grower, change.id).await?;
            "took a note of a grower out"
        }
        "tags" => {
            let tags = text.split(',').map(|tag| shown(tag).trim().chars().take(TAG_MOST).collect::<String>());
            let mut tags: Vec<String> = tags.filter(|tag| !tag.is_empty()).take(TAGS_MOST).collect();
            tags.dedup();
            step.set_tags(grower, &tags).await?;
            "changed the tags of a grower"
        }
        _ => return Err(Fault::NotFound),
    };
    step.note(&member.name, did, &grower.to_string(), now).await?;
    step.commit().await?;
    Ok(Redirect::to(&format!("/desk/growers/{grower}")).into_response())
}
