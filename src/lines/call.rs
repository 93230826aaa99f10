//! A gateway's call: which line it is for, whether it proves itself, what it says.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, FromRequest, Path, Request};
use axum::http::{Method, StatusCode};
use axum::routing::MethodRouter;
use axum::{RequestPartsExt, Router};
use chrono::Utc;

use super::Reception;
use super::decode::Fields;
use super::limit::Limiter;
use super::proof::Proof;
use crate::refusal::Refusal;

/// The largest body that a gateway may send, octets.
const BODY_MAX: usize = 16 * 1024;

/// A line that gateways call.
pub trait Called: Send + Sync + 'static {
    fn proof(&self) -> &Proof;

    /// Whether the fields stand in the query instead of the body.
    fn is_by_query(&self) -> bool {
        false
    }
}

/// What the handlers of one kind of line share.
pub struct Shared<L, R> {
    lines: BTreeMap<String, Arc<L>>,
    pub limiter: Arc<Limiter>,
    pub reception: Arc<R>,
}

/// What one path does with a call.
type Handler<L, R> = MethodRouter<Arc<Shared<L, R>>>;

/// Paths that gateways call.
pub fn routes<L: Called, R: Reception, const N: usize>(
    paths: [(&str, Handler<L, R>); N],
    lines: BTreeMap<String, Arc<L>>,
    limiter: Arc<Limiter>,
    reception: Arc<R>,
) -> Router {
    let router = paths.into_iter().fold(Router::new(), |router, (path, method)| router.route(path, method));
    router.layer(DefaultBodyLimit::max(BODY_MAX)).with_state(Arc::new(Shared { lines, limiter, reception }))
}

/// A call that has proven itself: its line, and what it says.
pub struct Call<L> {
    pub line: Arc<L>,
    pub fields: Fields,
    /// The call's own name, the same when it is made again: the field `id`, or the header of a signed call.
    pub id: Option<String>,
}

impl<L: Called, R: Reception> FromRequest<Arc<Shared<L, R>>> for Call<L> {
    type Rejection = Refusal;

    async fn from_request(request: Request, shared: &Arc<Shared<L, R>>) -> Result<Self, Refusal> {
        let (mut parts, body) = request.into_parts();
        let name = parts.extract::<Path<String>>().await.map(|Path(name)| name).unwrap_or_default();
        let headers = parts.headers.clone();
        let query = parts.uri.query().unwrap_or_default().to_owned();
        let is_by_query = parts.method == Method::GET;
        let body = Bytes::from_request(Request::from_parts(parts, body), shared).await;
        let body = body.map_err(|rejection| match rejection.status() {
            StatusCode::PAYLOAD_TOO_LARGE => {
                let what = format!("The body is over {BODY_MAX} octets; send one message at a time.");
                Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, "too_large", what)
            }
            status => Refusal::new(status, "unreadable", "The body could not be read; send it again."),
        })?;
        // A line that there is not is told like one whose secret is wrong: its name is nobody's to find out by trying.
        let line = shared.lines.get(&name);
        let line = line.filter(|line| line.proof().holds(&headers, &query, &body, Utc::now())).cloned();
        let Some(line) = line else {
            return Err(Refusal::new(
                StatusCode::UNAUTHORIZED,
                "unauthorized",
                "The secret or the signature is missing or wrong, or no such line takes such calls; check the configuration.",
            ));
        };
        if is_by_query != line.is_by_query() {
            let what = "This line takes calls by the other method; check the key `call.method` of its configuration.";
            return Err(Refusal::new(StatusCode::METHOD_NOT_ALLOWED, "wrong_method", what));
        }
        let fields = if is_by_query { Fields::of_query(&query) } else { Fields::decode(&headers, &body)? };
        let header = || headers.get("webhook-id").and_then(|id| id.to_str().ok()).map(str::to_owned);
        let id = fields.id("id").ok().or_else(header);
        Ok(Self { line, fields, id })
    }
}
