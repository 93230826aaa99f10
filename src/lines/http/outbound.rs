//! What we call a gateway with.

use std::sync::Once;
use std::time::Duration;

use axum::http::header::RETRY_AFTER;
use axum::http::{HeaderMap, StatusCode};
use chrono::{DateTime, FixedOffset, Utc};
use reqwest::redirect::Policy;
use secrecy::ExposeSecret;
use serde_json::json;

use super::{Gateway, Proof};
use crate::lines::{NotTaken, Outgoing};
use crate::sending::{LONGEST_SLOW_DOWN, SLOW_DOWN, is_refusal};

/// A gateway that takes longer is tried again.
const TIMEOUT: Duration = Duration::from_secs(10);

/// A client that follows no redirect: only a 2xx of the configured address means that a message was taken. Without
/// encryption it does not ask for the system's certificates, which a bare machine lacks. What the environment says of proxies
/// is not heard.
pub fn client(is_encrypted: bool) -> reqwest::ClientBuilder {
    proxied_client(is_encrypted).no_proxy()
}

fn proxied_client(is_encrypted: bool) -> reqwest::ClientBuilder {
    static PROVIDER: Once = Once::new();
    PROVIDER.call_once(|| {
        // An error means that one is installed, which is all we want.
        let _ = rustls::crypto::ring::default_provider().install_default();
    });
    let client = reqwest::Client::builder().timeout(TIMEOUT).redirect(Policy::none());
    if is_encrypted { client } else { client.tls_certs_only([]) }
}

/// A client that goes by a proxy, where the configuration names one.
pub fn client_by(is_encrypted: bool, proxy: Option<&str>) -> reqwest::Result<reqwest::Client> {
    let Some(proxy) = proxy else { return client(is_encrypted).build() };
    let client = proxied_client(is_encrypted);
    if proxy == "environment" { client.build() } else { client.proxy(reqwest::Proxy::all(proxy)?).build() }
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
            Proof::Shared(secret, _) => call.bearer_auth(secret.expose_secret()),
            Proof::Signature(key) => {
                let [id, timestamp, signature] = key.sign(&message.id.to_string(), Utc::now(), body.as_bytes());
                call.header("webhook-id", id).header("webhook-timestamp", timestamp).header("webhook-signature", signature)
            }
        };
        // The error's own words hold the URL, and a gateway's URL may hold a key.
        let answer = call.body(body).send().await.map_err(|_| NotTaken::NoAnswer)?;
        match answer.status() {
            status if status.is_success() => Ok(()),
            StatusCode::TOO_MANY_REQUESTS => Err(NotTaken::SlowDown(retry_after(answer.headers(), Utc::now()))),
            status if is_refusal(status.as_u16()) => Err(NotTaken::Refused(status.as_u16())),
            status => Err(NotTaken::Status(status.as_u16())),
        }
    }
}

/// The pause that `Retry-After` asks for: seconds, or a date in one of HTTP's forms (RFC 9110, 10.2.3).
fn retry_after(headers: &HeaderMap, now: DateTime<Utc>) -> Duration {
    let text = headers.get(RETRY_AFTER).and_then(|value| value.to_str().ok()).map(str::trim).unwrap_or_default();
    let until = |date: DateTime<FixedOffset>| (date.to_utc() - now).to_std().unwrap_or_default();
    let asked = match text.parse() {
        Ok(seconds) => Some(Duration::from_secs(seconds)),
        Err(_) => DateTime::parse_from_rfc2822(text).ok().map(until),
    };
    asked.unwrap_or(SLOW_DOWN).min(LONGEST_SLOW_DOWN)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn retry_after_is_read_as_seconds_or_as_a_date_and_bounded() {
        let now = DateTime::parse_from_rfc3339("2026-11-26T08:00:00Z").unwrap().to_utc();
        let asked = |text: &str| {
            let mut headers = HeaderMap::new();
            headers.insert(RETRY_AFTER, text.parse().unwrap());
            retry_after(&headers, now).as_secs()
        };
        assert_eq!(asked("7"), 7);
        // The preferred form of RFC 9110, 5.6.7.
        assert_eq!(asked("Thu, 26 Nov 2026 08:00:30 GMT"), 30);
        assert_eq!(asked("Thu, 26 Nov 2026 07:00:00 GMT"), 0, "it has passed");
        assert_eq!(asked("99999999"), LONGEST_SLOW_DOWN.as_secs());
        for text in ["", "soon", "-3"] {
            assert_eq!(asked(text), SLOW_DOWN.as_secs(), "{text}");
        }
        assert_eq!(retry_after(&HeaderMap::new(), now), SLOW_DOWN);
    }
}
