//! The hostile run: one after the other what was tried on a running service, bounded, on loopback, with what it cost meanwhile:
//! the most memory that the process ever held, and how long a message took to be stored beside it. `tests/hostile_run.sh`.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use futures_util::future::join_all;

use crate::common::{Folder, Gateway, SECRET, Service, line, message, number, peak_kib};
use crate::files::{HEAD, book, send};
use crate::seat::Seat;
use crate::sign_in::{PROXIED, wrong_tries};

/// What the service may hold through all of it.
const MEMORY_MOST_MIB: u64 = 128;

/// Pause between the messages that are measured.
const EVERY: Duration = Duration::from_millis(40);

/// Messages of a grower sent all the while, and how long each took.
struct Inbound {
    took: Arc<Mutex<Vec<Duration>>>,
    is_over: Arc<AtomicBool>,
    sending: tokio::task::JoinHandle<()>,
}

impl Inbound {
    fn start(service: &Service) -> Self {
        let (took, is_over) = (Arc::new(Mutex::new(Vec::new())), Arc::new(AtomicBool::new(false)));
        let sending = tokio::spawn({
            let (took, is_over) = (Arc::clone(&took), Arc::clone(&is_over));
            let (client, url) = (service.client.clone(), format!("{}/lines/north/inbound", service.url));
            async move {
                for index in 0_u32.. {
                    if is_over.load(Ordering::Relaxed) {
                        return;
                    }
                    let body = message(&format!("run-{index}"), &number(index), "lift 3");
                    let began = Instant::now();
                    let status =
                        client.post(&url).bearer_auth(SECRET).json(&body).send().await.map(|answer| answer.status());
                    assert!(status.is_ok_and(|status| status == 202 || status == 429));
                    took.lock().unwrap().push(began.elapsed());
                    tokio::time::sleep(EVERY).await;
                }
            }
        });
        Self { took, is_over, sending }
    }

    /// Of the messages since the last look: how many, and what 99 in a hundred did not pass, ms.
    fn look(&self) -> (usize, u128) {
        let mut took = std::mem::take(&mut *self.took.lock().unwrap());
        took.sort_unstable();
        let at = (took.len() * 99).div_ceil(100).saturating_sub(1);
        (took.len(), took.get(at).map_or(0, Duration::as_millis))
    }

    async fn stop(self) {
        self.is_over.store(true, Ordering::Relaxed);
        self.sending.await.unwrap();
    }
}

struct Report {
    process: u32,
    began: Instant,
}

impl Report {
    fn say(&mut self, what: &str, inbound: &Inbound) {
        let (messages, p99_ms) = inbound.look();
        let mib = peak_kib(self.process) as f64 / 1024.0;
        let s = self.began.elapsed().as_secs_f64();
        println!("{what:<58} {s:>6.1} s   peak {mib:>6.1} MiB   inbound p99 {p99_ms:>5} ms of {messages:>4}");
        self.began = Instant::now();
    }
}

async fn statuses(calls: impl Iterator<Item = reqwest::RequestBuilder>) -> String {
    let answers = join_all(calls.map(reqwest::RequestBuilder::send)).await;
    let mut counts = std::collections::BTreeMap::<String, usize>::new();
    for answer in answers {
        let status = match answer {
            Ok(answer) => {
                let status = answer.status().as_u16().to_string();
                let _ = answer.bytes().await;
                status
            }
            Err(_) => "cut off".to_owned(),
        };
        *counts.entry(status).or_default() += 1;
    }
    counts.into_iter().map(|(status, count)| format!("{count} x {status}")).collect::<Vec<_>>().join(", ")
}

