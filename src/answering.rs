//! Answers a message: the one place where the pure core meets the database, in one transaction a message.
//!
//! Stopped between any two statements, nothing is lost and nothing is answered twice: before the commit there is no
//! trace of the message and its sender, who was not told `stored`, sends it again; after it the same message finds its
//! reply.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::time::Instant;

use chrono::{DateTime, Utc};
use tracing::{error, info, warn};
use uuid::Uuid;

use crate::lines::{Incoming, NotStored, Received, Reception, SaidText, SentText};
use crate::looping;
use crate::meters;
use crate::number::Number;
use crate::reply::{Encoding, PhoneText};
use crate::sending::{Priority, Receipt};
use crate::spot::scan;
use crate::store::{DueReminder, Inbound, NewReminder, NewReply, NewTally, Reply, Signal, Step, Store, StoreError, Way};
use crate::talk::{Asked, Channel, Reminder, ReminderKind, Talk};
use crate::turn::{Gist, Turn, World, busy, remind, turn, verdict_name};
use crate::world::Shelf;

/// Times that a message is tried where others stand in the way: a deadlock is broken once and seldom comes again.
const TRIES: u32 = 4;

/// Why a message is before a human, as the desk names it: somebody is in danger; two machines answer each other; what is
/// stored of the talk cannot be read.
const DANGER: &str = "danger";
const LOOP: &str = "loop";
const UNREADABLE: &str = "unreadable";

/// How many messages of each kind a conversation shows.
const CONVERSATION: i64 = 20;

/// Reminders looked up at once.
const REMINDERS_AT_ONCE: i64 = 100;

/// One step of the core: `turn::turn`, or another one in a check of what surrounds it.
pub type TurnFn = fn(&World, &Talk, &str, Channel, DateTime<Utc>) -> Turn;

pub struct Answering {
    store: Store,
    shelf: Arc<Shelf>,
    turn: TurnFn,
}

impl Answering {
    pub fn new(store: Store, shelf: Arc<Shelf>) -> Self {
        Self::with_turn(store, shelf, turn)
    }

    pub fn with_turn(store: Store, shelf: Arc<Shelf>, turn: TurnFn) -> Self {
        Self { store, shelf, turn }
    }

    /// Stores a message, moves its number's talk and queues the reply, all or nothing; a repeat finds what was done. Where
    /// another transaction stood in the way, it is tried again.
    pub async fn answer(&self, incoming: &Incoming) -> Result<Received, StoreError> {
        let (mut tries, began) = (TRIES, Instant::now());
        let answered = loop {
            tries -= 1;
            match self.answer_once(incoming).await {
                Err(StoreError::InTheWay(_)) if tries > 0 => {}
                answered => break answered?,
            }
        };
        if !answered.is_repeat {
            meters::answered(began.elapsed(), answered.to_person);
        }
        Ok(answered)
    }

