//! Where a request comes from, for who answers it.

use std::convert::Infallible;
use std::sync::Arc;

use axum::extract::FromRequestParts;
use axum::http::request::Parts;

use super::origin::{Origin, Peer};
use crate::desk::state::Desk;

impl FromRequestParts<Arc<Desk>> for Origin {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, desk: &Arc<Desk>) -> Result<Self, Infallible> {
        let peer = parts.extensions.get::<Peer>().copied();
        Ok(Self::of_request(peer, &parts.headers, &desk.config.trusted_proxies))
    }
}
