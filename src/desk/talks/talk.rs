//! One waiting talk: as it went, the sheet with its advice, and a reply. What a member of staff sends goes out in the same
//! transaction as the talk's change and the note of who did it.

use std::collections::BTreeMap;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, Utc};
use tracing::{info, warn};
use uuid::Uuid;

use crate::answering::encoding_name;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::set::advice::{AdviceView, view_of};
use crate::desk::state::Desk;
use crate::desk::talks::ready::{self, Ready};
use crate::desk::talks::sheet::{self, Cell};
use crate::language::Language;
use crate::message::{print, read};
use crate::reply::{Encoding, PhoneText};
use crate::store::{Hand, NewReply, Signal, TalkKey};
use crate::talk::{Known, Say, Talk, line_in_turn, note_seen};
use crate::turn::World;

/// How many messages of each kind are shown.
const SHOWN: i64 = 50;

/// A reply by hand may take this many parts; each one costs.
const PARTS_MOST: usize = 4;

/// One message of the talk.
struct Line {
    at: DateTime<Utc>,
    text: String,
    /// What the program understood of a message that came in; none for one that went out.
    understood: Option<String>,
    /// How far a message that went out has come.
    state: Option<String>,
}

#[derive(Template)]
#[template(path = "look/talk.html", config = "src/askama.toml")]
struct TalkPage<'a> {
    frame: Frame<'a>,
    message: Uuid,
    key: &'a TalkKey,
    language: &'a str,
    lines: Vec<Line>,
    is_mine: bool,
    stopped: bool,
    cells: Vec<Cell>,
    advice: Result<AdviceView, String>,
    sheet_text: String,
    ready: Vec<Ready>,
    draft: &'a str,
    /// The draft as it would go out.
    counted: Option<PhoneText>,
    problem: Option<String>,
}

impl TalkPage<'_> {
    fn encoding(&self, text: &PhoneText) -> &'static str {
        match text.encoding {
            Encoding::Gsm7 => "GSM 7-bit",
            Encoding::Ucs2 => "UCS-2",
        }
    }
}

pub fn language_of<'w>(world: &'w World, code: Option<&str>) -> Result<&'w Language, Fault> {
    let home = || world.languages.get(&world.home_language);
    code.and_then(|code| world.languages.get(code)).or_else(home).ok_or(Fault::Failed)
}

/// What the page shows besides what is stored.
#[derive(Default)]
struct Draft {
    form: Option<sheet::Form>,
    text: String,
    problem: Option<String>,
}

pub async fn show_talk(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(message): Path<Uuid>,
) -> Result<Response, Fault> {
    page(&desk, &member, message, Draft::default()).await
}

async fn page(desk: &Desk, member: &Member, message: Uuid, draft: Draft) -> Result<Response, Fault> {
    let key = desk.store.talk_key(message).await?.ok_or(Fault::NotFound)?;
    let talk = desk.store.talk_of(&key.number).await?;
    let world = desk.world();
    let language = language_of(&world, talk.language.as_deref())?;
    let form = draft.form.unwrap_or_else(|| sheet::Form::of(&talk.known, language));
    let counted = (!draft.text.trim().is_empty())
        .then(|| PhoneText::new(ready::with_safety(language, &draft.text, line_in_turn(&talk))));
    let page = TalkPage {
        frame: Frame::new("A waiting talk", Some(member)),
        message,
        key: &key,
        language: &language.name,
        lines: lines_of(desk, &key, &world, language).await?,
        is_mine: key.holder_id == Some(member.id),
        stopped: talk.stopped,
        advice: view_of(&world, &form.known),
        sheet_text: print(&form.known.facts(), language),
        ready: ready::replies(&world, language, &form.known, Utc::now()),
        cells: form.cells,
        draft: &draft.text,
        counted,
        problem: draft.problem,
    };
    if page.problem.is_some() { show_wrong(&page) } else { show(&page) }
}

/// What was said and what was sent, oldest first.
async fn lines_of(desk: &Desk, key: &TalkKey, world: &World, language: &Language) -> Result<Vec<Line>, Fault> {
    let said = desk.store.inbound_of(&key.line, &key.number, SHOWN).await?;
    let sent = desk.store.replies_of(&key.line, &key.number, SHOWN).await?;
    let said = said.into_iter().map(|row| Line {
        at: row.received_at,
        understood: Some(understood(&row.body, world, language)),
        text: row.body,
        state: None,
    });
    let sent =
        sent.into_iter().map(|row| Line { at: row.created_at, text: row.body, understood: None, state: Some(row.state) });
    let mut lines: Vec<Line> = said.chain(sent).collect();
    // A reply has the time of its message, and stands below it.
    lines.sort_by_key(|line| (line.at, line.state.is_some()));
    Ok(lines)
}

