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

/// What is asked of the one who comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asks {
    Answers,
    /// Numbers and texts of growers.
    Records,
}

/// Lets in a key for machines that is made for what is asked, or a session of staff; gives who it is, as the audit names them.
pub async fn let_in(desk: &Desk, headers: &HeaderMap, asks: Asks) -> Result<String, Refusal> {
    let shown = headers.get(header::AUTHORIZATION).and_then(|value| value.to_str().ok()?.split_once(' '));
    let bearer = shown.filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer")).map(|(_, key)| key);
    let Some(key) = bearer else {
        let member = member_of(desk, headers).await.map_err(|_| Refusal::unavailable())?;
        return member.filter(|member| !member.must_change).map(|member| member.name).ok_or_else(nobody);
    };
    match desk.store.key_used(&key_hash(key.trim()), Utc::now()).await.map_err(|_| Refusal::unavailable())? {
        None => Err(nobody()),
        Some((_, false)) if asks == Asks::Records => {
            let what = "This key gives answers only; make one with `noonwater key add NAME --reads-records`.";
            Err(Refusal::new(StatusCode::FORBIDDEN, "not_allowed", what))
        }
        Some((name, _)) => Ok(format!("key {name}")),
    }
}

fn nobody() -> Refusal {
    let what = "Send a key as a bearer token (made by `noonwater key add NAME`), or sign in at the desk.";
    Refusal::new(StatusCode::UNAUTHORIZED, "not_signed_in", what)
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
        Door::Staff => match let_in(&desk, request.headers(), Asks::Answers).await {
            Ok(_) => return next.run(request).await,
            Err(refusal) => refusal,
        },
    };
    refusal.into_response()
}
