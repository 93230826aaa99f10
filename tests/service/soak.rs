//! Ten minutes of messages under faults at random; prints what became of them. Not part of the usual run:
//!
//! `cargo test --test service soak -- --ignored --nocapture` (`SOAK_S` and `SOAK_SEED` choose its length and its dice).
//!
//! A database of its own is stopped and started beneath the service, the service is killed, its clock jumps (by Debian's
//! package `faketime`, where that is installed), the gateway answers 500, hangs, closes, and brings everything twice.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::Path;
use std::sync::atomic::{AtomicU8, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::post;
use axum::{Json, Router};
use serde_json::{Value, json};
use tokio::sync::RwLock;

use crate::common::{Folder, SECRET, Service, line, message, number};

const CLOCK: &str = "/usr/lib/x86_64-linux-gnu/faketime/libfaketimeMT.so.1";

/// Messages a second.
const RATE: u64 = 20;

/// What the gateway does with calls, by number.
const TAKES: u8 = 0;
const FAILS: u8 = 1;
const HANGS: u8 = 2;
const CLOSES: u8 = 3;

#[derive(Default)]
struct Heard {
    /// When each reply was first taken, and how often.
    taken: HashMap<String, (Instant, u32)>,
}

struct Gateway {
    mode: AtomicU8,
    heard: Mutex<Heard>,
}

async fn take(State(gateway): State<Arc<Gateway>>, Json(body): Json<Value>) -> Response {
    match gateway.mode.load(Ordering::Relaxed) {
        FAILS => return StatusCode::INTERNAL_SERVER_ERROR.into_response(),
        HANGS => tokio::time::sleep(Duration::from_secs(15)).await,
        // A handler that panics takes its connection with it.
        CLOSES => std::panic::resume_unwind(Box::new("closed")),
        _ => {}
    }
    let id = body["id"].as_str().unwrap_or_default().to_owned();
    let mut heard = gateway.heard.lock().expect("what was heard");
    heard.taken.entry(id).and_modify(|(_, times)| *times += 1).or_insert((Instant::now(), 1));
    StatusCode::OK.into_response()
}

/// Dice whose throws can be had again (Knuth's MMIX constants).
struct Dice(u64);

impl Dice {
    fn throw(&mut self, sides: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }
}

struct Ground {
    database: Folder,
    folder: Folder,
    config: String,
    clock: std::path::PathBuf,
}

impl Ground {
    fn start(&self) -> Service {
        let socket = self.database.path().join("run");
        let url = format!("postgres://noonwater@localhost/postgres?host={}", socket.display());
        let clock = self.clock.display().to_string();
        let mut environment = vec![("DATABASE_URL", url.as_str())];
        if Path::new(CLOCK).exists() {
            environment.extend([
                ("LD_PRELOAD", CLOCK),
                ("FAKETIME_TIMESTAMP_FILE", clock.as_str()),
                ("FAKETIME_NO_CACHE", "1"),
                ("FAKETIME_DONT_FAKE_MONOTONIC", "1"),
                ("DONT_FAKE_MONOTONIC", "1"),
            ]);
        }
        Service::start_with(&self.folder, &self.config, &environment)
    }
}

/// Brings one message until it is taken, and sometimes once more; gives when that was.
async fn bring(url: Arc<RwLock<String>>, client: reqwest::Client, body: Value, twice: bool) -> Instant {
    loop {
        let at = url.read().await.clone();
        let call = || {
            let call = client.post(format!("{at}/lines/north/inbound")).bearer_auth(SECRET).json(&body);
            call.timeout(Duration::from_secs(10)).send()
        };
        if call().await.is_ok_and(|answer| answer.status() == 202) {
            let taken = Instant::now();
            if twice {
                let _ = call().await;
            }
            return taken;
        }
        tokio::time::sleep(Duration::from_millis(500)).await;
    }
}

#[tokio::test(flavor = "multi_thread")]
#[ignore = "takes ten minutes"]
async fn soak() {
    let asked = |name: &str, usual: u64| std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(usual);
    let (seconds, mut dice) = (asked("SOAK_S", 600), Dice(asked("SOAK_SEED", 17)));
    let gateway = Arc::new(Gateway { mode: AtomicU8::new(TAKES), heard: Mutex::default() });
    let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let out = format!("http://{}/out", listener.local_addr().expect("an address"));
    let app = Router::new().route("/out", post(take)).with_state(Arc::clone(&gateway));
    tokio::spawn(async move { axum::serve(listener, app).await });

    let folder = Folder::new();
    let clock = folder.path().join("clock");
    std::fs::write(&clock, "+0\n").expect("a file");
    let limits = "[limits]\nmessages_a_minute = 100000\nburst = 100000\n";
    let ground = Ground { database: Folder::new(), config: line("north", &out) + limits, folder, clock };
    if !Path::new(CLOCK).exists() {
        println!("NOT CHECKED: the clock does not jump; apt-get install faketime");
    }
    let mut database = Some(Service::start(&ground.database, ""));
    let mut service = ground.start();
    let url = Arc::new(RwLock::new(service.url.clone()));
    let client = noonwater::lines::http::client(false).no_proxy().build().expect("a client");

    let began = Instant::now();
    let sending = tokio::spawn({
        let (url, client) = (Arc::clone(&url), client.clone());
        async move {
            let mut all = Vec::new();
            let mut index = 0_u64;
            while began.elapsed() < Duration::from_secs(seconds) {
                let text = format!("lift 3.{:02} pipe {}", index / 1000 % 90 + 10, 20 + index % 70);
                let from = number(u32::try_from(index % 1000).expect("a number"));
                let body = message(&format!("m-{index}"), &from, &text);
                all.push((index, tokio::spawn(bring(Arc::clone(&url), client.clone(), body, index.is_multiple_of(7)))));
                index += 1;
                tokio::time::sleep(Duration::from_millis(1000 / RATE)).await;
            }
            all
        }
    });

    let mut faults: BTreeMap<&str, u32> = BTreeMap::new();
    while began.elapsed() < Duration::from_secs(seconds) {
        tokio::time::sleep(Duration::from_secs(3 + dice.throw(9))).await;
        let lasts = Duration::from_secs(1 + dice.throw(8));
        let fault = match dice.throw(7) {
            0 => {
                service.kill();
                tokio::time::sleep(lasts / 4).await;
                service = ground.start();
                *url.write().await = service.url.clone();
                "service killed"
            }
            1 => {
                drop(database.take());
                tokio::time::sleep(lasts).await;
                database = Some(Service::start(&ground.database, ""));
                "database stopped"
            }
            2 => {
                let by = dice.throw(4 * 3600) as i64 - 2 * 3600;
                std::fs::write(&ground.clock, format!("{by:+}\n")).expect("a file");
                "clock jumped"
            }
            mode @ 3..=5 => {
                let (mode, name) =
                    [(FAILS, "gateway 500"), (HANGS, "gateway hangs"), (CLOSES, "gateway closes")][mode as usize - 3];
                gateway.mode.store(mode, Ordering::Relaxed);
                tokio::time::sleep(lasts).await;
                gateway.mode.store(TAKES, Ordering::Relaxed);
                name
            }
            _ => {
                // Everything known so far is confirmed twice.
                let ids: Vec<String> = gateway.heard.lock().expect("heard").taken.keys().take(50).cloned().collect();
                for id in ids.iter().chain(&ids) {
                    let at = url.read().await.clone();
                    let receipt = json!({ "id": id, "status": "delivered" });
                    let call = client.post(format!("{at}/lines/north/receipt")).bearer_auth(SECRET).json(&receipt);
                    let _ = call.timeout(Duration::from_secs(5)).send().await;
                }
                "receipts twice"
            }
        };
        *faults.entry(fault).or_default() += 1;
    }
    std::fs::write(&ground.clock, "+0\n").expect("a file");

    let mut stored: BTreeMap<String, Instant> = BTreeMap::new();
    for (index, bringing) in sending.await.expect("all brought") {
        stored.insert(format!("m-{index}"), bringing.await.expect("it was taken"));
    }
    // A line that went down is tried every minute at most.
    let mut rows: Vec<(String, Option<String>)> = Vec::new();
    for _ in 0..150 {
        let mut connection = Service::connect(&ground.database).await;
        let sql = "select external_id, outbox.id::text from inbound left join outbox on outbox.in_reply_to = inbound.id";
        rows = sqlx::query_as(sql).fetch_all(&mut connection).await.expect("rows");
        let left: i64 =
            sqlx::query_scalar("select count(*) from sending").fetch_one(&mut connection).await.expect("a count");
        if left == 0 {
            break;
        }
        tokio::time::sleep(Duration::from_secs(1)).await;
    }
    let heard = gateway.heard.lock().expect("heard");
    let replies: BTreeMap<&str, Vec<&str>> = rows.iter().fold(BTreeMap::new(), |mut all, (message, reply)| {
        let of: &mut Vec<&str> = all.entry(message).or_default();
        of.extend(reply.as_deref());
        all
    });
    let is_out = |message: &str| replies.get(message).is_some_and(|ids| ids.iter().any(|id| heard.taken.contains_key(*id)));
    let lost: BTreeSet<&String> = stored.keys().filter(|message| !is_out(message)).collect();
    let two_replies = replies.values().filter(|ids| ids.len() > 1).count();
    let same_again = heard.taken.values().filter(|(_, times)| *times > 1).count();
    let waits = stored.iter().filter_map(|(message, at)| {
        let first = replies.get(message.as_str())?.iter().filter_map(|id| heard.taken.get(*id)).map(|(at, _)| *at).min()?;
        Some(first.saturating_duration_since(*at))
    });
    let mut waits: Vec<Duration> = waits.collect();
    waits.sort_unstable();
    println!("faults: {faults:?}");
    println!(
        "in {}, answered {}, with two replies {two_replies}, the same reply taken twice {same_again}, lost {}, median {:?}, slowest {:?}",
        stored.len(),
        waits.len(),
        lost.len(),
        waits.get(waits.len() / 2).copied().unwrap_or_default(),
        waits.last().copied().unwrap_or_default()
    );
    assert!(lost.is_empty() && two_replies == 0, "lost: {lost:?}");
}
