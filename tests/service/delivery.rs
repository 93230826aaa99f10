//! Replies get to the gateway, whatever it does.

use std::collections::BTreeSet;

use crate::common::{Answer, Folder, Gateway, Service, line, message, number};

#[tokio::test(flavor = "multi_thread")]
async fn a_refused_reply_goes_out_again_under_its_id() {
    let gateway = Gateway::start(|before, _| Answer::Status(if before == 0 { 500 } else { 204 })).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    service.post("/lines/north/inbound", &message("d-1", &number(61), "lift 5")).await;
    let calls = gateway.wait("it was tried twice", |calls| calls.len() == 2).await;
    assert_eq!(calls[0].body, calls[1].body);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_later_reply_waits_for_the_earlier_one_of_its_number() {
    // The first reply is refused twice; the second must not overtake it, a third to somebody else may.
    let gateway = Gateway::start(|before, _| Answer::Status(if before == 0 { 503 } else { 200 })).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = number(62);
    service.post("/lines/north/inbound", &message("o-1", &asha, "lift 5")).await;
    gateway.wait("the first was refused", |calls| calls.len() == 1).await;
    service.post("/lines/north/inbound", &message("o-2", &asha, "pipe 40")).await;
    service.post("/lines/north/inbound", &message("o-3", &number(63), "pipe 40")).await;
    let calls = gateway.wait("all were tried", |calls| calls.len() == 4).await;
    let hers: Vec<&str> = calls.iter().filter(|call| call.to() == asha).map(|call| call.id()).collect();
    assert_eq!(hers.len(), 3);
    assert_eq!(hers[0], hers[1], "first the one that was refused");
    assert_ne!(hers[1], hers[2]);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_dead_gateway_holds_up_no_other_line() {
    let dead = Gateway::start(|_, _| Answer::Hold).await;
    let alive = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &(line("dead", &dead.url) + &line("alive", &alive.url)));
    // More than the dead line tries at once.
    for index in 0..20 {
        let id = format!("x-{index}");
        service.post("/lines/dead/inbound", &message(&id, &number(100 + index), "lift 5")).await;
    }
    dead.wait("all its room is taken", |calls| calls.len() == 16).await;
    service.post("/lines/alive/inbound", &message("y-1", &number(64), "lift 5")).await;
    alive.wait("the other line delivers", |calls| calls.len() == 1).await;
    dead.release();
    let calls = dead.wait("the rest follows", |calls| calls.len() >= 20).await;
    let ids: BTreeSet<&str> = calls.iter().map(|call| call.id()).collect();
    assert_eq!(ids.len(), 20);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_stop_finishes_the_call_in_hand_and_nothing_goes_out_twice() {
    let gateway = Gateway::start(|before, _| if before == 0 { Answer::Hold } else { Answer::Status(200) }).await;
    let folder = Folder::new();
    let config = line("north", &gateway.url);
    let mut service = Service::start(&folder, &config);
    service.post("/lines/north/inbound", &message("e-1", &number(65), "lift 5")).await;
    gateway.wait("the call is in hand", |calls| calls.len() == 1).await;
    service.terminate();
    gateway.release();
    let status = tokio::task::spawn_blocking(move || service.wait()).await.unwrap();
    assert_eq!(status.code(), Some(0));
    assert!(folder.postmaster().is_none(), "PostgreSQL has stopped as well");

    let service = Service::start(&folder, &config);
    service.post("/lines/north/inbound", &message("e-2", &number(66), "lift 5")).await;
    let calls = gateway.wait("the next is sent", |calls| calls.len() >= 2).await;
    assert_eq!(calls.iter().filter(|call| call.to() == number(65)).count(), 1);
}
