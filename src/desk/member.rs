//! Who asks: a member of staff who is signed in, and what the role allows.

use std::sync::Arc;

use axum::extract::{FromRequestParts, OptionalFromRequestParts};
use axum::http::HeaderMap;
use axum::http::header::COOKIE;
use axum::http::request::Parts;
use chrono::Utc;
use uuid::Uuid;

use super::Desk;
use super::fault::Fault;
use super::password::key_hash;
use crate::store::StoreError;

/// The cookie that holds a session's key.
pub const COOKIE_NAME: &str = "noonwater_desk";

/// What an account may do; each role may what the ones before it may.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Sees everything, changes nothing.
    Reads,
    /// Answers growers.
    Answers,
    /// Runs the place: accounts, places, keys.
    Runs,
}

impl Role {
    pub const ALL: [Role; 3] = [Role::Reads, Role::Answers, Role::Runs];

    pub fn name(self) -> &'static str {
        match self {
            Role::Reads => "reads",
            Role::Answers => "answers",
            Role::Runs => "runs",
        }
    }

    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.name() == name)
    }
}

/// A member of staff who is signed in.
#[derive(Debug, Clone)]
pub struct Member {
    pub id: Uuid,
    pub name: String,
    pub role: Role,
    /// Messages that no gateway took and nobody has dealt with: the menu of every page says so.
    pub undelivered: i64,
}

impl Member {
    /// Refuses what the role does not allow.
    pub fn must(&self, role: Role) -> Result<(), Fault> {
        if self.role >= role { Ok(()) } else { Err(Fault::NotAllowed(Box::new(self.clone()), role)) }
    }
}

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
    Ok(Some(Member { id: row.id, name: row.name, role, undelivered }))
}

impl FromRequestParts<Arc<Desk>> for Member {
    type Rejection = Fault;

    async fn from_request_parts(parts: &mut Parts, desk: &Arc<Desk>) -> Result<Self, Fault> {
        let member = member_of(desk, &parts.headers).await?;
        member.ok_or_else(|| Fault::SignIn(parts.uri.path_and_query().map(ToString::to_string)))
    }
}

impl OptionalFromRequestParts<Arc<Desk>> for Member {
    type Rejection = Fault;

    async fn from_request_parts(parts: &mut Parts, desk: &Arc<Desk>) -> Result<Option<Self>, Fault> {
        Ok(member_of(desk, &parts.headers).await?)
    }
}
