//! One talk with a grower: as it went, the sheet with its advice, and a reply. Who holds it writes; others look on.

use std::collections::BTreeMap;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, Utc};
use serde::Deserialize;
use uuid::Uuid;

use super::ready::{self, Ready, ReadyKind};
use super::sheet::{self, Cell};
use super::told::{Line, lines_of};
use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::set::advice::{AdviceView, view_of};
use crate::desk::state::Desk;
use crate::language::Language;
use crate::message::print;
use crate::reply::{Encoding, PhoneText};
use crate::store::{Before, TalkKey};
use crate::talk::line_in_turn;
use crate::turn::World;

/// How many messages are shown at once.
const SHOWN: i64 = 40;

#[derive(Template)]
#[template(path = "look/talk.html", config = "src/askama.toml")]
struct TalkPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
    key: &'a TalkKey,
    language: &'a str,
    code: &'a str,
    languages: Vec<(&'a str, &'a str)>,
    lines: Vec<Line>,
    /// Where the page before this one begins.
    earlier: Option<String>,
    /// The waiting messages that are shown, which a reply answers.
    shown: String,
    is_mine: bool,
    stopped: bool,
    cells: Vec<Cell>,
    advice: Result<AdviceView, String>,
    sheet_text: String,
    ready: Vec<Ready>,
    draft: &'a str,
    /// When the draft was kept.
    kept_at: Option<DateTime<Utc>>,
    /// The draft as it would go out.
    counted: Option<PhoneText>,
    problem: Option<String>,
    sent: bool,
}

impl TalkPage<'_> {
    fn encoding(&self, text: &PhoneText) -> &'static str {
        match text.encoding {
            Encoding::Gsm7 => "GSM 7-bit",
            Encoding::Ucs2 => "UCS-2",
        }
    }

    fn kinds(&self) -> [ReadyKind; 3] {
        ReadyKind::ALL
    }

    /// Whether who looks may take the talk out of another's hands.
    fn may_take_over(&self) -> bool {
        self.frame.runs() && self.key.holder.is_some() && !self.is_mine
    }
}

pub fn language_of<'w>(world: &'w World, code: Option<&str>) -> Result<&'w Language, Fault> {
    let home = || world.languages.get(&world.home_language);
    code.and_then(|code| world.languages.get(code)).or_else(home).ok_or(Fault::Failed)
}

/// What the page shows besides what is stored.
#[derive(Default)]
pub struct Draft {
    /// The fields of the form as they were typed.
    pub typed: BTreeMap<String, String>,
    pub kept_at: Option<DateTime<Utc>>,
    pub problem: Option<String>,
    pub sent: bool,
}

#[derive(Deserialize, Default)]
pub struct Asked {
    #[serde(default)]
    before: String,
    /// Something was sent just now.
    #[serde(default)]
    sent: bool,
}

pub async fn show_talk(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(grower): Path<Uuid>,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let now = Utc::now();
    let Some(key) = desk.store.talk_key(grower, now).await? else {
        // Older paths name a message.
        let grower = desk.store.grower_of_message(grower).await?.ok_or(Fault::NotFound)?;
        return Ok(Redirect::to(&path_of(grower)).into_response());
    };
    let mut draft = Draft { sent: asked.sent, ..Draft::default() };
    if key.holder_id == Some(member.id) {
        let mut step = desk.store.begin().await?;
        step.hold_talk(&key.number, member.id, now).await?;
        step.commit().await?;
        if let Some((typed, at)) = desk.store.draft(&key.number, member.id).await? {
            draft.typed = typed;
            draft.kept_at = Some(at);
        }
    }
    page(&desk, &member, &key, Before::parse(&asked.before), draft).await
}

/// The path of a talk.
pub fn path_of(grower: Uuid) -> String {
    format!("/desk/waiting/{grower}")
}

pub async fn page(
    desk: &Desk,
    member: &Member,
    key: &TalkKey,
    before: Option<Before>,
    draft: Draft,
) -> Result<Response, Fault> {
    let now = Utc::now();
    let talk = desk.store.talk_of(&key.number).await?;
    let world = desk.world();
    let language = language_of(&world, talk.language.as_deref())?;
    let form = sheet::Form::merged(&draft.typed, &talk.known, &world.languages, language, now);
    let text = draft.typed.get("text").map(String::as_str).unwrap_or_default();
    let counted =
        (!text.trim().is_empty()).then(|| PhoneText::new(ready::with_safety(language, text, line_in_turn(&talk))));
    let rows = desk.store.history(&key.number, before, SHOWN).await?;
    let earlier = (rows.len() as i64 == SHOWN).then(|| rows.first().map(|row| Before::of(row).text())).flatten();
    let waits = rows.iter().filter(|row| row.waits).map(|row| row.id.to_string());
    let shown = waits.collect::<Vec<_>>().join(" ");
    let is_mine = key.holder_id == Some(member.id);
    let page = TalkPage {
        frame: Frame::new("A talk", Some(member)),
        clock: desk.clock(),
        key,
        language: &language.name,
        code: &language.code,
        languages: world.languages.iter().map(|each| (each.code.as_str(), each.name.as_str())).collect(),
        lines: lines_of(rows, &world, language),
        earlier,
        shown,
        is_mine,
        stopped: talk.stopped,
        advice: view_of(&world, &form.known),
        sheet_text: print(&form.known.facts(), language),
        ready: if is_mine { ready::replies(&world, language, &form.known, now) } else { Vec::new() },
        cells: form.cells,
        draft: text,
        kept_at: draft.kept_at,
        counted,
        problem: draft.problem,
        sent: draft.sent,
    };
    if page.problem.is_some() { show_wrong(&page) } else { show(&page) }
}
