//! Who has opted out gets nothing more.

use chrono::Utc;
use noonwater::store::{BulkAnswer, NewBulkList, NewBulkRow, Store};
use serde_json::json;
use uuid::Uuid;

use crate::common::{Answer, Folder, Gateway, HOTLINE, Service, eventually, line, message, number};

/// A list whose rows are all answered and may be sent, one to each number.
pub async fn answered_list(store: &Store, numbers: &[String]) -> Uuid {
    let (list, now) = (Uuid::now_v7(), Utc::now());
    let mut step = store.begin().await.unwrap();
    let new = NewBulkList { id: list, name: "a list", staff: "Baraka", created_at: now, language: None, place: None };
    step.add_bulk_list(&new).await.unwrap();
    let row = |number: &String| NewBulkRow {
        cells: json!({ "number": number, "note": "by the mango tree" }),
        text: "lift 3 pipe 30 panel 3x100 garden 900".to_owned(),
        number: Some(number.clone()),
        is_rejected: false,
        language: None,
        place: None,
    };
    let rows: Vec<NewBulkRow> = numbers.iter().map(row).collect();
    step.add_bulk_rows(list, 1, &rows).await.unwrap();
    for n in 1..=i32::try_from(numbers.len()).unwrap() {
        let reply = Some("Clean the panels.".to_owned());
        let answer = BulkAnswer { reply, encoding: Some("gsm7"), parts: Some(1), ..BulkAnswer::default() };
        step.bulk_rows_done(&[(list, n, answer)]).await.unwrap();
    }
    step.commit().await.unwrap();
    list
}

#[tokio::test(flavor = "multi_thread")]
async fn an_opt_out_holds_whatever_the_stored_talk_calls_it() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let (asha, baraka) = (number(401), number(402));
    service.post("/lines/north/inbound", &message("o-1", &asha, "stop")).await;
    let mut database = Service::connect(&folder).await;
    // As a later form of the talk may store it.
    sqlx::query("update talk set talk = (talk - 'stopped') || '{\"opted_out\": true}' where number = $1")
        .bind(&asha)
        .execute(&mut database)
        .await
        .unwrap();
    let store = Store::open(Service::options(&folder)).await.unwrap();
    let list = answered_list(&store, &[asha.clone(), baraka.clone()]).await;
    assert_eq!(store.bulk_to_send(list, None, &[]).await.unwrap().opted_out, 1);
    let mut step = store.begin().await.unwrap();
    assert_eq!(step.send_bulk(list, None, ("north", "+447700900100"), Utc::now()).await.unwrap(), 1);
    step.commit().await.unwrap();
    eventually("the other one gets it", || async { gateway.calls().iter().find(|call| call.to() == baraka).cloned() })
        .await;
    assert_eq!(gateway.calls().iter().filter(|call| call.to() == asha).count(), 1, "the answer to the opt-out alone");
}

#[tokio::test(flavor = "multi_thread")]
async fn an_opt_out_stops_what_is_queued() {
    let gateway = Gateway::start(|_, _| Answer::Status(500)).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = number(403);
    let store = Store::open(Service::options(&folder)).await.unwrap();
    let list = answered_list(&store, std::slice::from_ref(&asha)).await;
    let mut step = store.begin().await.unwrap();
    step.send_bulk(list, None, ("north", HOTLINE), Utc::now()).await.unwrap();
    step.commit().await.unwrap();
    gateway.wait("it was tried in vain", |calls| !calls.is_empty()).await;
    service.post("/lines/north/inbound", &message("q-1", &asha, "stop")).await;
    // One that was queued at the same moment, unseen by the opt-out.
    let late = answered_list(&store, std::slice::from_ref(&asha)).await;
    let mut database = Service::connect(&folder).await;
    sqlx::query("update talk set stopped = false").execute(&mut database).await.unwrap();
    let mut step = store.begin().await.unwrap();
    assert_eq!(step.send_bulk(late, None, ("north", HOTLINE), Utc::now()).await.unwrap(), 1);
    step.commit().await.unwrap();
    sqlx::query("update talk set stopped = true").execute(&mut database).await.unwrap();
    let tried = gateway.calls().len();
    gateway.now_accepts();
    eventually("nothing is on its way", || async {
        let mut database = Service::connect(&folder).await;
        let left: i64 = sqlx::query_scalar("select count(*) from sending").fetch_one(&mut database).await.unwrap();
        (left == 0).then_some(())
    })
    .await;
    let states: Vec<String> =
        sqlx::query_scalar("select state from outbox order by seq").fetch_all(&mut database).await.unwrap();
    assert_eq!(states, ["stopped", "taken", "stopped"]);
    let texts: Vec<String> = gateway.calls()[tried..].iter().map(|call| call.body["text"].to_string()).collect();
    assert!(texts.iter().all(|text| !text.contains("Clean the panels")), "{texts:?}");
}
