//! How far one account reaches alone: a list goes out at once to numbers that wrote before or are of the deployment's own
//! country, up to a number of parts; more, and numbers elsewhere, want another account's word. Each part costs, and who has
//! somebody else's account must not be able to write to the world.

use chrono::Utc;

use crate::config::Config;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::frame::words::{said, said_with};
use crate::desk::state::Desk;
use crate::store::{BulkList, Signal, Step, ToAsk, ToSend};

/// What was asked of a list.
pub struct Wish<'a> {
    pub what: &'a str,
    pub line: &'a str,
    /// Messages that were looked at.
    pub count: i64,
    /// The verdict whose rows were chosen.
    pub verdict: Option<&'a str>,
}

/// Whether sending wants another account's word.
pub fn needs_another(config: &Config, to_send: &ToSend) -> bool {
    to_send.elsewhere > 0 || to_send.parts > i64::from(config.limits.parts_alone)
}

/// Sends, asks for another's word, or hears it; or says in a sentence why not.
pub async fn decide(
    desk: &Desk,
    member: &Member,
    list: &BulkList,
    wish: &Wish<'_>,
    is_large: bool,
    step: &mut Step<'_>,
) -> Result<Result<Signal, String>, Fault> {
    let (id, now) = (list.id, Utc::now());
    let asked = list.asked_by.zip(list.asked_line.clone()).zip(list.asked_count);
    let (line, count, verdict) = match (wish.what, asked) {
        ("refuse", Some(_)) => {
            step.ask_to_send(id, None, now).await?;
            step.note(&member.name, "took back that a list be sent", &id.to_string(), now).await?;
            return Ok(Ok(Signal::Bulk));
        }
        ("confirm", Some(((by, _), _))) if by == member.id => {
            return Ok(Err(said("Another account has to confirm this; ask somebody else who answers.").into_owned()));
        }
        ("confirm", Some(((_, line), count))) => (line, count, list.asked_verdict.clone()),
        ("send", _) => (wish.line.to_owned(), wish.count, wish.verdict.map(str::to_owned)),
        _ => return Ok(Err(said("Nobody has asked for this any more; look at the list as it is now.").into_owned())),
    };
    let way = match desk.lines.way_out(&line) {
        Ok(way) if desk.lines.sending_names().contains(&line) => way,
        refused => {
            return Ok(Err(refused
                .err()
                .unwrap_or_else(|| said_with("The line {line} reaches nobody; choose another.", &[("line", &line)]))));
        }
    };
    if wish.what != "confirm" && is_large {
        step.ask_to_send(id, Some(&ToAsk { by: member.id, line: &line, count, verdict: verdict.as_deref() }), now).await?;
        step.note(&member.name, "asked for a list to be sent", &format!("{id}: {count} messages"), now).await?;
        return Ok(Ok(Signal::Bulk));
    }
    let sent = step.send_bulk(id, verdict.as_deref(), (&way.line, &way.number), now).await?;
    if sent != u64::try_from(count).unwrap_or_default() {
        return Ok(Err(said("Nothing was sent: the list has changed meanwhile. Look at the count again.").into_owned()));
    }
    step.ask_to_send(id, None, now).await?;
    if sent > 0 {
        let did = if wish.what == "confirm" { "confirmed and sent a list" } else { "sent a list" };
        step.note(&member.name, did, &format!("{id}: {sent} messages"), now).await?;
    }
    Ok(Ok(Signal::Outbox))
}
