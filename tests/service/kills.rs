//! The service, its PostgreSQL, or both are killed without warning; nothing is lost and nothing is answered twice.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use nix::sys::signal::{Signal, kill};

use crate::common::{Answer, Folder, Gateway, Service, line, message, number};

#[tokio::test(flavor = "multi_thread")]
async fn killed_while_a_gateway_holds_the_call() {
    let gateway = Gateway::start(|_, _| Answer::Hold).await;
    let folder = Folder::new();
    let config = line("north", &gateway.url);
    let service = Service::start(&folder, &config);
    service.post("/lines/north/inbound", &message("k-1", &number(71), "lift 5")).await;
    gateway.wait("the call is in hand", |calls| calls.len() == 1).await;
    service.kill();
    assert!(folder.postmaster().is_some(), "PostgreSQL has outlived it");

    gateway.now_accepts();
    let service = Service::start(&folder, &config);
    let calls = gateway.wait("it goes out again", |calls| calls.len() >= 2).await;
    assert_eq!(calls[0].body, calls[1].body, "the same reply under the same id");
    let again = service.post("/lines/north/inbound", &message("k-1", &number(71), "lift 5")).await;
    assert_eq!(again.status(), 202);
    service.post("/lines/north/inbound", &message("k-2", &number(72), "lift 5")).await;
    let calls = gateway.wait("the next is sent", |calls| calls.iter().any(|call| call.to() == number(72))).await;
    let ids: BTreeSet<&str> = calls.iter().filter(|call| call.to() == number(71)).map(|call| call.id()).collect();
    assert_eq!(ids.len(), 1);
}

#[tokio::test(flavor = "multi_thread")]
async fn killed_in_a_burst() {
    const MESSAGES: u32 = 120;
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let config = line("north", &gateway.url);
    let body = |index: u32| message(&format!("b-{index}"), &number(200 + index), "lift 5 pipe 40");

    // Three times: a burst goes in, the service is killed in its midst, and the next one takes over.
    let mut not_stored: Vec<u32> = (0..MESSAGES).collect();
    for wave in 1..=3 {
        let service = Arc::new(Service::start(&folder, &config));
        let posts: Vec<_> = not_stored
            .iter()
            .map(|index| {
                let (service, index) = (Arc::clone(&service), *index);
                tokio::spawn(async move {
                    let answer = service.try_post("/lines/north/inbound", &body(index)).await;
                    (index, answer.is_ok_and(|answer| answer.status() == 202))
                })
            })
            .collect();
        let answered_before = distinct(&gateway);
        let wished = answered_before.len() + 5;
        gateway.wait("some of the burst are answered", |calls| ids(calls).len() >= wished.min(MESSAGES as usize)).await;
        let pid = service.pid();
        kill(pid, Signal::SIGKILL).unwrap();
        if wave == 2 {
            // PostgreSQL too, as a power cut does.
            kill(folder.postmaster().unwrap(), Signal::SIGKILL).unwrap();
        }
        not_stored.clear();
        for post in posts {
            let (index, is_stored) = post.await.unwrap();
            if !is_stored {
                not_stored.push(index);
            }
        }
        let service = Arc::into_inner(service).unwrap();
        service.kill();
        if not_stored.is_empty() {
            break;
        }
    }

    let service = Service::start(&folder, &config);
    for index in not_stored {
        assert_eq!(service.post("/lines/north/inbound", &body(index)).await.status(), 202);
    }
    // Again for every one of them: a gateway that lost our answers.
    for index in 0..MESSAGES {
        let status = service.post("/lines/north/inbound", &body(index)).await.status();
        assert!(status == 202, "{index}: {status}");
    }
    gateway.wait("every message is answered", |calls| ids(calls).len() >= MESSAGES as usize).await;
    for (to, ids) in distinct(&gateway) {
        assert_eq!(ids.len(), 1, "{to} has one reply");
    }
    let count = sqlx::query_scalar("select count(*) from outbox");
    let replies: i64 = count.fetch_one(&mut Service::connect(&folder).await).await.unwrap();
    assert_eq!(replies, i64::from(MESSAGES), "and none is waiting to go out as well");
}

/// The ids sent to each number.
fn distinct(gateway: &Gateway) -> BTreeMap<String, BTreeSet<String>> {
    let mut sent: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for call in gateway.calls() {
        sent.entry(call.to().to_owned()).or_default().insert(call.id().to_owned());
    }
    sent
}

fn ids(calls: &[crate::common::Call]) -> BTreeSet<&str> {
    calls.iter().map(|call| call.id()).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_stale_process_number_is_survived() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let config = line("north", &gateway.url);
    let service = Service::start(&folder, &config);
    service.post("/lines/north/inbound", &message("p-1", &number(73), "lift 5")).await;
    gateway.wait("it is answered", |calls| calls.len() == 1).await;
    let postmaster = folder.postmaster().unwrap();
    service.kill();
    kill(postmaster, Signal::SIGKILL).unwrap();
    // The number of the dead server belongs to another process by now: this test's.
    let file = folder.path().join("postgres/postmaster.pid");
    let text = std::fs::read_to_string(&file).unwrap();
    let text = text.replacen(&postmaster.to_string(), &std::process::id().to_string(), 1);
    std::fs::write(&file, text).unwrap();

    let service = Service::start(&folder, &config);
    service.post("/lines/north/inbound", &message("p-1", &number(73), "lift 5")).await;
    service.post("/lines/north/inbound", &message("p-2", &number(74), "lift 5")).await;
    let calls = gateway.wait("the next is sent", |calls| calls.iter().any(|call| call.to() == number(74))).await;
    let ids: BTreeSet<&str> = calls.iter().filter(|call| call.to() == number(73)).map(|call| call.id()).collect();
    assert_eq!(ids.len(), 1, "what was committed is there");
}