fn understood(text: &str, world: &World, language: &Language) -> String {
    let reading = read(text, &world.languages, &language.code, None);
    let mut parts: Vec<String> = Vec::new();
    if !reading.facts.is_empty() {
        parts.push(print(&reading.facts, language));
    }
    parts.extend(reading.commands.iter().map(|(command, _)| format!("the word “{}”", command.name())));
    parts.extend(reading.troubles.iter().map(|trouble| {
        let part: String = text.chars().skip(trouble.at.start).take(trouble.at.end - trouble.at.start).collect();
        format!("{} at “{part}”", trouble.code.code().replace('_', " "))
    }));
    if parts.is_empty() { "nothing".to_owned() } else { parts.join("; ") }
}

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(message): Path<Uuid>,
    Form(typed): Form<BTreeMap<String, String>>,
) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let key = desk.store.talk_key(message).await?.ok_or(Fault::NotFound)?;
    let here = || Ok(Redirect::to(&format!("/desk/waiting/{message}")).into_response());
    let done = || Ok(Redirect::to("/desk/waiting").into_response());
    let now = Utc::now();
    match typed.get("do").map(String::as_str) {
        Some("take") => {
            let mut step = desk.store.begin().await?;
            let hand = step.take_talk(&key.line, &key.number, member.id, now).await?;
            if let Hand::HeldBy(name) = hand {
                let problem = Some(format!("{name} has this talk; choose another one, or ask {name} to give it back."));
                return page(&desk, &member, message, Draft { problem, ..Draft::default() }).await;
            }
            step.note(&member.name, "took a talk", &message.to_string(), now).await?;
            step.commit().await?;
            return here();
        }
        Some("release") => {
            let mut step = desk.store.begin().await?;
            if step.hold_talk(&key.line, &key.number, member.id).await? {
                step.let_go(&key.line, &key.number).await?;
                step.note(&member.name, "gave a talk back", &message.to_string(), now).await?;
                step.commit().await?;
            }
            return done();
        }
        _ => {}
    }
    let world = desk.world();
    let talk = desk.store.talk_of(&key.number).await?;
    let language = language_of(&world, talk.language.as_deref())?;
    let mut form = sheet::Form::read(&typed, &world.languages, language);
    // No field holds the bucket tests.
    form.known.carry_tests(&talk.known, now);
    let mut draft = Draft { text: typed.get("text").cloned().unwrap_or_default().replace('\0', ""), ..Draft::default() };
    if let Some(key) = typed.get("ready") {
        let ready = ready::replies(&world, language, &form.known, now);
        draft.text = ready.into_iter().find(|ready| &ready.key == key).map_or(draft.text, |ready| ready.text.text);
    }
    let finish = match typed.get("do").map(String::as_str) {
        Some("send") => Finish::Send(&draft.text),
        Some("back") => Finish::HandBack,
        _ => {
            draft.form = Some(form);
            return page(&desk, &member, message, draft).await;
        }
    };
    if !form.is_sound() {
        draft.problem = Some("The sheet has a field that is not understood; correct it or empty it.".to_owned());
    } else {
        let about = About { desk: &desk, member: &member, message, key: &key };
        match about.finish(&form.known, language, &finish, now).await? {
            None => return done(),
            problem => draft.problem = problem,
        }
    }
    draft.form = Some(form);
    page(&desk, &member, message, draft).await
}

/// How a member of staff ends with a talk.
enum Finish<'a> {
    Send(&'a str),
    HandBack,
}

struct About<'a> {
    desk: &'a Desk,
    member: &'a Member,
    message: Uuid,
    key: &'a TalkKey,
}

impl About<'_> {
    /// All in one transaction: the talk goes on with the sheet as corrected, the reply is queued, and who did it is
    /// written down. Gives what stands in the way.
    async fn finish(
        &self,
        known: &Known,
        language: &Language,
        finish: &Finish<'_>,
        now: DateTime<Utc>,
    ) -> Result<Option<String>, Fault> {
        let Self { desk, member, message, key } = *self;
        let mut step = desk.store.begin().await?;
        if !step.hold_talk(&key.line, &key.number, member.id).await? {
            return Ok(Some("This talk is not in your hands any more; take it first.".to_owned()));
        }
        let before = step.lock_talk(&key.number, now).await?;
        let mut after = Talk { known: known.clone(), asked: None, misread: 0, ..before };
        let did = match finish {
            Finish::HandBack => "handed a talk back to the program",
            Finish::Send(text) => {
                if text.trim().is_empty() {
                    return Ok(Some("There is no text to send; write one or choose one.".to_owned()));
                }
                if after.stopped {
                    return Ok(Some("This number has opted out: nothing may be sent to it.".to_owned()));
                }
                let reply = PhoneText::new(ready::with_safety(language, text, line_in_turn(&after)));
                if reply.parts > PARTS_MOST {
                    let parts = reply.parts;
                    return Ok(Some(format!("The text takes {parts} parts; shorten it to {PARTS_MOST} or fewer.")));
                }
                let line = line_in_turn(&after);
                note_seen(&mut after, &[Say::Safety(line)]);
                let new = NewReply {
                    last_word: false,
                    id: Uuid::now_v7(),
                    line: &key.line,
                    sender: &key.hotline,
                    recipient: &key.number,
                    body: &reply.text,
                    encoding: encoding_name(reply.encoding),
                    parts: i32::try_from(reply.parts).unwrap_or(i32::MAX),
                    in_reply_to: None,
                    created_at: now,
                };
                step.queue_reply(&new).await?;
                "answered a talk"
            }
        };
        step.save_talk(&key.number, &after).await?;
        step.talk_done(&key.line, &key.number, now).await?;
        step.note(&member.name, did, &message.to_string(), now).await?;
        step.commit().await?;
        info!(%message, staff = %member.id, did, "done at the desk");
        if let Err(error) = desk.store.signal(Signal::Outbox).await {
            // The senders look by themselves every few seconds.
            warn!(%error, "senders not woken");
        }
        Ok(None)
    }
}
