//! Where staff see, answer and count, and what their machines ask the service.
//!
//! - In and out: [`sign_in`], [`member`] (who asks, and what the role allows), [`password`].
//! - The frame of every page: [`page`], [`fault`]; everything works without scripts.
//! - The rooms: `waiting` and `talk` (with `sheet` and `ready`), `undelivered`, `tryout`, `set` (with `chart`), `bulk`, `places`, `pumps`,
//!   `prices`, `numbers`, `accounts` (with who did what).
//! - For machines: `answers`, `openapi`, `metrics`, `health`.

mod account_file;
mod accounts;
mod advice;
mod answers;
mod bulk;
mod cell;
mod climate;
mod fault;
mod health;
pub mod member;
mod metrics;
mod numbers;
mod openapi;
mod page;
pub mod password;
mod pasted;

mod place_form;
mod places;
mod prices;
mod pumps;
mod ready;
mod set;
mod sheet;
mod sign_in;
mod talk;
mod tryout;
mod undelivered;
mod waiting;

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::map_response;
use axum::response::Redirect;
use axum::routing::{get, post};
use tokio::sync::{Semaphore, watch};
use tokio::task::JoinHandle;
use tower_http::csrf::CsrfLayer;
use tower_http::timeout::TimeoutLayer;
use tracing::warn;

use crate::config::Config;
use crate::lines::Lines;
use crate::store::{Signal, Store, StoreError};
use crate::turn::World;
use crate::world::Shelf;

/// A page takes no longer.
const PAGE_TIMEOUT: Duration = Duration::from_secs(20);

/// No page's form is larger.
const FORM_MAX: usize = 1024 * 1024;

/// No file is larger, and none takes longer to come.
const FILE_MAX: usize = 64 * 1024 * 1024;
const FILE_TIMEOUT: Duration = Duration::from_secs(300);

/// Passwords hashed at once: each takes a processor for a while.
const HASHING_AT_ONCE: usize = 2;

/// Pause before listening again after the connection was lost.
const PAUSE: Duration = Duration::from_secs(2);

/// What every page may use.
pub struct Desk {
    store: Store,
    shelf: Arc<Shelf>,
    lines: Arc<Lines>,
    config: Config,
    hashing: Semaphore,
    /// Counts changes of the waiting talks.
    changes: watch::Sender<u64>,
    stopping: watch::Sender<bool>,
}

impl Desk {
    fn world(&self) -> Arc<World> {
        self.shelf.now()
    }

    /// After a place, a price or a class of pump was changed: this page's next look sees it, and so does every other process
    /// on this database.
    async fn world_changed(&self) {
        if let Err(error) = self.shelf.reload(&self.store, &self.config).await {
            warn!(%error, "a change is known after the next one or the next start");
        }
        if let Err(error) = self.store.signal(Signal::World).await {
            warn!(%error, "other processes know a change after the next one or their next start");
        }
    }
}

/// The desk at work.
pub struct Running {
    pub desk: Arc<Desk>,
    listening: JoinHandle<()>,
}

impl Running {
    pub fn start(store: Store, shelf: Arc<Shelf>, lines: Arc<Lines>, config: Config) -> Self {
        let desk = Arc::new(Desk {
            store,
            shelf,
            lines,
            config,
            hashing: Semaphore::new(HASHING_AT_ONCE),
            changes: watch::Sender::new(0),
            stopping: watch::Sender::new(false),
        });
        let listening = tokio::spawn(listen(Arc::clone(&desk)));
        Self { desk, listening }
    }

    /// Ends the streams of open pages, so that the server can stop.
    pub async fn stop(self) {
        self.desk.stopping.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.listening.await;
    }
}

/// Passes on to open pages that the waiting talks have changed.
async fn listen(desk: Arc<Desk>) {
    let mut stopping = desk.stopping.subscribe();
    loop {
        let follow = async {
            let mut ear = desk.store.hear(Signal::Desk).await?;
            loop {
                ear.wait().await?;
                desk.changes.send_modify(|count| *count += 1);
            }
        };
        let ended: Result<(), StoreError> = tokio::select! {
            biased;
            _ = stopping.wait_for(|stop| *stop) => return,
            ended = follow => ended,
        };
        if let Err(error) = ended {
            warn!(%error, "open pages are not told of changes");
        }
        tokio::select! {
            _ = stopping.wait_for(|stop| *stop) => return,
            () = tokio::time::sleep(PAUSE) => {}
        }
    }
}

/// Everything the desk listens on.
pub fn routes(desk: &Arc<Desk>) -> Router {
    let pages = Router::new()
        .route("/desk", get(|| async { Redirect::to("/desk/waiting") }))
        .route("/desk/desk.css", get(page::style))
        .route("/desk/desk.js", get(page::script))
        .route("/desk/sign-in", get(sign_in::show_form).post(sign_in::sign_in))
        .route("/desk/sign-out", post(sign_in::sign_out))
        .route("/desk/waiting", get(waiting::list))
        .route("/desk/waiting/events", get(waiting::events))
        .route("/desk/waiting/{message}", get(talk::show_talk).post(talk::act))
        .route("/desk/undelivered", get(undelivered::list).post(undelivered::act))
        .route("/desk/try", get(tryout::show_phone).post(tryout::say))
        .route("/desk/set", get(set::show_set))
        .route("/desk/accounts", get(accounts::list).post(accounts::act))
        .route("/desk/accounts/accounts.csv", get(account_file::take))
        .route("/desk/accounts/roles", post(account_file::bring))
        .route("/desk/audit", get(accounts::audit))
        .route("/desk/places", get(places::list).post(places::import))
        .route("/desk/new-place", get(places::show_new).post(places::add))
        .route("/desk/places/{name}", get(places::show_place).post(places::act))
        .route("/desk/places/{name}/file.json", get(places::export))
        .route("/desk/pumps", get(pumps::list).post(pumps::add))
        .route("/desk/pumps/{name}", get(pumps::show_class).post(pumps::act))
        .route("/desk/prices", get(prices::show_prices).post(prices::save))
        .route("/desk/prices/import", post(prices::import))
        .route("/desk/prices/{file}", get(prices::export))
        .route("/desk/numbers", get(numbers::show_numbers))
        .route("/desk/numbers/counts.csv", get(numbers::export))
        .route("/api", get(openapi::page))
        .route("/openapi.json", get(openapi::json))
        .route("/metrics", get(metrics::text))
        .route("/desk/bulk/{list}", get(bulk::show_list).post(bulk::act))
        .route("/desk/bulk/{list}/events", get(bulk::events))
        .layer(DefaultBodyLimit::max(FORM_MAX))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, PAGE_TIMEOUT));
    let long = Router::new()
        .route("/desk/bulk", get(bulk::show_lists).post(bulk::bring))
        .route("/desk/bulk/{list}/{file}", get(bulk::take_away))
        .layer(DefaultBodyLimit::max(FILE_MAX))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, FILE_TIMEOUT));
    // Answered while it is read: no limit but each object's own.
    let machines = Router::new().route("/api/answers", post(answers::answer_all)).layer(DefaultBodyLimit::disable());
    let health = Router::new()
        .route("/healthz", get(health::is_up))
        .route("/readyz", get(health::is_ready))
        .with_state(desk.store.clone());
    let pages = pages.merge(long).layer(map_response(fault::in_words)).merge(machines);
    pages.with_state(Arc::clone(desk)).layer(CsrfLayer::new()).merge(health)
}
