//! Whether the service is up, and whether it can work.

use axum::extract::State;
use axum::http::StatusCode;

use crate::refusal::Refusal;
use crate::store::{Readiness, Store};

/// The process is up.
pub async fn is_up() -> &'static str {
    "up\n"
}

/// The database answers and has all its tables.
pub async fn is_ready(State(store): State<Store>) -> Result<&'static str, Refusal> {
    match store.readiness().await {
        Readiness::Ready => Ok("ready\n"),
        Readiness::Newer => Ok("ready; the database was brought up to date by a newer version, install it here too\n"),
        Readiness::NoRoom => {
            let what = "The database has no room left and stores nothing; give it more disk.";
            Err(Refusal::new(StatusCode::SERVICE_UNAVAILABLE, "no_room", what))
        }
        Readiness::NotReady => {
            let what = "The database does not answer or lacks its tables; see the log.";
            Err(Refusal::new(StatusCode::SERVICE_UNAVAILABLE, "not_ready", what))
        }
    }
}
