//! What a gateway calls us with.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode};
use chrono::Utc;
use uuid::Uuid;

use super::{Gateway, Shared};
use crate::lines::call::proven;
use crate::lines::decode::Fields;
use crate::lines::{Incoming, NotStored, Receipt, Reception, without_nul};
use crate::number::is_ours;
use crate::refusal::Refusal;
use crate::talk::Channel;

/// A grower's message. 202 once it is stored with its reply, and again for the same message.
pub async fn message<R: Reception>(
    State(shared): State<Arc<Shared<R>>>,
    Path(line): Path<String>,
    headers: HeaderMap,
    body: Result<Bytes, BytesRejection>,
) -> Result<StatusCode, Refusal> {
    let (gateway, fields) = shared.open(&line, &headers, body)?;
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
        sent_at: fields.time(&names.at)?,
        received_at: Utc::now(),
    };
    shared.limiter.check(&incoming.from).map_err(Refusal::too_many)?;
    shared.reception.receive(incoming).await.map_err(|NotStored| Refusal::unavailable())?;
    Ok(StatusCode::ACCEPTED)
}

/// What became of a message of ours at the phone.
pub async fn receipt<R: Reception>(
    State(shared): State<Arc<Shared<R>>>,
    Path(line): Path<String>,
    headers: HeaderMap,
    body: Result<Bytes, BytesRejection>,
) -> Result<StatusCode, Refusal> {
    let (gateway, fields) = shared.open(&line, &headers, body)?;
    let id = fields.text("id")?.parse::<Uuid>();
    let id = id.map_err(|_| Refusal::field("id", "The field id is none of ours; send the id of the outbound call."))?;
    let receipt = match fields.text("status")? {
        "delivered" => Receipt::Delivered,
        "failed" => Receipt::Failed,
        "expired" => Receipt::Expired,
        _ => return Err(Refusal::field("status", "The field status must be delivered, failed or expired.")),
    };
    match shared.reception.settle(&gateway.name, id, receipt).await {
        Ok(true) => Ok(StatusCode::ACCEPTED),
        Ok(false) => Err(Refusal::not_found("This line sent no message by this id; check the id.")),
        Err(NotStored) => Err(Refusal::unavailable()),
    }
}

impl<R> Shared<R> {
    /// The gateway by this name, once it has proven itself, and what it says.
    fn open(
        &self,
        line: &str,
        headers: &HeaderMap,
        body: Result<Bytes, BytesRejection>,
    ) -> Result<(&Gateway, Fields), Refusal> {
        let no_line = || Refusal::not_found("No line by this name takes calls; check the path.");
        let gateway = self.gateways.get(line).ok_or_else(no_line)?;
        Ok((gateway, proven(&gateway.proof, headers, body)?))
    }
}
