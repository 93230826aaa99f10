//! How a gateway and this service know each other.

use axum::http::HeaderMap;
use chrono::{DateTime, Utc};
use secrecy::{ExposeSecret, SecretString};
use subtle::ConstantTimeEq;

use super::signature::Key;
use crate::config::{ConfigError, LineConfig};

/// What each side shows the other.
pub enum Proof {
    Bearer(SecretString),
    Signature(Key),
}

impl Proof {
    /// The one that a line is configured with.
    pub fn of(name: &str, line: &LineConfig) -> Result<Self, ConfigError> {
        let wrong = |key: &str, what: &str| ConfigError::key(format_args!("lines.{name}.{key}"), what);
        match (&line.secret, &line.signing_key) {
            (Some(secret), _) => Ok(Proof::Bearer(secret.clone())),
            (None, Some(key)) => Key::parse(key.expose_secret())
                .map(Proof::Signature)
                .ok_or_else(|| wrong("signing_key", "write whsec_ and the Base64 of 24 to 64 random bytes")),
            (None, None) => Err(wrong("secret", "missing, give this or `signing_key`")),
        }
    }

    /// Whether a call comes from our gateway. Secrets are compared in constant time.
    pub fn holds(&self, headers: &HeaderMap, body: &[u8], now: DateTime<Utc>) -> bool {
        match self {
            Proof::Bearer(secret) => {
                let given = headers.get("authorization").map(|value| value.as_bytes()).unwrap_or_default();
                let is_bearer = given.get(..7).is_some_and(|scheme| scheme.eq_ignore_ascii_case(b"bearer "));
                is_bearer && bool::from(given[7..].ct_eq(secret.expose_secret().as_bytes()))
            }
            Proof::Signature(key) => key.verifies(headers, body, now),
        }
    }
}
