//! A gateway's call, once it has proven itself.

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::http::{HeaderMap, StatusCode};
use chrono::Utc;

use super::decode::Fields;
use super::proof::Proof;
use crate::refusal::Refusal;

/// The largest body that a gateway may send, octets.
pub const BODY_MAX: usize = 16 * 1024;

/// What a call says, if it comes from our gateway.
pub fn proven(proof: &Proof, headers: &HeaderMap, body: Result<Bytes, BytesRejection>) -> Result<Fields, Refusal> {
    let body = body.map_err(|rejection| match rejection.status() {
        StatusCode::PAYLOAD_TOO_LARGE => {
            let what = format!("The body is over {BODY_MAX} octets; send one message at a time.");
            Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, "too_large", what)
        }
        status => Refusal::new(status, "unreadable", "The body could not be read; send it again."),
    })?;
    if !proof.holds(headers, &body, Utc::now()) {
        return Err(Refusal::new(
            StatusCode::UNAUTHORIZED,
            "unauthorized",
            "The secret or the signature is missing or wrong; check the line's configuration.",
        ));
    }
    Fields::decode(headers, &body)
}
