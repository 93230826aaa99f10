//! A gateway that calls us with what came in, and that we call with what goes out.

mod decode;
mod inbound;
mod outbound;
mod signature;

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::HeaderMap;
use axum::routing::post;
use chrono::{DateTime, Utc};
use reqwest::Url;
use secrecy::{ExposeSecret, SecretString};
use subtle::ConstantTimeEq;

use super::Reception;
use super::limit::Limiter;
use crate::config::{ConfigError, FieldNames, LineConfig};
pub use outbound::client;
use signature::Key;

/// The largest body that a gateway may send, octets.
const BODY_MAX: usize = 16 * 1024;

/// One configured gateway.
pub struct Gateway {
    name: String,
    number: String,
    fields: FieldNames,
    proof: Proof,
    outbound_url: Url,
    client: reqwest::Client,
}

/// How each side knows the other.
enum Proof {
    Bearer(SecretString),
    Signature(Key),
}

impl Gateway {
    pub fn new(name: &str, line: &LineConfig) -> Result<Self, ConfigError> {
        let wrong = |key: &str, what: &str| ConfigError::key(format_args!("lines.{name}.{key}"), what);
        let proof = match (&line.secret, &line.signing_key) {
            (Some(secret), _) => Proof::Bearer(secret.clone()),
            (None, Some(key)) => Proof::Signature(
                Key::parse(key.expose_secret())
                    .ok_or_else(|| wrong("signing_key", "write whsec_ and the Base64 of 24 to 64 random bytes"))?,
            ),
            (None, None) => return Err(wrong("secret", "missing, give this or `signing_key`")),
        };
        let outbound_url = line.outbound_url.as_deref().and_then(|url| Url::parse(url).ok());
        let outbound_url = outbound_url.ok_or_else(|| wrong("outbound_url", "write a URL"))?;
        let client = client(outbound_url.scheme() == "https").build().map_err(|_| {
            wrong("outbound_url", "https needs certificates to trust, install the system's package ca-certificates")
        })?;
        Ok(Self {
            name: name.to_owned(),
            number: line.number.clone(),
            fields: line.fields.clone(),
            proof,
            outbound_url,
            client,
        })
    }

    pub fn number(&self) -> &str {
        &self.number
    }

    /// Whether a call comes from our gateway. Secrets are compared in constant time.
    fn is_proven(&self, headers: &HeaderMap, body: &[u8], now: DateTime<Utc>) -> bool {
        match &self.proof {
            Proof::Bearer(secret) => {
                let given = headers.get("authorization").map(|value| value.as_bytes()).unwrap_or_default();
                let is_bearer = given.get(..7).is_some_and(|scheme| scheme.eq_ignore_ascii_case(b"bearer "));
                is_bearer && bool::from(given[7..].ct_eq(secret.expose_secret().as_bytes()))
            }
            Proof::Signature(key) => key.verifies(headers, body, now),
        }
    }
}

/// What the handlers share.
struct Shared<R> {
    gateways: Arc<BTreeMap<String, Arc<Gateway>>>,
    limiter: Arc<Limiter>,
    reception: Arc<R>,
}

pub(super) fn routes<R: Reception>(
    gateways: Arc<BTreeMap<String, Arc<Gateway>>>,
    limiter: Arc<Limiter>,
    reception: Arc<R>,
) -> Router {
    Router::new()
        .route("/lines/{line}/inbound", post(inbound::message::<R>))
        .route("/lines/{line}/receipt", post(inbound::receipt::<R>))
        .layer(DefaultBodyLimit::max(BODY_MAX))
        .with_state(Arc::new(Shared { gateways, limiter, reception }))
}
