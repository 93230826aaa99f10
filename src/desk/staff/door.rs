//! Who asks: the member of staff whose session a request carries.

use std::sync::Arc;

use axum::extract::{FromRequestParts, OptionalFromRequestParts};
use axum::http::HeaderMap;
use axum::http::header::COOKIE;
use axum::http::request::Parts;
use chrono::Utc;

use super::password::key_hash;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::{Member, PASSWORD_PATH, Role};
use crate::desk::state::Desk;
use crate::store::StoreError;

/// The cookie that holds a session's key.
pub const COOKIE_NAME: &str = "noonwater_desk";

/// The session's key that a request carries.
pub fn session_key(headers: &HeaderMap) -> Option<&str> {
    let cookies = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = cookies.flat_map(|value| value.split(';')).filter_map(|pair| pair.trim().split_once('='));
    pairs.find(|(name, _)| *name == COOKIE_NAME).map(|(_, key)| key)
}

/// Whose session a request belongs to.
pub async fn member_of(desk: &Desk, headers: &HeaderMap) -> Result<Option<Member>, StoreError> {
    let Some(key) = session_key(headers) else { return Ok(None) };
    let row = desk.store.session(&key_hash(key), Utc::now()).await?;
    let Some((row, role)) = row.and_then(|row| Role::named(&row.role).map(|role| (row, role))) else { return Ok(None) };
    let undelivered = desk.store.undelivered_count().await?;
    let waits = desk.store.waiting_count().await?;
    let (waiting, danger, must_change) = (waits.talks, waits.danger, row.must_change);
    Ok(Some(Member { id: row.id, name: row.name, role, must_change, waiting, danger, undelivered }))
}

impl FromRequestParts<Arc<Desk>> for Member {
    type Rejection = Fault;

    async fn from_request_parts(parts: &mut Parts, desk: &Arc<Desk>) -> Result<Self, Fault> {
        let member = member_of(desk, &parts.headers).await?;
        let member = member.ok_or_else(|| Fault::SignIn(parts.uri.path_and_query().map(ToString::to_string)))?;
        if member.must_change && parts.uri.path() != PASSWORD_PATH {
            return Err(Fault::MustChange);
        }
        Ok(member)
    }
}

impl OptionalFromRequestParts<Arc<Desk>> for Member {
    type Rejection = Fault;

    async fn from_request_parts(parts: &mut Parts, desk: &Arc<Desk>) -> Result<Option<Self>, Fault> {
        Ok(member_of(desk, &parts.headers).await?)
    }
}
