//! What staff do with a talk. What a member of staff sends goes out in the same transaction as the talk's change and the note
//! of who did it.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use chrono::{DateTime, Utc};
use tracing::{info, warn};
use uuid::Uuid;

use super::ready;
use super::sheet;
use super::talk::{Draft, language_of, page, path_of};
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::words::{said, said_with};
use crate::desk::state::Desk;
use crate::language::{Command, Language};
use crate::lines::WayOut;
use crate::reply::PhoneText;
use crate::sending::Priority;
use crate::store::{Hand, NewReply, Signal, Step, TalkKey, Way};
use crate::talk::{Say, Talk, line_in_turn, note_seen};

/// A reply by hand may take this many parts; each one costs.
const PARTS_MOST: usize = 4;

/// Keeps what is typed, as it is typed.
pub async fn keep_draft(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(grower): Path<Uuid>,
    Form(typed): Form<BTreeMap<String, String>>,
) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let now = Utc::now();
    let key = desk.store.talk_key(grower, now).await?.ok_or(Fault::NotFound)?;
    let mut step = desk.store.begin().await?;
    step.hold_talk(&key.number, member.id, now).await?;
    step.keep_draft(&key.number, member.id, &kept(&typed), now).await?;
    step.commit().await?;
    Ok(StatusCode::NO_CONTENT.into_response())
}

/// Of a form what is worth keeping: PostgreSQL holds no NUL, and what was shown is shown anew.
fn kept(typed: &BTreeMap<String, String>) -> BTreeMap<String, String> {
    let of_form = |name: &str| !["do", "ready", "shown"].contains(&name);
    typed.iter().filter(|(name, _)| of_form(name)).map(|(name, text)| (name.clone(), text.replace('\0', ""))).collect()
}

pub async fn act(
    State(desk): State<Arc<Desk>>,
    member: Member,
    Path(grower): Path<Uuid>,
    Form(mut typed): Form<BTreeMap<String, String>>,
) -> Result<Response, Fault> {
    member.must(Role::Answers)?;
    let now = Utc::now();
    let key = desk.store.talk_key(grower, now).await?.ok_or(Fault::NotFound)?;
    let here = || Ok(Redirect::to(&path_of(grower)).into_response());
    let done = || Ok(Redirect::to("/desk/waiting").into_response());
    let what = typed.get("do").cloned().unwrap_or_default();
    if what == "take" || what == "over" {
        let over = what == "over" && member.role >= Role::Runs;
        let mut step = desk.store.begin().await?;
        if let Hand::HeldBy(name) = step.take_talk(&key.number, member.id, over, now).await? {
            // No page is made while a step holds a connection: enough of them at once would wait for each other.
            drop(step);
            let sentence = "{name} has this talk; choose another one, or ask {name} to give it back.";
            let problem = Some(said_with(sentence, &[("name", &name)]));
            return page(&desk, &member, &key, None, Draft { problem, ..Draft::default() }).await;
        }
        let did = if over { "took a talk over" } else { "took a talk" };
        step.note(&member.name, did, &grower.to_string(), now).await?;
        step.commit().await?;
        return here();
    }
    let world = desk.world();
    let talk = desk.store.talk_of(&key.number).await?;
    let language = language_of(&world, talk.language.as_deref())?;
    if let Some(wanted) = typed.get("ready").cloned() {
        let form = sheet::Form::merged(&typed, &talk.known, &world.languages, language, now);
        let ready = ready::replies(&world, language, &form.known, now).into_iter().find(|ready| ready.key == wanted);
        let text = typed.entry("text".to_owned()).or_default();
        // What is there is not replaced: the reply goes behind it.
        let ready = ready.map(|ready| ready.text.text).unwrap_or_default();
        *text = [text.trim(), &ready].iter().filter(|text| !text.is_empty()).copied().collect::<Vec<_>>().join(" ");
    }
    let Some(end) = End::of(&what) else {
        let mut step = desk.store.begin().await?;
        if step.hold_talk(&key.number, member.id, now).await? {
            match what.as_str() {
                "release" => {
                    step.let_go(&key.number).await?;
                    step.note(&member.name, "gave a talk back", &grower.to_string(), now).await?;
                }
                "help" | "only" => step.set_program_helps(&key.number, what == "help").await?,
                _ => {}
            }
            step.keep_draft(&key.number, member.id, &kept(&typed), now).await?;
            step.commit().await?;
        }
        return match what.as_str() {
            "release" => done(),
            "help" | "only" => here(),
            _ => page(&desk, &member, &key, None, Draft { typed, kept_at: Some(now), ..Draft::default() }).await,
        };
    };
    let about = About { desk: &desk, member: &member, key: &key, typed: &typed };
    let problem = match about.end(end, now).await? {
        None if end == End::Keep => return Ok(Redirect::to(&format!("{}?sent=true", path_of(grower))).into_response()),
        None => return Ok(Redirect::to(&format!("/desk/waiting?done={}", end.name())).into_response()),
        problem => problem,
    };
    page(&desk, &member, &key, None, Draft { typed, problem, ..Draft::default() }).await
}

/// How a member of staff ends a turn in a talk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    /// Sends and goes on holding the talk.
    Keep,
    /// Sends, and the talk is dealt with.
    Send,
    /// Nothing more is to be said.
    Done,
    /// The program goes on; a word to the grower goes before.
    BackWithWord,
    Back,
}

impl End {
    fn of(what: &str) -> Option<Self> {
        [Self::Keep, Self::Send, Self::Done, Self::BackWithWord, Self::Back].into_iter().find(|end| end.name() == what)
    }

