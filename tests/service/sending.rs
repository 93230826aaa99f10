//! What the gateway does decides what becomes of a message: taken, refused for good, later, or the whole line is down.

use std::time::{Duration, Instant};

use chrono::Utc;
use noonwater::store::{Again, Store};
use serde_json::json;

use crate::common::{Answer, Folder, Gateway, HOTLINE, Service, eventually, line, message, number};
use crate::opt_out::answered_list;

async fn post(service: &Service, id: &str, from: &str, text: &str) {
    assert_eq!(service.post("/lines/north/inbound", &message(id, from, text)).await.status(), 202);
}

#[tokio::test(flavor = "multi_thread")]
async fn refused_for_good_it_is_marked_and_the_numbers_next_one_goes() {
    for status in [400, 410, 413, 422] {
        let gateway = Gateway::start(move |before, _| Answer::Status(if before == 0 { status } else { 200 })).await;
        let folder = Folder::new();
        let service = Service::start(&folder, &line("north", &gateway.url));
        let asha = number(420);
        post(&service, "r-1", &asha, "lift 3").await;
        gateway.wait("the first was refused", |calls| calls.len() == 1).await;
        post(&service, "r-2", &asha, "pipe 30").await;
        let calls = gateway.wait("the next one went", |calls| calls.len() >= 2).await;
        assert_ne!(calls[0].id(), calls[1].id(), "{status}: the first is not tried again");
        let store = Store::open(Service::options(&folder)).await.unwrap();
        let rows = store.undelivered_replies(10).await.unwrap();
        assert_eq!(rows.len(), 1);
        assert_eq!(rows[0].reason.as_deref(), Some(format!("the gateway refuses it ({status})").as_str()));
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn asked_for_less_the_line_waits_as_long_as_it_is_told() {
    let gateway = Gateway::start(|before, _| if before == 0 { Answer::SlowDown(4) } else { Answer::Status(200) }).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    post(&service, "s-1", &number(421), "lift 3").await;
    gateway.wait("it was asked for less", |calls| calls.len() == 1).await;
    post(&service, "s-2", &number(422), "lift 3").await;
    let calls = gateway.wait("both went", |calls| calls.len() == 3).await;
    let waited = calls[1].at - calls[0].at;
    assert!(waited >= Duration::from_millis(3_900), "{waited:?}");
    let store = Store::open(Service::options(&folder)).await.unwrap();
    assert_eq!(store.undelivered_count().await.unwrap(), 0);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_line_that_is_down_is_tried_by_one_message_and_loses_none() {
    let gateway = Gateway::start(|_, _| Answer::Status(500)).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    for index in 0..60 {
        post(&service, &format!("d-{index}"), &number(430 + index), "lift 3").await;
    }
    tokio::time::sleep(Duration::from_secs(6)).await;
    let calls = gateway.calls().len();
    // Those that were in hand when it went down, and a probe after 1, 2 and 4 s.
    assert!((3..=24).contains(&calls), "{calls} calls for 60 messages");
    let store = Store::open(Service::options(&folder)).await.unwrap();
    let now = store.lines_now().await.unwrap();
    assert_eq!((now.len(), now[0].line.as_str(), now[0].queued), (1, "north", 60));
    assert!(now[0].down_since.is_some() && now[0].oldest.is_some() && now[0].failing > 0);
    assert_eq!(now[0].reason.as_deref(), Some("the gateway answered 500"));
    gateway.now_accepts();
    let calls = gateway
        .wait("every one is out", |calls| {
            let numbers: std::collections::BTreeSet<&str> = calls.iter().map(|call| call.to()).collect();
            numbers.len() == 60 && calls.len() >= 60
        })
        .await;
    drop(calls);
    eventually("the line is up", || async {
        let now = store.lines_now().await.unwrap();
        now.is_empty().then_some(())
    })
    .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_outage_of_days_loses_no_reply_and_what_is_given_up_goes_again_by_one_click() {
    let gateway = Gateway::start(|_, _| Answer::Status(503)).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    for index in 0..3 {
        post(&service, &format!("o-{index}"), &number(500 + index), "lift 3").await;
    }
    gateway.wait("they were tried", |calls| calls.len() >= 3).await;
    let mut database = Service::connect(&folder).await;
    let age = "update sending set attempts = 500, since = now() - $1 * interval '1 day', due_at = now(), is_leased = false";
    sqlx::query(age).bind(4.0).execute(&mut database).await.unwrap();
    sqlx::query("update line_state set not_before = null").execute(&mut database).await.unwrap();
    let before = gateway.calls().len();
    gateway.wait("one is tried on the fourth day", |calls| calls.len() > before).await;
    let store = Store::open(Service::options(&folder)).await.unwrap();
    assert_eq!((store.give_up_old().await.unwrap(), store.undelivered_count().await.unwrap()), (0, 0));
    sqlx::query(age).bind(6.0).execute(&mut database).await.unwrap();
    eventually("they are put before staff", || async {
        store.give_up_old().await.unwrap();
        (store.undelivered_count().await.unwrap() == 3).then_some(())
    })
    .await;
    gateway.now_accepts();
    let before = gateway.calls().len();
    let mut step = store.begin().await.unwrap();
    let none = Again { line: Some("south"), ..Again::default() };
    assert_eq!(step.send_all_again(&none, Utc::now()).await.unwrap(), 0);
    let again = Again { line: Some("north"), since: Some(Utc::now() - chrono::TimeDelta::hours(1)), by: None };
    assert_eq!(step.send_all_again(&again, Utc::now()).await.unwrap(), 3);
    step.commit().await.unwrap();
    gateway.wait("all went", |calls| calls.len() >= before + 3).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_passes_a_list() {
    let gateway = Gateway::start(|_, _| {
        std::thread::sleep(Duration::from_millis(15));
        Answer::Status(200)
    })
    .await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let store = Store::open(Service::options(&folder)).await.unwrap();
    let numbers: Vec<String> = (0..600).map(number).collect();
    let list = answered_list(&store, &numbers).await;
    let mut step = store.begin().await.unwrap();
    assert_eq!(step.send_bulk(list, None, ("north", HOTLINE), Utc::now()).await.unwrap(), 600);
    step.commit().await.unwrap();
    gateway.wait("the list is going", |calls| calls.len() >= 20).await;
    let asha = number(700);
    let (before, at) = (gateway.calls().len(), Instant::now());
    post(&service, "p-1", &asha, "lift 3").await;
    let calls = gateway.wait("she has her answer", |calls| calls.iter().any(|call| call.to() == asha)).await;
    let passed = calls.iter().position(|call| call.to() == asha).unwrap() - before;
    assert!(passed <= 80, "{passed} rows went before it, {:?}", at.elapsed());
}

#[tokio::test(flavor = "multi_thread")]
async fn a_line_keeps_its_pace() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let config = line("north", &gateway.url) + "messages_a_second = 5\n";
    let service = Service::start(&folder, &config);
    for index in 0..20 {
        post(&service, &format!("p-{index}"), &number(510 + index), "lift 3").await;
    }
    let calls = gateway.wait("all went", |calls| calls.len() == 20).await;
    // No second holds more than its five and the five saved before.
    for (index, call) in calls.iter().enumerate() {
        let in_second = calls[index..].iter().filter(|other| other.at - call.at < Duration::from_secs(1)).count();
        assert!(in_second <= 11, "{in_second} in one second");
    }
    let took = calls[19].at - calls[0].at;
    assert!((Duration::from_millis(2_500)..Duration::from_secs(15)).contains(&took), "{took:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_message_that_failed_at_the_phone_is_seen() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    post(&service, "f-1", &number(520), "lift 3").await;
    let calls = gateway.wait("it is out", |calls| calls.len() == 1).await;
    let store = Store::open(Service::options(&folder)).await.unwrap();
    let receipt = async |status: &str| {
        let body = json!({ "id": calls[0].id(), "status": status });
        assert_eq!(service.post("/lines/north/receipt", &body).await.status(), 202);
        store.undelivered_replies(10).await.unwrap()
    };
    let rows = receipt("failed").await;
    assert_eq!((rows.len(), rows[0].reason.as_deref()), (1, Some("the network says: failed")));
    assert!(receipt("delivered").await.is_empty(), "it came after all");
    assert!(receipt("failed").await.is_empty(), "and stays so");

    // Sent again it is another message to the gateway, which had the first.
    post(&service, "f-2", &number(523), "lift 3").await;
    let calls = gateway.wait("it is out", |calls| calls.len() == 2).await;
    let body = json!({ "id": calls[1].id(), "status": "expired" });
    assert_eq!(service.post("/lines/north/receipt", &body).await.status(), 202);
    let mut step = store.begin().await.unwrap();
    step.send_again(calls[1].id().parse().unwrap(), Utc::now()).await.unwrap();
    step.commit().await.unwrap();
    let calls = gateway.wait("it is out again", |calls| calls.len() == 3).await;
    assert_eq!((calls[2].to(), &calls[2].body["text"]), (calls[1].to(), &calls[1].body["text"]));
    assert_ne!(calls[2].id(), calls[1].id());
}

#[tokio::test(flavor = "multi_thread")]
async fn messages_of_a_line_that_is_gone_are_seen_and_go_by_another() {
    let (dead, alive) = (Gateway::start(|_, _| Answer::Status(500)).await, Gateway::accepting().await);
    let folder = Folder::new();
    let service = Service::start(&folder, &(line("south", &dead.url) + &line("north", &alive.url)));
    service.post("/lines/south/inbound", &message("g-1", &number(521), "lift 3")).await;
    dead.wait("it was tried", |calls| !calls.is_empty()).await;
    drop(service);
    let _service = Service::start(&folder, &line("north", &alive.url));
    let store = Store::open(Service::options(&folder)).await.unwrap();
    let now = store.lines_now().await.unwrap();
    assert_eq!((now[0].line.as_str(), now[0].queued), ("south", 1));
    let mut step = store.begin().await.unwrap();
    let again = Again { line: Some("south"), since: None, by: Some(("north", HOTLINE)) };
    assert_eq!(step.send_all_again(&again, Utc::now()).await.unwrap(), 1);
    step.commit().await.unwrap();
    alive.wait("it went", |calls| calls.len() == 1).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_a_call_shows_is_never_sent() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let typed = json!({ "number": number(522), "text": "lift 3" });
    assert_eq!(service.post("/handset/messages", &typed).await.status(), 200);
    let mut database = Service::connect(&folder).await;
    let rows: (i64, i64) = sqlx::query_as(
        "select (select count(*) from sending), (select count(*) from outbox where state = 'taken' and updated_at = created_at)",
    )
    .fetch_one(&mut database)
    .await
    .unwrap();
    assert_eq!(rows, (0, 1));
}