    async fn answer_once(&self, incoming: &Incoming) -> Result<Received, StoreError> {
        let message = Uuid::now_v7();
        let mut step = self.store.begin().await?;
        let inbound = inbound_of(incoming, message);
        if !step.store_inbound(&inbound).await? {
            drop(step);
            return self.answered_before(incoming).await;
        }
        let talk = match step.lock_talk(incoming.from.as_str(), incoming.received_at).await {
            // Nothing can be said where the talk stands is not known; a human can, and the message is safe.
            Err(StoreError::UnreadableTalk | StoreError::NewerTalk(_)) => {
                error!(message_id = %message, "the stored talk cannot be read; a human must answer");
                return self.leave_to_human(step, incoming, message, UNREADABLE).await;
            }
            talk => talk?,
        };
        let reminders = talk.reminders.clone();
        let before = talk.clone();
        let mut turn = self.take_turn(talk, incoming, message);
        let is_danger = turn.gist.person == DANGER;
        if !incoming.is_shown && !is_danger && is_looping(&mut step, &inbound).await? {
            return self.leave_alone(step, &inbound, incoming, message).await;
        }
        // A screen cannot be kept waiting for a person: menus go on.
        if incoming.channel == Channel::Sms
            && let Some(reader) = step.reader_of(incoming.from.as_str(), incoming.received_at).await?
        {
            turn = read_by_staff(turn, &before, reader.program_helps);
        }
        self.keep(&mut step, incoming, message, &turn).await?;
        // A talk that was deleted took its reminders with it.
        if turn.talk.reminders != reminders && turn.talk != Talk::default() {
            // A screen cannot be called: what is asked there comes as a short message.
            let (line, sender) = match &incoming.also_by {
                Some(also) => (&also.line, &also.number),
                None => (&incoming.line, &incoming.to),
            };
            step.keep_reminders(incoming.from.as_str(), line, sender, &rows_of(&turn.talk.reminders)).await?;
        }
        let home_place = &self.shelf.now().home_place;
        step.tally(&tally_of(&turn, incoming, message, home_place)).await?;
        if incoming.until.is_some_and(|until| Instant::now() >= until) {
            // Who waited has been told to come again.
            return Err(StoreError::TooLate);
        }
        step.commit().await?;
        info!(message_id = %message, line = incoming.line, replied = turn.reply.is_some(), person = turn.wants_person, "answered");
        if (turn.reply.is_some() || turn.by_sms.is_some())
            && let Err(error) = self.store.signal(Signal::Outbox).await
        {
            // The senders look by themselves every few seconds.
            warn!(%error, "senders not woken");
        }
        let reply = turn.reply.map(|PhoneText { text, encoding, .. }| {
            let at = incoming.received_at;
            SentText { text, encoding, at }
        });
        Ok(Received { message, is_repeat: false, to_person: turn.wants_person, reply, more: turn.more })
    }

    /// Stores a message for staff and says nothing.
    async fn leave_to_human(
        &self,
        mut step: Step<'_>,
        incoming: &Incoming,
        message: Uuid,
        reason: &str,
    ) -> Result<Received, StoreError> {
        step.want_person(message, reason).await?;
        let turn = Turn { wants_person: true, ..Turn::default() };
        step.tally(&tally_of(&turn, incoming, message, &self.shelf.now().home_place)).await?;
        step.commit().await?;
        Ok(Received { message, is_repeat: false, to_person: true, reply: None, more: false })
    }

    /// Stores what a machine sent and says nothing, so that it has nothing to answer; staff are shown the first of it.
    async fn leave_alone(
        &self,
        mut step: Step<'_>,
        inbound: &Inbound<'_>,
        incoming: &Incoming,
        message: Uuid,
    ) -> Result<Received, StoreError> {
        if !step.loop_is_shown(inbound).await? {
            warn!(message_id = %message, line = incoming.line, "a machine answers our answers; it gets none until it is quiet");
            return self.leave_to_human(step, incoming, message, LOOP).await;
        }
        step.commit().await?;
        Ok(Received { message, is_repeat: false, to_person: false, reply: None, more: false })
    }

    /// What a turn leaves, in the database.
    async fn keep(&self, step: &mut Step<'_>, incoming: &Incoming, message: Uuid, turn: &Turn) -> Result<(), StoreError> {
        let number = incoming.from.as_str();
        if turn.forget {
            step.forget(number, turn.reply.is_some().then_some(message)).await?;
        }
        if turn.forget && turn.talk == Talk::default() {
            step.delete_talk(number).await?;
        } else {
            step.save_talk(number, &turn.talk).await?;
        }
        if turn.talk.stopped {
            step.stop_queued(number).await?;
        }
        if turn.wants_person {
            step.want_person(message, turn.gist.person).await?;
        }
        let priority = if turn.gist.person == DANGER { Priority::Danger } else { Priority::Answer };
        let reply = |text, line, sender| {
            NewReply::new(Way { line, sender, recipient: number }, text, priority, incoming.received_at)
        };
        if let Some(text) = &turn.reply {
            let reply = reply(text, &incoming.line, &incoming.to).answering(message).as_last_word(turn.forget);
            step.queue_reply(&if incoming.is_shown { reply.as_shown(turn.more) } else { reply }).await?;
        }
        if let (Some(text), Some(also)) = (&turn.by_sms, &incoming.also_by) {
            step.queue_reply(&reply(text, &also.line, &also.number)).await?;
        }
        Ok(())
    }

