//! Menu sessions that a gateway carries: each thing keyed is a call, and the answer to the call is the next screen.

mod shape;
mod unseen;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::Router;
use axum::extract::State;
use axum::response::Response;
use axum::routing::post;
use chrono::Utc;

use super::call::{self, Call, Called, Shared};
use super::limit::Limiter;
use super::proof::Proof;
use super::{AlsoBy, Incoming, Reception, without_nul};
use crate::config::{CallMethod, CallShape, Config, ConfigError, LineConfig, ReplyShape};
use crate::refusal::Refusal;
use crate::talk::Channel;
use shape::{Keyed, Sessions};
use unseen::Unseen;

/// The network waits two seconds; what is left of them carries the answer back.
const ANSWER_WITHIN: Duration = Duration::from_millis(1_700);

/// One configured line of menus.
pub struct Menus {
    name: String,
    number: String,
    proof: Proof,
    also_by: Option<AlsoBy>,
    call: CallShape,
    reply: ReplyShape,
    sessions: Sessions,
    unseen: Unseen,
}

impl Menus {
    pub fn new(name: &str, line: &LineConfig, config: &Config) -> Result<Self, ConfigError> {
        let also_by = line.sms_line.as_ref().and_then(|sms| {
            let number = config.lines.get(sms)?.number.clone();
            Some(AlsoBy { line: sms.clone(), number })
        });
        Ok(Self {
            name: name.to_owned(),
            number: line.number.clone(),
            proof: Proof::of(name, line)?,
            also_by,
            call: line.call.clone(),
            reply: line.reply.clone(),
            sessions: Sessions::default(),
            unseen: Unseen::default(),
        })
    }

    /// The line by which something can be sent to a caller.
    pub fn also_by(&self) -> Option<&AlsoBy> {
        self.also_by.as_ref()
    }

    pub fn number(&self) -> &str {
        &self.number
    }
}

impl Called for Menus {
    fn proof(&self) -> &Proof {
        &self.proof
    }

    fn is_by_query(&self) -> bool {
        self.call.method == CallMethod::Get
    }
}

pub(super) fn routes<R: Reception>(
    menus: BTreeMap<String, Arc<Menus>>,
    limiter: Arc<Limiter>,
    reception: Arc<R>,
) -> Router {
    call::routes([("/lines/{line}/ussd", post(keyed::<R>).get(keyed::<R>))], menus, limiter, reception)
}

/// What was keyed, answered by the next screen; by a polite one where none can be made in time.
async fn keyed<R: Reception>(
    State(shared): State<Arc<Shared<Menus, R>>>,
    Call { line: menus, fields, id }: Call<Menus>,
) -> Result<Response, Refusal> {
    // The session is named in the message's own name; the talk stands by the number, so a dropped session goes on in another.
    let Keyed { session, from, text, call, is_over } = shape::read(&fields, &menus.call, &menus.number, &menus.sessions)?;
    let screen = |text: String, more: bool| shape::answer(text, more, &menus.reply);
    if is_over {
        return Ok(screen(String::new(), false));
    }
    let input = without_nul(&text);
    let until = Instant::now() + ANSWER_WITHIN;
    let unseen = menus.unseen.begin(&session, &input, call.or(id).as_deref());
    let incoming = Incoming {
        line: menus.name.clone(),
        external_id: unseen.external_id().to_owned(),
        from,
        to: menus.number.clone(),
        text: input,
        channel: Channel::Ussd,
        also_by: menus.also_by.clone(),
        is_shown: true,
        until: Some(until),
        sent_at: None,
        received_at: Utc::now(),
    };
    let busy = || screen(shared.reception.busy(), false);
    if shared.limiter.check(&incoming.from, shared.reception.is_danger(&incoming.text)).is_err() {
        unseen.mark_seen();
        return Ok(busy());
    }
    // A call that is cut off must not be cut in the midst of its commit, or the talk moves and nobody knows: it goes on by
    // itself, and undoes what it did if it is too late.
    let reception = Arc::clone(&shared.reception);
    let receiving = tokio::spawn(async move { reception.receive(incoming).await });
    let received = tokio::time::timeout_at(until.into(), receiving).await;
    unseen.mark_seen();
    Ok(match received {
        Ok(Ok(Ok(received))) => match received.reply {
            Some(reply) => screen(reply.text, received.more),
            None => busy(),
        },
        _ => busy(),
    })
}
