//! What we call a gateway with.

use std::sync::Once;
use std::time::Duration;

use chrono::Utc;
use reqwest::redirect::Policy;
use secrecy::ExposeSecret;
use serde_json::json;

use super::{Gateway, Proof};
use crate::lines::{NotTaken, Outgoing};

/// A gateway that takes longer is tried again.
const TIMEOUT: Duration = Duration::from_secs(10);

/// A client that follows no redirect: only a 2xx of the configured address means that a message was taken. Without
/// encryption it does not ask for the system's certificates, which a bare machine lacks.
pub fn client(is_encrypted: bool) -> reqwest::ClientBuilder {
    static PROVIDER: Once = Once::new();
    PROVIDER.call_once(|| {
        // An error means that one is installed, which is all we want.
        let _ = rustls::crypto::ring::default_provider().install_default();
    });
    let client = reqwest::Client::builder().timeout(TIMEOUT).redirect(Policy::none());
    if is_encrypted { client } else { client.tls_certs_only([]) }
}

impl Gateway {
    pub(in crate::lines) async fn send(&self, message: &Outgoing) -> Result<(), NotTaken> {
        let body = json!({
            "id": message.id,
            "to": message.to,
            "from": message.from,
            "text": message.text,
            "encoding": message.encoding,
            "parts": message.parts,
        })
        .to_string();
        let call = self.client.post(self.outbound_url.clone()).header("content-type", "application/json");
        let call = match &self.proof {
            Proof::Bearer(secret) => call.bearer_auth(secret.expose_secret()),
            Proof::Signature(key) => {
                let [id, timestamp, signature] = key.sign(&message.id.to_string(), Utc::now(), body.as_bytes());
                call.header("webhook-id", id).header("webhook-timestamp", timestamp).header("webhook-signature", signature)
            }
        };
        // The error's own words hold the URL, and a gateway's URL may hold a key.
        let answer = call.body(body).send().await.map_err(|_| NotTaken::NoAnswer)?;
        if answer.status().is_success() { Ok(()) } else { Err(NotTaken::Status(answer.status().as_u16())) }
    }
}
