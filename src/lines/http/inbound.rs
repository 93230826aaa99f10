//! What a gateway calls us with.

use std::sync::Arc;

use axum::extract::State;
use axum::http::StatusCode;
use chrono::Utc;
use uuid::Uuid;

use super::Gateway;
use crate::lines::call::{Call, Shared};
use crate::lines::{Incoming, NotStored, Reception, without_nul};
use crate::number::is_ours;
use crate::refusal::Refusal;
use crate::sending::Receipt;
use crate::talk::Channel;

/// A grower's message. 202 once it is stored with its reply, and again for the same message.
pub async fn message<R: Reception>(
    State(shared): State<Arc<Shared<Gateway, R>>>,
    Call { line: gateway, fields, .. }: Call<Gateway>,
) -> Result<StatusCode, Refusal> {
    let names = &gateway.fields;
    let to = fields.address(&names.to)?;
    if !is_ours(&to) {
        let what = format!("The field {} is no phone number; send E.164 or a short code.", names.to);
        return Err(Refusal::field(&names.to, what));
    }
    let incoming = Incoming {
        line: gateway.name.clone(),
        external_id: fields.id(&names.id)?,
        from: fields.number(&names.from)?,
        to,
        text: without_nul(fields.text(&names.text)?),
        channel: Channel::Sms,
        also_by: None,
        is_shown: false,
        until: None,
        sent_at: fields.time(&names.at)?,
        received_at: Utc::now(),
    };
    if let Err(wait_s) = shared.limiter.check(&incoming.from, shared.reception.is_danger(&incoming.text)) {
        // A gateway that did not hear our answer brings the message again: it is safe, however much its sender writes.
        return if shared.reception.is_stored(&incoming).await {
            Ok(StatusCode::ACCEPTED)
        } else {
            Err(Refusal::too_many(wait_s))
        };
    }
    shared.reception.receive(incoming).await.map_err(|NotStored| Refusal::unavailable())?;
    Ok(StatusCode::ACCEPTED)
}

/// What became of a message of ours at the phone.
pub async fn receipt<R: Reception>(
    State(shared): State<Arc<Shared<Gateway, R>>>,
    Call { line: gateway, fields, .. }: Call<Gateway>,
) -> Result<StatusCode, Refusal> {
    let id = fields.text("id")?.parse::<Uuid>();
    let id = id.map_err(|_| Refusal::field("id", "The field id is none of ours; send the id of the outbound call."))?;
    let receipt = Receipt::named(fields.text("status")?)
        .ok_or_else(|| Refusal::field("status", "The field status must be delivered, failed or expired."))?;
    match shared.reception.settle(&gateway.name, id, receipt).await {
        Ok(true) => Ok(StatusCode::ACCEPTED),
        Ok(false) => Err(Refusal::not_found("This line sent no message by this id; check the id.")),
        Err(NotStored) => Err(Refusal::unavailable()),
    }
}
