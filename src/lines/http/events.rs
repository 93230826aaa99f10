//! Tells an organisation's own program what happens in talks: calls signed after Standard Webhooks, without a number or a text.

use chrono::Utc;
use reqwest::{Client, Url};
use secrecy::ExposeSecret;
use uuid::Uuid;

use super::outbound::client;
use crate::config::{ConfigError, EventsConfig};
use crate::lines::signature::Key;

/// Where events go.
pub struct Events {
    url: Url,
    key: Key,
    client: Client,
}

impl Events {
    pub fn new(config: &EventsConfig) -> Result<Self, ConfigError> {
        let wrong = |key: &str, what: &str| ConfigError::key(format_args!("events.{key}"), what);
        let url = Url::parse(&config.url).ok().filter(|url| matches!(url.scheme(), "http" | "https") && url.has_host());
        let url = url.ok_or_else(|| wrong("url", "write a URL that starts with http:// or https://"))?;
        let key = Key::parse(config.signing_key.expose_secret());
        let key = key.ok_or_else(|| wrong("signing_key", "write whsec_ and 24 to 64 bytes in Base64"))?;
        let client = client(url.scheme() == "https")
            .build()
            .map_err(|_| wrong("url", "https needs certificates to trust, install the system's package ca-certificates"))?;
        Ok(Self { url, key, client })
    }

    /// Whether the event was taken; the same `id` again is the same event.
    pub async fn tell(&self, id: Uuid, body: &str) -> bool {
        let [id, timestamp, signature] = self.key.sign(&id.to_string(), Utc::now(), body.as_bytes());
        let call = self.client.post(self.url.clone()).header("content-type", "application/json");
        let call =
            call.header("webhook-id", id).header("webhook-timestamp", timestamp).header("webhook-signature", signature);
        call.body(body.to_owned()).send().await.is_ok_and(|answer| answer.status().is_success())
    }
}
