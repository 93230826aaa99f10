//! What staff and their machines ask the service.

mod health;

use axum::Router;
use axum::routing::get;

use crate::store::Store;

pub fn routes(store: Store) -> Router {
    Router::new().route("/healthz", get(health::is_up)).route("/readyz", get(health::is_ready)).with_state(store)
}