    /// Sends every reminder that has fallen due; gives how many went out. One that cannot be sent holds up no other, and is
    /// tried again the next time.
    pub async fn remind_due(&self, now: DateTime<Utc>) -> Result<usize, StoreError> {
        let mut sent = 0;
        let mut last = None;
        loop {
            let due = self.store.reminders_due(now, last.as_ref(), REMINDERS_AT_ONCE).await?;
            for reminder in &due {
                match self.remind(reminder, now).await {
                    Ok(went) => sent += usize::from(went),
                    Err(error) => warn!(%error, kind = reminder.kind, "a reminder could not be sent"),
                }
            }
            let is_last = (due.len() as i64) < REMINDERS_AT_ONCE;
            last = due.into_iter().last();
            if is_last {
                break;
            }
        }
        if sent > 0
            && let Err(error) = self.store.signal(Signal::Outbox).await
        {
            warn!(%error, "senders not woken");
        }
        Ok(sent)
    }

    /// One reminder, in a transaction of its own: the talk moved and the message queued, all or nothing.
    async fn remind(&self, due: &DueReminder, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let mut step = self.store.begin().await?;
        let talk = step.lock_talk(&due.number, now).await?;
        let kind = ReminderKind::ALL.into_iter().find(|kind| kind.name() == due.kind);
        let (true, Some(kind)) = (step.take_reminder(&due.number, &due.kind, now).await?, kind) else {
            // Answered, taken back or sent meanwhile.
            step.commit().await?;
            return Ok(false);
        };
        let world = self.shelf.now();
        // A fault in the core must not end the loop, nor come back every minute: that reminder is given up.
        let turn = catch_unwind(AssertUnwindSafe(|| remind(&world, &talk, kind, now))).unwrap_or_else(|_| {
            error!(kind = kind.name(), "no reminder could be made");
            let mut talk = talk;
            talk.reminders.retain(|reminder| reminder.kind != kind);
            Turn { talk, ..Turn::default() }
        });
        step.save_talk(&due.number, &turn.talk).await?;
        step.keep_reminders(&due.number, &due.line, &due.sender, &rows_of(&turn.talk.reminders)).await?;
        if let Some(text) = &turn.reply {
            let way = Way { line: &due.line, sender: &due.sender, recipient: &due.number };
            step.queue_reply(&NewReply::new(way, text, Priority::Reminder, now)).await?;
        }
        step.commit().await?;
        Ok(turn.reply.is_some())
    }

    /// A fault in the core must not make a gateway send the same message for ever: a human gets it instead.
    fn take_turn(&self, talk: Talk, incoming: &Incoming, message: Uuid) -> Turn {
        let world = self.shelf.now();
        let step = || (self.turn)(&world, &talk, &incoming.text, incoming.channel, incoming.received_at);
        catch_unwind(AssertUnwindSafe(step)).unwrap_or_else(|_| {
            error!(message_id = %message, "no answer could be made; a human must answer");
            Turn { talk, wants_person: true, gist: Gist { person: "failed", ..Gist::default() }, ..Turn::default() }
        })
    }

    async fn answered_before(&self, incoming: &Incoming) -> Result<Received, StoreError> {
        let message = self.store.stored_before(&inbound_of(incoming, Uuid::nil())).await?;
        // Another row by this name was just seen; it can only be missing if it was deleted since.
        let message = message.ok_or_else(|| StoreError::Unreachable("message deleted".to_owned()))?;
        let reply = self.store.reply_to(message).await?;
        info!(message_id = %message, line = incoming.line, "repeated");
        let more = reply.as_ref().is_some_and(|reply| reply.more);
        Ok(Received { message, is_repeat: true, to_person: false, reply: reply.map(sent_text), more })
    }
}

/// A message as it is stored, by this name of ours.
fn inbound_of(incoming: &Incoming, id: Uuid) -> Inbound<'_> {
    Inbound {
        id,
        line: &incoming.line,
        external_id: &incoming.external_id,
        sender: incoming.from.as_str(),
        recipient: &incoming.to,
        body: &incoming.text,
        sent_at: incoming.sent_at,
        received_at: incoming.received_at,
    }
}

fn sent_text(reply: Reply) -> SentText {
    SentText { encoding: Encoding::named(&reply.encoding), text: reply.body, at: reply.created_at }
}

async fn is_looping(step: &mut Step<'_>, inbound: &Inbound<'_>) -> Result<bool, StoreError> {
    Ok(looping::is_loop(&step.heard_lately(inbound, looping::WITHIN, looping::MESSAGES).await?))
}

