//! The service's open door: takes connections, gives each a bounded time to say what it wants, and closes without cutting off
//! what is in hand.

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::http::{Request, StatusCode};
use axum::response::{IntoResponse, Response};
use hyper::body::Incoming;
use hyper::service::{Service, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use nix::sys::resource::{Resource, getrlimit, setrlimit};
use tokio::net::TcpListener;
use tokio::sync::{Semaphore, oneshot};
use tracing::warn;

use crate::desk::staff::origin::Peer;

/// Time for the head of a request, the wait for the next one on an open connection included: who sends it slower holds a place
/// that others need.
const HEAD_TIMEOUT: Duration = Duration::from_secs(15);

/// Open files that are left to everything else: the database, gateways, lists.
const FILES_LEFT: u64 = 200;

/// Connections at once, however many files the system allows.
const CONNECTIONS_MOST: u64 = 20_000;

/// Pause when no connection can be taken, such as without a file to hold it.
const PAUSE: Duration = Duration::from_millis(100);

/// Serves until it is told to stop, then finishes what is in hand.
pub async fn serve(listener: TcpListener, routes: Router, stop: oneshot::Receiver<()>) {
    let places = Arc::new(Semaphore::new(usize::try_from(places()).unwrap_or(usize::MAX)));
    let graceful = GracefulShutdown::new();
    let mut stop = std::pin::pin!(stop);
    loop {
        // A full house lets nobody in until one leaves; the system keeps who waits.
        let place = tokio::select! {
            biased;
            _ = &mut stop => break,
            place = Arc::clone(&places).acquire_owned() => place,
        };
        let taken = tokio::select! {
            biased;
            _ = &mut stop => break,
            taken = listener.accept() => taken,
        };
        let (stream, peer) = match taken {
            Ok((stream, peer)) => (stream, Peer(peer.ip())),
            Err(error) => {
                warn!(kind = %error.kind(), "no connection could be taken");
                tokio::time::sleep(PAUSE).await;
                continue;
            }
        };
        let routes = TowerToHyperService::new(routes.clone());
        let service = service_fn(move |mut request: Request<Incoming>| {
            request.extensions_mut().insert(peer);
            // A menu line sees to that itself: it must know which answers nobody waited for.
            let is_menu = request.uri().path().ends_with("/ussd");
            let answer = routes.call(request);
            async move { if is_menu { answer.await } else { finish(answer).await } }
        });
        let mut http = hyper::server::conn::http1::Builder::new();
        let connection =
            http.timer(TokioTimer::new()).header_read_timeout(HEAD_TIMEOUT).serve_connection(TokioIo::new(stream), service);
        let connection = graceful.watch(connection);
        tokio::spawn(async move {
            // A connection that breaks is its owner's to make again.
            let _ = connection.await;
            drop(place);
        });
    }
    drop(listener);
    graceful.shutdown().await;
}

/// Answers a request to its end even where whoever asked has gone: a statement that is cut off costs its connection to the
/// database, and a crowd that asks and leaves would cost them all.
async fn finish<E: Send + 'static>(
    answer: impl Future<Output = Result<Response, E>> + Send + 'static,
) -> Result<Response, E> {
    let failed = |_| Ok(StatusCode::INTERNAL_SERVER_ERROR.into_response());
    tokio::spawn(answer).await.unwrap_or_else(failed)
}

/// How many connections fit, once as many files may be open as the system gives.
fn places() -> u64 {
    let Ok((soft, hard)) = getrlimit(Resource::RLIMIT_NOFILE) else { return CONNECTIONS_MOST / 20 };
    let wanted = hard.min(CONNECTIONS_MOST + FILES_LEFT).max(soft);
    let files = if setrlimit(Resource::RLIMIT_NOFILE, wanted, hard).is_ok() { wanted } else { soft };
    files.saturating_sub(FILES_LEFT).clamp(16, CONNECTIONS_MOST)
}
