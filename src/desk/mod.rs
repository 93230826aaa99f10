//! Where staff see, answer and count, and what their machines ask the service. Rooms by who opens them:
//!
//! - [`frame`]: what stands around every page, why one could not be shown, who looks, a field, a chart.
//! - [`staff`]: in and out, accounts and their file, passwords and keys, who did what.
//! - `talks`: those that wait, one of them with its sheet and its ready replies, what no gateway took, a phone to try.
//! - `set`: one set with its advice and charts. `bulk`: many messages at once. `numbers`: counts.
//! - `market`: places with their climate, prices, pumps.
//! - [`doors`]: who may come in by the handset page and the figures.
//! - `machines`: answers, the surface's description, metrics, health.
//!
//! `state` is what all of them share, `running` keeps it at work. Everything works without scripts.

mod bulk;
pub mod doors;
pub mod frame;
mod machines;
mod market;
mod numbers;
mod running;
mod set;
pub mod staff;
mod state;
mod talks;

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::{from_fn, from_fn_with_state, map_response};
use axum::response::Redirect;
use axum::routing::{any, get, post};
use tower_http::compression::CompressionLayer;
use tower_http::csrf::CsrfLayer;
use tower_http::timeout::TimeoutLayer;

pub use running::Running;
pub use state::Desk;

/// A page takes no longer.
const PAGE_TIMEOUT: Duration = Duration::from_secs(20);

/// No page's form is larger.
const FORM_MAX: usize = 1024 * 1024;

/// No file is larger, and none takes longer to come.
const FILE_MAX: usize = 64 * 1024 * 1024;
const FILE_TIMEOUT: Duration = Duration::from_secs(300);

/// Everything the desk listens on.
pub fn routes(desk: &Arc<Desk>) -> Router {
    let pages = Router::new()
        .route("/desk", get(|| async { Redirect::to("/desk/waiting") }))
        .route("/", get(|| async { Redirect::to("/desk/waiting") }))
        .route("/favicon.ico", get(frame::files::icon))
        .route("/desk/files/{file}", get(frame::files::serve))
        .route("/desk/words", post(frame::words::choose))
        .route("/desk/events", get(staff::events::events))
        .route("/desk/sign-in", get(staff::sign_in::show_form).post(staff::sign_in::sign_in))
        .route("/desk/sign-out", post(staff::sign_in::sign_out))
        .route("/desk/password", get(staff::own_password::show_form).post(staff::own_password::change))
        .route("/desk/waiting", get(talks::waiting::list))
        .route("/desk/waiting/events", get(staff::events::events))
        .route("/desk/waiting/next", post(talks::waiting::next))
        .route("/desk/waiting/{grower}", get(talks::talk::show_talk).post(talks::act::act))
        .route("/desk/waiting/{grower}/draft", post(talks::act::keep_draft))
        .route("/desk/talks", get(talks::found::list).post(talks::found::begin))
        .route("/desk/growers/{grower}", get(talks::grower::show_grower).post(talks::grower::act))
        .route("/desk/undelivered", get(talks::undelivered::list).post(talks::undelivered::act))
        .route("/desk/try", get(talks::tryout::show_phone).post(talks::tryout::say))
        .route("/desk/set", get(set::show_set))
        .route("/desk/accounts", get(staff::accounts::list).post(staff::accounts::act))
        .route("/desk/accounts/accounts.csv", get(staff::account_file::take))
        .route("/desk/accounts/roles", post(staff::account_file::bring))
        .route("/desk/audit", get(staff::accounts::audit))
        .route("/desk/places", get(market::places::list).post(market::places::import))
        .route("/desk/new-place", get(market::places::show_new).post(market::places::add))
        .route("/desk/places/{name}", get(market::places::show_place).post(market::places::act))
        .route("/desk/places/{name}/file.json", get(market::places::export))
        .route("/desk/pumps", get(market::pumps::list).post(market::pumps::add))
        .route("/desk/pumps/{name}", get(market::pumps::show_class).post(market::pumps::act))
        .route("/desk/prices", get(market::prices::show_prices).post(market::prices::save))
        .route("/desk/prices/import", post(market::prices::import))
        .route("/desk/prices/{file}", get(market::prices::export))
        .route("/desk/numbers", get(numbers::show_numbers))
        .route("/desk/numbers/counts.csv", get(numbers::export))
        .route("/desk/numbers/numbers.xlsx", get(numbers::workbook))
        .route("/api", get(machines::openapi::page))
        .route("/openapi.json", get(machines::openapi::json))
        .route("/metrics", get(machines::metrics::text))
        .route("/desk/bulk/{list}", get(bulk::show_list).post(bulk::act))
        .layer(DefaultBodyLimit::max(FORM_MAX))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, PAGE_TIMEOUT));
    let long = Router::new()
        .route("/desk/bulk", get(bulk::show_lists).post(bulk::bring))
        .route("/desk/bulk/{list}/{file}", get(bulk::take_away))
        .layer(DefaultBodyLimit::max(FILE_MAX))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, FILE_TIMEOUT));
    // Answered while it is read: no limit but each object's own.
    let machines = Router::new()
        .route("/api/answers", post(machines::answers::answer_all))
        .route("/api/v1/answers", post(machines::answers::answer_all))
        .route("/api/v1/messages", get(machines::records::messages))
        .route("/api/v1/growers", get(machines::records::growers))
        .layer(DefaultBodyLimit::disable());
    let health = Router::new()
        .route("/healthz", get(machines::health::is_up))
        .route("/readyz", get(machines::health::is_ready))
        .with_state(desk.store.clone());
    let pages = pages
        .merge(long)
        .layer(map_response(frame::fault::in_words))
        .layer(from_fn(frame::words::speak))
        .layer(CompressionLayer::new())
        .merge(machines)
        .layer(from_fn_with_state(Arc::clone(desk), staff::writing_down::refusals));
    let nowhere = any(frame::fault::nowhere).layer(from_fn(frame::words::speak));
    pages.with_state(Arc::clone(desk)).layer(CsrfLayer::new()).merge(health).fallback_service(nowhere)
}
