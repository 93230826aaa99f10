//! `noonwater serve`: everything.

use std::io::Write;
use std::net::{Ipv4Addr, Ipv6Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::http::StatusCode;
use axum::middleware::{from_fn_with_state, map_response};
use tokio::net::TcpListener;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::oneshot;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::timeout::TimeoutLayer;
use tracing::{error, info, warn};

use super::house::House;
use super::{ConfigFile, Failure, listen};
use crate::config::{self, Config, Door, LineKind};
use crate::desk;
use crate::desk::frame::page::unframed;
use crate::meters;
use crate::refusal::shape_errors;

/// Nothing a line does takes long; who sends a body this slowly may start over.
const REQUEST_TIMEOUT: Duration = Duration::from_secs(20);

/// No request of a line is larger; most paths take much less.
const BODY_MAX: usize = 1024 * 1024;

/// How long a stop waits for requests in hand.
const DRAIN: Duration = Duration::from_secs(20);

/// Run the service: lines, background work, and the handset page
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater serve --config kito.toml --fetch-postgres")]
pub struct Arguments {
    #[command(flatten)]
    file: ConfigFile,
    /// Install PostgreSQL by the system's package manager if none is found
    #[arg(long)]
    fetch_postgres: bool,
}

pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    let config = config::read(arguments.file.config.as_deref())?;
    let mut stop = Stop::new()?;
    let listener = TcpListener::bind(config.listen).await.map_err(|error| {
        let (listen, kind) = (config.listen, error.kind());
        Failure::Failed(format!("cannot listen on {listen} ({kind}); stop what holds it or set `listen`"))
    })?;
    meters::start();
    let mut house = tokio::select! {
        opened = House::open(&config, arguments.fetch_postgres, |_| true) => opened?,
        () = stop.asked() => return Ok(()),
    };
    let address = listener.local_addr().unwrap_or(config.listen);
    say_where(&config, address);
    let (drain, drained) = oneshot::channel::<()>();
    let desk =
        desk::Running::start(house.store.clone(), Arc::clone(&house.shelf), Arc::clone(&house.lines), config.clone());
    let mut server = tokio::spawn(listen::serve(listener, routes(&house, &desk), drained));
    let failure = tokio::select! {
        () = stop.asked() => None,
        () = house.database.ended() => Some("PostgreSQL ended on its own; see postgres.log in the data folder, start again"),
        _ = &mut server => Some("the web server ended on its own; start again"),
    };
    info!("stopping: finishing what is in hand");
    let _ = drain.send(());
    desk.stop().await;
    if failure.is_none() && tokio::time::timeout(DRAIN, server).await.is_err() {
        warn!("requests were cut off");
    }
    house.close().await;
    match failure {
        None => Ok(()),
        Some(sentence) => {
            error!(sentence, "stopped");
            Err(Failure::Failed(sentence.to_owned()))
        }
    }
}

fn routes(house: &House, desk: &desk::Running) -> Router {
    let lines = house
        .lines
        .routes(&house.answering)
        .layer(RequestBodyLimitLayer::new(BODY_MAX))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, REQUEST_TIMEOUT));
    // The desk knows which of its requests may be large or long.
    let all = lines.merge(desk::routes(&desk.desk));
    let all = all.layer(from_fn_with_state(Arc::clone(&desk.desk), desk::doors::guard));
    let all = all.layer(map_response(shape_errors)).layer(map_response(meters::count_refusal));
    all.layer(map_response(unframed))
}

fn say_where(config: &Config, address: SocketAddr) {
    let host = match address.ip() {
        ip if !ip.is_unspecified() => ip,
        ip if ip.is_ipv4() => Ipv4Addr::LOCALHOST.into(),
        _ => Ipv6Addr::LOCALHOST.into(),
    };
    let at = SocketAddr::new(host, address.port());
    let mut out = std::io::stdout().lock();
    // Nobody may be reading; the service runs all the same.
    let handset = match config.handset_door() {
        Door::Open => format!("http://{at}/handset"),
        Door::Staff => format!("http://{at}/handset (for who has signed in at the desk)"),
        Door::Closed => "closed, `handset = \"staff\"` in the configuration opens it".to_owned(),
    };
    let _ = writeln!(out, "noonwater is ready\n  handset page: {handset}\n  desk: http://{at}/desk");
    for (name, line) in &config.lines {
        let door = match line.kind {
            LineKind::Http => "inbound",
            LineKind::Ussd => "ussd",
        };
        let _ = writeln!(out, "  line {name}: POST http://{at}/lines/{name}/{door}");
    }
    if config.emergency.is_none() {
        let _ = writeln!(out, "  no emergency number is set: lines of danger say \"call for help now\"; set `emergency`");
    }
    let _ = out.flush();
}

/// The two ways to ask a service to stop.
struct Stop {
    terminate: Signal,
    interrupt: Signal,
}

impl Stop {
    fn new() -> Result<Self, Failure> {
        let on =
            |kind| signal(kind).map_err(|error| Failure::Failed(format!("signals cannot be heard ({error}); try again")));
        Ok(Self { terminate: on(SignalKind::terminate())?, interrupt: on(SignalKind::interrupt())? })
    }

    async fn asked(&mut self) {
        tokio::select! {
            _ = self.terminate.recv() => {}
            _ = self.interrupt.recv() => {}
        }
    }
}