/// A turn while a member of staff holds the talk: the message is for them to read. Unless they let the program help, it says
/// nothing but what nobody else may answer for: an opt-out, a deletion, a danger. What was told is kept; no question of the
/// program's is left waiting that was never put.
fn read_by_staff(turn: Turn, before: &Talk, program_helps: bool) -> Turn {
    let asks_to_forget = |talk: &Talk| matches!(talk.asked, Some(Asked::Forget));
    let opts = turn.talk.stopped != before.stopped || turn.talk.stopped;
    let deletes = turn.forget || asks_to_forget(&turn.talk) || asks_to_forget(before);
    if opts || deletes || turn.gist.person == DANGER {
        return turn;
    }
    let person = if turn.wants_person { turn.gist.person } else { "wrote_back" };
    let gist = Gist { person, ..turn.gist };
    if program_helps {
        return Turn { wants_person: true, gist, ..turn };
    }
    let Talk { language, known, last_at, .. } = turn.talk;
    let talk = Talk { language, known, last_at, ..before.clone() };
    let gist = Gist { verdict: None, fixes: Vec::new(), ..gist };
    Turn { talk, wants_person: true, gist, ..Turn::default() }
}

fn rows_of(reminders: &[Reminder]) -> Vec<NewReminder<'static>> {
    reminders.iter().map(|reminder| NewReminder { kind: reminder.kind.name(), due_at: reminder.due_at }).collect()
}

fn tally_of<'a>(turn: &'a Turn, incoming: &'a Incoming, message: Uuid, home_place: &'a str) -> NewTally<'a> {
    NewTally {
        message,
        received_at: incoming.received_at,
        line: &incoming.line,
        language: turn.talk.language.as_deref(),
        // Where a grower stands in degrees is nobody's to count.
        place: turn.talk.known.place.as_deref().or(Some(home_place)).filter(|place| scan(place).is_none()),
        crop: turn.talk.known.sheet.crop.as_deref(),
        verdict: turn.gist.verdict.map(verdict_name),
        troubles: &turn.gist.troubles,
        fixes: &turn.gist.fixes,
        replied: turn.reply.is_some(),
        is_shown: incoming.is_shown,
        to_person: turn.wants_person,
        number: incoming.from.as_str(),
        garden_m2: turn.taken.advice.as_ref().and_then(|advice| advice.sheet.garden_m2),
        water_m3_day: turn.taken.advice.as_ref().map(|advice| advice.design().water.water_m3_day),
    }
}

impl Reception for Answering {
    async fn receive(&self, incoming: Incoming) -> Result<Received, NotStored> {
        self.answer(&incoming).await.map_err(|error| {
            error!(%error, line = incoming.line, "message not stored");
            NotStored
        })
    }

    fn is_danger(&self, text: &str) -> bool {
        self.shelf.now().ears.hear(text, None).is_some()
    }

    async fn is_stored(&self, incoming: &Incoming) -> bool {
        // Not known is not stored: the sender comes again.
        self.store.stored_before(&inbound_of(incoming, Uuid::nil())).await.is_ok_and(|stored| stored.is_some())
    }

    fn busy(&self) -> String {
        busy(&self.shelf.now()).text
    }

    async fn settle(&self, line: &str, id: Uuid, receipt: Receipt) -> Result<bool, NotStored> {
        meters::receipt(receipt.name());
        self.store.settle(line, id, receipt).await.map_err(|error| {
            error!(%error, reply = %id, line, "receipt not stored");
            NotStored
        })
    }

    async fn conversation(&self, line: &str, number: &Number) -> Result<(Vec<SaidText>, Vec<SentText>), NotStored> {
        let both = async {
            let said = self.store.inbound_of(line, number.as_str(), CONVERSATION).await?;
            let sent = self.store.replies_of(line, number.as_str(), CONVERSATION).await?;
            Ok::<_, StoreError>((said, sent))
        };
        let (said, sent) = both.await.map_err(|error| {
            error!(%error, line, "conversation not read");
            NotStored
        })?;
        let said = said.into_iter().map(|row| SaidText { text: row.body, at: row.received_at });
        Ok((said.collect(), sent.into_iter().map(sent_text).collect()))
    }
}
