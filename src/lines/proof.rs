//! How a gateway and this service know each other.

use axum::http::HeaderMap;
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use chrono::{DateTime, Utc};
use secrecy::{ExposeSecret, SecretString};
use subtle::ConstantTimeEq;

use super::signature::Key;
use crate::config::{ConfigError, LineConfig, SecretIn};

/// What each side shows the other.
pub enum Proof {
    Shared(SecretString, SecretIn),
    Signature(Key),
}

impl Proof {
    /// The one that a line is configured with.
    pub fn of(name: &str, line: &LineConfig) -> Result<Self, ConfigError> {
        let wrong = |key: &str, what: &str| ConfigError::key(format_args!("lines.{name}.{key}"), what);
        match (&line.secret, &line.signing_key) {
            (Some(secret), _) => {
                let place = line
                    .call
                    .secret_in()
                    .ok_or_else(|| wrong("call.secret_in", "write bearer, basic, header NAME or query NAME"))?;
                Ok(Proof::Shared(secret.clone(), place))
            }
            (None, Some(key)) => Key::parse(key.expose_secret())
                .map(Proof::Signature)
                .ok_or_else(|| wrong("signing_key", "write whsec_ and the Base64 of 24 to 64 random bytes")),
            (None, None) => Err(wrong("secret", "missing, give this or `signing_key`")),
        }
    }

    /// Whether a call comes from our gateway. Secrets are compared in constant time.
    pub fn holds(&self, headers: &HeaderMap, query: &str, body: &[u8], now: DateTime<Utc>) -> bool {
        let (secret, place) = match self {
            Proof::Signature(key) => return key.verifies(headers, body, now),
            Proof::Shared(secret, place) => (secret.expose_secret().as_bytes(), place),
        };
        let header = |name: &str| headers.get(name).map(|value| value.as_bytes().to_vec());
        let after = |scheme: &str| {
            let given = header("authorization")?;
            let is_ours = given.get(..scheme.len()).is_some_and(|said| said.eq_ignore_ascii_case(scheme.as_bytes()));
            is_ours.then(|| given[scheme.len()..].to_vec())
        };
        let given = match place {
            SecretIn::Bearer => after("bearer "),
            SecretIn::Basic => after("basic ").and_then(|coded| {
                let pair = BASE64_STANDARD.decode(coded.trim_ascii()).ok()?;
                let colon = pair.iter().position(|byte| *byte == b':')?;
                Some(pair[colon + 1..].to_vec())
            }),
            SecretIn::Header(name) => header(name),
            SecretIn::Query(name) => {
                let mut pairs = form_urlencoded::parse(query.as_bytes());
                pairs.find(|(key, _)| key == name).map(|(_, value)| value.into_owned().into_bytes())
            }
        };
        given.is_some_and(|given| bool::from(given.ct_eq(secret)))
    }
}
