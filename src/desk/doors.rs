//! Who may come in by the doors that are there for trying and for watching: the handset page and the figures.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use chrono::Utc;

use super::staff::door::member_of;
use super::staff::password::key_hash;
use super::state::Desk;
use crate::config::Door;
use crate::refusal::Refusal;
use crate::store::StoreError;

/// Who asks, as the audit names them: a key for machines, or a session of staff; none where it is neither.
pub async fn known(desk: &Desk, headers: &HeaderMap) -> Result<Option<String>, StoreError> {
    let shown = headers.get(header::AUTHORIZATION).and_then(|value| value.to_str().ok()?.split_once(' '));
    let bearer = shown.filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer")).map(|(_, key)| key);
    match bearer {
        Some(key) => {
            let name = desk.store.key_used(&key_hash(key.trim()), Utc::now()).await?;
            Ok(name.map(|name| format!("key {name}")))
        }
        None => Ok(member_of(desk, headers).await?.filter(|member| !member.must_change).map(|member| member.name)),
    }
}

/// Lets a request pass, or says why not.
pub async fn guard(State(desk): State<Arc<Desk>>, request: Request, next: Next) -> Response {
    let path = request.uri().path();
    let door = if path == "/metrics" {
        desk.config.metrics_door()
    } else if path == "/handset" || path.starts_with("/handset/") {
        desk.config.handset_door()
    } else {
        Door::Open
    };
    let refusal = match door {
        Door::Open => return next.run(request).await,
        Door::Closed => Refusal::not_found("This door is closed here; the configuration opens it."),
        Door::Staff => match known(&desk, request.headers()).await {
            Ok(Some(_)) => return next.run(request).await,
            Ok(None) => {
                let what = "Sign in at the desk, or send a key as a bearer token (made by `noonwater key add NAME`).";
                Refusal::new(StatusCode::UNAUTHORIZED, "not_signed_in", what)
            }
            Err(_) => Refusal::unavailable(),
        },
    };
    refusal.into_response()
}
