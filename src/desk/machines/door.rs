//! What lets a machine in: a key as a bearer token, or a member of staff who is signed in.

use axum::http::{HeaderMap, StatusCode, header};

use crate::desk::staff::door::member_of;
use crate::desk::staff::password::key_hash;
use crate::desk::state::Desk;
use crate::refusal::Refusal;

/// What is asked of the one who comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asks {
    Answers,
    /// Numbers and texts of growers.
    Records,
}

pub async fn let_in(desk: &Desk, headers: &HeaderMap, asks: Asks) -> Result<(), Refusal> {
    let shown = headers.get(header::AUTHORIZATION).and_then(|value| value.to_str().ok()?.split_once(' '));
    let bearer = shown.filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer")).map(|(_, key)| key);
    let Some(key) = bearer else {
        let member = member_of(desk, headers).await.map_err(|_| Refusal::unavailable())?;
        return member.map(drop).ok_or_else(nobody);
    };
    let reads = desk.store.key_reads_records(&key_hash(key.trim())).await.map_err(|_| Refusal::unavailable())?;
    match reads {
        None => Err(nobody()),
        Some(false) if asks == Asks::Records => {
            let what = "This key gives answers only; make one with `noonwater key add NAME --reads-records`.";
            Err(Refusal::new(StatusCode::FORBIDDEN, "not_allowed", what))
        }
        Some(_) => Ok(()),
    }
}

fn nobody() -> Refusal {
    let what = "Send a key as a bearer token (made by `noonwater key add NAME`), or sign in at the desk.";
    Refusal::new(StatusCode::UNAUTHORIZED, "not_signed_in", what)
}