#[tokio::test(flavor = "multi_thread")]
#[ignore = "a run of minutes that prints what it measures: bash tests/hostile_run.sh"]
async fn hostile_run() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let config = format!("{PROXIED}{}[limits]\nmessages_a_minute = 100000\nburst = 1000\n", line("north", &gateway.url));
    let service = Service::start(&folder, &config);
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let mut connection = Service::connect(&folder).await;
    let fill = "insert into tally (message, received_at, line, language, place, troubles, replied, to_person)
                select gen_random_uuid(), now() - n * interval '30 seconds', 'north', 'en', 'Kito', '{}', true, false
                from generate_series(1, 200000) as n";
    sqlx::query(fill).execute(&mut connection).await.unwrap();

    let inbound = Inbound::start(&service);
    let mut report = Report { process: service.pid().as_raw().unsigned_abs(), began: Instant::now() };
    tokio::time::sleep(Duration::from_secs(4)).await;
    report.say("quiet", &inbound);

    wrong_tries(&service, 340).await;
    report.say("340 wrong sign-ins from 340 addresses", &inbound);

    let url = |path: &str| format!("{}{path}", service.url);
    let one_address = (0..200).map(|n| {
        let call = service.client.post(url("/desk/sign-in")).header("x-forwarded-for", "198.51.100.7");
        call.header("content-type", "application/x-www-form-urlencoded").body(format!("name=n{n}&password=x"))
    });
    println!("  {}", statuses(one_address).await);
    report.say("200 wrong sign-ins at once from one address", &inbound);

    let packed = book(&"<si/>".repeat(4_000_000), HEAD);
    let books = (0..4).map(|_| send(&asha, "small.xlsx", &packed));
    for answer in join_all(books).await {
        assert_eq!(answer.status(), 422);
    }
    report.say(&format!("4 workbooks of {} KB at once, 4 million texts each", packed.len() / 1000), &inbound);

    let keys = (0..108_000).map(|n| format!("\"{n:x}\":1")).collect::<Vec<_>>().join(",");
    assert_eq!(send(&asha, "keys.jsonl", format!("{{\"text\":\"lift 3\",{keys}}}\n").as_bytes()).await.status(), 422);
    report.say("a row of 108,000 keys", &inbound);

    let long = format!("text\n{}", format!("{}\n", "lift 3 ".repeat(20_000)).repeat(60));
    let list = send(&asha, "long.csv", long.as_bytes()).await.headers()["location"].to_str().unwrap().to_owned();
    for _ in 0..5 {
        asha.page(&list).await;
    }
    report.say("a list of 60 texts of 140,000 letters, its page 5 times", &inbound);

    for _ in 0..10 {
        let figures = statuses((0..32).map(|_| service.client.get(url("/metrics")))).await;
        assert_eq!(figures, "32 x 200");
    }
    report.say("32 readers of /metrics, 10 times", &inbound);

    let pages = (0..16).map(|_| asha.request(reqwest::Method::GET, "/desk/numbers"));
    println!("  {}", statuses(pages).await);
    report.say("16 readers of the counts of 200,000 messages", &inbound);

    let events = "/desk/events";
    let streams = join_all((0..200).map(|_| asha.get(events))).await;
    println!(
        "  {} open, {} refused",
        streams.iter().filter(|s| s.status() == 200).count(),
        streams.iter().filter(|s| s.status() == 503).count()
    );
    tokio::time::sleep(Duration::from_secs(4)).await;
    report.say("200 streams of one account, for 4 s", &inbound);
    drop(streams);

    let cut = (0..300_u32).map(|index| {
        let body = message(&format!("cut-{index}"), &number(index), "lift 3 pipe 30 panel 3x100 garden 900");
        let call = service.client.post(url("/lines/north/inbound")).bearer_auth(SECRET).json(&body);
        call.timeout(Duration::from_millis(u64::from(index % 30) + 1))
    });
    println!("  {}", statuses(cut).await);
    report.say("300 messages whose sender leaves", &inbound);

    let signatures = "v1,AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA= ".repeat(300);
    let unsigned = (0..200).map(|n| {
        let call = service.client.post(url("/lines/north/inbound")).header("webhook-id", format!("w{n}"));
        call.header("webhook-timestamp", "1").header("webhook-signature", &signatures).body("{}")
    });
    println!("  {}", statuses(unsigned).await);
    report.say("200 calls with 300 signatures each", &inbound);

    inbound.stop().await;
    let peak = peak_kib(report.process) / 1024;
    println!("peak of the process through all of it: {peak} MiB; may be {MEMORY_MOST_MIB}");
    assert!(peak < MEMORY_MOST_MIB, "{peak} MiB");
}