    fn name(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::Send => "send",
            Self::Done => "done",
            Self::BackWithWord => "back-word",
            Self::Back => "back",
        }
    }

    /// As the audit says it.
    fn did(self) -> &'static str {
        match self {
            Self::Keep => "wrote to a grower",
            Self::Send => "answered a talk",
            Self::Done => "finished a talk",
            Self::BackWithWord | Self::Back => "handed a talk back to the program",
        }
    }
}

struct About<'a> {
    desk: &'a Desk,
    member: &'a Member,
    key: &'a TalkKey,
    typed: &'a BTreeMap<String, String>,
}

impl About<'_> {
    /// All in one transaction: the talk goes on with the sheet as corrected, the reply is queued, and who did it is written
    /// down. Gives what stands in the way.
    async fn end(&self, end: End, now: DateTime<Utc>) -> Result<Option<String>, Fault> {
        let Self { desk, member, key, typed } = *self;
        let number = &key.number;
        let mut step = desk.store.begin().await?;
        // The talk first, then whose hands it is in: every step locks in this order.
        let before = step.lock_talk(number, now).await?;
        if !step.hold_talk(number, member.id, now).await? {
            return Ok(Some(said("This talk is not in your hands any more; take it first.").into_owned()));
        }
        let world = desk.world();
        let language = language_of(&world, before.language.as_deref())?;
        let form = sheet::Form::merged(typed, &before.known, &world.languages, language, now);
        if !form.is_sound() {
            let sentence = "Nothing was sent: a field of the sheet needs a look; correct it, empty it, or send once more.";
            return Ok(Some(said(sentence).into_owned()));
        }
        let spoken = typed.get("speak").filter(|code| world.languages.get(code).is_some()).cloned();
        let language_code = spoken.or(before.language.clone());
        let after = Talk { known: form.known, asked: None, misread: 0, language: language_code, ..before };
        let after = match self.send(&mut step, end, language, after, now).await? {
            Ok(after) => after,
            Err(problem) => return Ok(Some(problem)),
        };
        step.save_talk(number, &after).await?;
        let shown: Vec<Uuid> = typed.get("shown").into_iter().flat_map(|ids| ids.split(' ')).flat_map(str::parse).collect();
        let is_answered = matches!(end, End::Keep | End::Send);
        step.messages_done(number, &shown, is_answered, now).await?;
        match end {
            End::Keep => {}
            End::Send | End::Done => step.finish_talk(number, now).await?,
            End::BackWithWord | End::Back => step.let_go(number).await?,
        }
        step.drop_draft(number, member.id).await?;
        step.note(&member.name, end.did(), &key.grower.to_string(), now).await?;
        step.commit().await?;
        info!(grower = %key.grower, staff = %member.id, did = end.did(), "done at the desk");
        if let Err(error) = desk.store.signal(Signal::Outbox).await {
            // The senders look by themselves every few seconds.
            warn!(%error, "senders not woken");
        }
        Ok(None)
    }

    /// Queues the reply, where this end has one; gives the talk with the caution that it carried, or what stands in the way.
    async fn send(
        &self,
        step: &mut Step<'_>,
        end: End,
        language: &Language,
        mut after: Talk,
        now: DateTime<Utc>,
    ) -> Result<Result<Talk, String>, Fault> {
        let text = match end {
            End::Done | End::Back => return Ok(Ok(after)),
            End::BackWithWord => word_back(language)?,
            End::Keep | End::Send => self.typed.get("text").map(|text| text.replace('\0', "")).unwrap_or_default(),
        };
        let refuse = |sentence: &str| Ok(Err(said(sentence).into_owned()));
        if text.trim().is_empty() {
            return refuse("There is no text to send; write one or choose one.");
        }
        if after.stopped {
            return refuse("This number has opted out: nothing may be sent to it.");
        }
        let way_out = match self.way_out() {
            Ok(way_out) => way_out,
            Err(why) => return Ok(Err(why)),
        };
        let caution = line_in_turn(&after);
        let is_own = end != End::BackWithWord;
        let reply = PhoneText::new(if is_own { ready::with_safety(language, &text, caution) } else { text });
        if reply.parts > PARTS_MOST {
            let sentence = "The text takes {parts} parts; shorten it to {most} or fewer.";
            return Ok(Err(said_with(sentence, &[("parts", &reply.parts), ("most", &PARTS_MOST)])));
        }
        if is_own {
            note_seen(&mut after, &[Say::Safety(caution)]);
        }
        let way = Way { line: &way_out.line, sender: &way_out.number, recipient: &self.key.number };
        let new = NewReply::new(way, &reply, Priority::Staff, now);
        step.queue_reply(&new).await?;
        step.written_by(new.id, &self.member.name).await?;
        Ok(Ok(after))
    }

    /// The line by which the grower is written to, and our number there: that of the newest message, where it can send, or the
    /// first there is. Says why there is none.
    fn way_out(&self) -> Result<WayOut, String> {
        let lines = &self.desk.lines;
        let own = self.key.line.as_ref().filter(|line| lines.number(line).is_some()).cloned();
        match own.or_else(|| lines.sending_names().into_iter().next()) {
            Some(line) => lines.way_out(&line),
            None => Err(said("No line is set up by which this number can be written to.").into_owned()),
        }
    }
}

/// The word that the program takes over again, in the grower's language.
fn word_back(language: &Language) -> Result<String, Fault> {
    let person = language.command(Command::Person).unwrap_or_default();
    let wordings = language.replies.wordings("handed-back", &[("word", person.into())]).map_err(|_| Fault::Failed)?;
    wordings.into_iter().next().ok_or(Fault::Failed)
}
