//! Signed calls after the open Standard Webhooks scheme: HMAC-SHA256 over `id.timestamp.body`, Base64, with a version.

use axum::http::HeaderMap;
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use chrono::{DateTime, Utc};
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;
use subtle::ConstantTimeEq;

/// How far a call's time may be from ours, seconds: the scheme asks for a tolerance against replays and names none;
/// five minutes is common practice.
const TOLERANCE_S: i64 = 300;

/// As many signatures as a call is looked at for: a key is replaced by one other, not by hundreds.
const SIGNATURES_MOST: usize = 8;

/// A shared key, as the start of a code over it.
pub struct Key(Hmac<Sha256>);

impl Key {
    /// From `whsec_` and Base64. The scheme asks for 24 to 64 bytes.
    pub fn parse(text: &str) -> Option<Self> {
        let bytes = BASE64_STANDARD.decode(text.strip_prefix("whsec_")?).ok()?;
        if !(24..=64).contains(&bytes.len()) {
            return None;
        }
        Hmac::new_from_slice(&bytes).ok().map(Self)
    }

    /// The three headers of a call: id, timestamp, signature.
    pub fn sign(&self, id: &str, now: DateTime<Utc>, body: &[u8]) -> [String; 3] {
        let timestamp = now.timestamp().to_string();
        let signature = BASE64_STANDARD.encode(self.mac(id, &timestamp, body).finalize().into_bytes());
        [id.to_owned(), timestamp, format!("v1,{signature}")]
    }

    /// Whether one of the call's signatures is this key's, and the call is of now.
    pub fn verifies(&self, headers: &HeaderMap, body: &[u8], now: DateTime<Utc>) -> bool {
        let header = |name| headers.get(name).and_then(|value| value.to_str().ok());
        let (Some(id), Some(timestamp), Some(signatures)) =
            (header("webhook-id"), header("webhook-timestamp"), header("webhook-signature"))
        else {
            return false;
        };
        let is_of_now =
            timestamp.parse::<i64>().is_ok_and(|seconds| seconds.abs_diff(now.timestamp()) <= TOLERANCE_S as u64);
        if !is_of_now {
            return false;
        }
        // Several, separated by spaces, while a key is being replaced; the code over the body is worked out once for all.
        let own = BASE64_STANDARD.encode(self.mac(id, timestamp, body).finalize().into_bytes());
        let shown = signatures.split(' ').filter_map(|signature| signature.strip_prefix("v1,"));
        shown.take(SIGNATURES_MOST).any(|signature| bool::from(signature.as_bytes().ct_eq(own.as_bytes())))
    }

    fn mac(&self, id: &str, timestamp: &str, body: &[u8]) -> Hmac<Sha256> {
        let mut mac = self.0.clone();
        for part in [id.as_bytes(), b".", timestamp.as_bytes(), b".", body] {
            mac.update(part);
        }
        mac
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of the Standard Webhooks specification's reference libraries (memory), recomputed with Python's
    /// `hmac`: key, id, timestamp, body and signature.
    const KEY: &str = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
    const ID: &str = "msg_p5jXN8AQM9LWM0D4loKWxJek";
    const AT: i64 = 1_614_265_330;
    const BODY: &[u8] = br#"{"test": 2432232314}"#;
    const SIGNATURE: &str = "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=";

    fn at(seconds: i64) -> DateTime<Utc> {
        DateTime::from_timestamp(seconds, 0).unwrap()
    }

    fn headers(signature: &str) -> HeaderMap {
        let mut headers = HeaderMap::new();
        headers.insert("webhook-id", ID.parse().unwrap());
        headers.insert("webhook-timestamp", AT.to_string().parse().unwrap());
        headers.insert("webhook-signature", signature.parse().unwrap());
        headers
    }

    #[test]
    fn the_published_example_is_signed_and_verified() {
        let key = Key::parse(KEY).unwrap();
        assert_eq!(key.sign(ID, at(AT), BODY), [ID.to_owned(), AT.to_string(), SIGNATURE.to_owned()]);
        assert!(key.verifies(&headers(SIGNATURE), BODY, at(AT + 10)));
        assert!(key.verifies(&headers(&format!("v1,AAAA v2,x {SIGNATURE}")), BODY, at(AT)));
    }

    #[test]
    fn what_differs_is_refused() {
        let key = Key::parse(KEY).unwrap();
        assert!(!key.verifies(&headers(SIGNATURE), b"{}", at(AT)), "another body");
        assert!(!key.verifies(&headers(SIGNATURE), BODY, at(AT + 301)), "too old");
        assert!(!key.verifies(&headers(SIGNATURE), BODY, at(AT - 301)), "from the future");
        assert!(!key.verifies(&headers("v1,"), BODY, at(AT)), "no signature");
        assert!(!key.verifies(&headers("v1a,g0hM"), BODY, at(AT)), "another scheme");
        assert!(!key.verifies(&HeaderMap::new(), BODY, at(AT)), "no headers");
    }

    #[test]
    fn at_most_eight_signatures_are_looked_at() {
        let key = Key::parse(KEY).unwrap();
        let after = |others: usize| headers(&format!("{}{SIGNATURE}", "v1,AAAA ".repeat(others)));
        assert!(key.verifies(&after(7), BODY, at(AT)));
        assert!(!key.verifies(&after(8), BODY, at(AT)));
    }

    #[test]
    fn a_key_must_be_long_enough() {
        for bad in ["", "whsec_", "whsec_AAAA", "MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", "whsec_not base64 at all........"] {
            assert!(Key::parse(bad).is_none(), "{bad}");
        }
    }
}
