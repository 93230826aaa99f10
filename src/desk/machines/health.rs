//! Whether the service is up, and whether it can work.

use axum::extract::State;
use axum::http::StatusCode;

use crate::refusal::Refusal;
use crate::store::Store;

/// The process is up.
pub async fn is_up() -> &'static str {
    "up\n"
}

/// The database answers and has all its tables.
pub async fn is_ready(State(store): State<Store>) -> Result<&'static str, Refusal> {
    if store.is_ready().await {
        return Ok("ready\n");
    }
    let what = "The database does not answer or lacks its tables; see the log.";
    Err(Refusal::new(StatusCode::SERVICE_UNAVAILABLE, "not_ready", what))
}
