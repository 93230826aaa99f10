//! A gateway that calls us with what came in, and that we call with what goes out.

mod inbound;
mod outbound;

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::post;
use reqwest::Url;

use super::Reception;
use super::call::BODY_MAX;
use super::limit::Limiter;
use super::proof::Proof;
use crate::config::{ConfigError, FieldNames, LineConfig};
pub use outbound::client;

/// One configured gateway.
pub struct Gateway {
    name: String,
    number: String,
    fields: FieldNames,
    proof: Proof,
    outbound_url: Url,
    client: reqwest::Client,
}

impl Gateway {
    pub fn new(name: &str, line: &LineConfig) -> Result<Self, ConfigError> {
        let wrong = |key: &str, what: &str| ConfigError::key(format_args!("lines.{name}.{key}"), what);
        let proof = Proof::of(name, line)?;
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
