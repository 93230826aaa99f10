//! A gateway that calls us with what came in, and that we call with what goes out.

pub mod events;
mod inbound;
mod outbound;

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::Router;
use axum::routing::post;
use reqwest::Url;

use super::Reception;
use super::call::{self, Called};
use super::limit::Limiter;
use super::proof::Proof;
use crate::config::{ConfigError, FieldNames, LineConfig};
pub use outbound::{client, client_by};

/// One configured gateway.
pub struct Gateway {
    name: String,
    number: String,
    fields: FieldNames,
    proof: Proof,
    outbound_url: Url,
    client: reqwest::Client,
    a_second: Option<u32>,
}

impl Gateway {
    pub fn new(name: &str, line: &LineConfig) -> Result<Self, ConfigError> {
        let wrong = |key: &str, what: &str| ConfigError::key(format_args!("lines.{name}.{key}"), what);
        let proof = Proof::of(name, line)?;
        let outbound_url = line.outbound_url.as_deref().and_then(|url| Url::parse(url).ok());
        let outbound_url = outbound_url.ok_or_else(|| wrong("outbound_url", "write a URL"))?;
        let client = client_by(outbound_url.scheme() == "https", line.proxy.as_deref()).map_err(|_| {
            wrong("outbound_url", "https needs certificates to trust, install the system's package ca-certificates")
        })?;
        Ok(Self {
            name: name.to_owned(),
            number: line.number.clone(),
            fields: line.fields.clone(),
            proof,
            outbound_url,
            client,
            a_second: line.messages_a_second,
        })
    }

    pub fn number(&self) -> &str {
        &self.number
    }

    pub fn a_second(&self) -> Option<u32> {
        self.a_second
    }
}

impl Called for Gateway {
    fn proof(&self) -> &Proof {
        &self.proof
    }
}

pub(super) fn routes<R: Reception>(
    gateways: BTreeMap<String, Arc<Gateway>>,
    limiter: Arc<Limiter>,
    reception: Arc<R>,
) -> Router {
    let paths =
        [("/lines/{line}/inbound", post(inbound::message::<R>)), ("/lines/{line}/receipt", post(inbound::receipt::<R>))];
    call::routes(paths, gateways, limiter, reception)
}
