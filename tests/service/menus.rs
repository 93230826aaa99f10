//! Menu sessions, and forgetting.

use serde_json::{Value, json};

use crate::common::{Folder, Gateway, HOTLINE, SECRET, Service, eventually, line, message, number};

fn config(gateway: &Gateway) -> String {
    let menus =
        format!("[lines.menus]\nkind = \"ussd\"\nnumber = \"38400\"\nsecret = \"{SECRET}\"\nsms_line = \"north\"\n");
    format!("{}{menus}", line("north", &gateway.url))
}

async fn key(service: &Service, session: &str, from: &str, input: &str) -> (String, bool) {
    let body = json!({ "session": session, "from": from, "code": "*384#", "input": input });
    let response = service.post("/lines/menus/ussd", &body).await;
    assert_eq!(response.status(), 200);
    let screen: Value = response.json().await.unwrap();
    assert_eq!(screen.as_object().unwrap().len(), 2, "{screen}");
    (screen["text"].as_str().unwrap().to_owned(), screen["more"].as_bool().unwrap())
}

#[tokio::test(flavor = "multi_thread")]
async fn a_session_comes_to_an_advice_that_also_goes_out_as_a_message() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &config(&gateway));
    let asha = number(301);
    assert_eq!(key(&service, "s-1", &asha, "").await.0.lines().count(), 6);
    let (question, more) = key(&service, "s-1", &asha, "1").await;
    assert!(more && question.contains("lift"));
    let (panels, _) = key(&service, "s-1", &asha, "5").await;
    // The session drops; dialled again it stands where it stood.
    assert_eq!(key(&service, "s-2", &asha, "").await, (panels, true));
    for input in ["5*80", "40"] {
        assert!(key(&service, "s-2", &asha, input).await.1);
    }
    let (advice, more) = key(&service, "s-2", &asha, "1500").await;
    assert!(more && advice.contains("m3") && advice.contains("\n1 "), "{advice}");
    let calls = gateway.wait("the advice came as a message", |calls| !calls.is_empty()).await;
    assert_eq!(calls.len(), 1, "the screens themselves are no messages");
    assert_eq!((calls[0].to(), &calls[0].body["from"]), (asha.as_str(), &json!(HOTLINE)));
    assert!(calls[0].body["text"].as_str().unwrap().contains("m3"));
    // The same talk goes on by short message.
    service.post("/lines/north/inbound", &message("m-1", &asha, "garden 1600")).await;
    let calls = gateway.wait("it is answered", |calls| calls.len() >= 2).await;
    assert!(calls[1].body["text"].as_str().unwrap().contains("m3"));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_call_without_proof_or_with_wrong_fields_is_refused() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &config(&gateway));
    let url = format!("{}/lines/menus/ussd", service.url);
    let good = json!({ "session": "s", "from": number(302), "code": "*384#", "input": "" });
    assert_eq!(service.client.post(&url).json(&good).send().await.unwrap().status(), 401);
    for (field, value) in [("session", json!("")), ("from", json!("0700")), ("input", json!(7)), ("code", Value::Null)] {
        let mut body = good.clone();
        body[field] = value;
        let refused = service.post("/lines/menus/ussd", &body).await;
        assert_eq!(refused.status(), 400);
        assert_eq!(refused.json::<Value>().await.unwrap()["error"]["field"], field);
    }
    assert_eq!(service.post("/lines/north/ussd", &good).await.status(), 401);
    let form = format!("session=f-1&from=%2B{}&code=%2A384%23&input=", &number(302)[1..]);
    assert_eq!(service.post_form("/lines/menus/ussd", &form).await.status(), 200);
    // A number that keys without end is put off politely, and the session with it.
    let mut ended = false;
    for _ in 0..40 {
        ended |= !key(&service, "s", &number(303), "").await.1;
    }
    assert!(ended);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_screen_comes_even_while_the_database_is_held_up() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &config(&gateway));
    let baraka = number(304);
    key(&service, "s-1", &baraka, "").await;
    let mut other = Service::connect(&folder).await;
    sqlx::query("begin").execute(&mut other).await.unwrap();
    sqlx::query("lock table talk in access exclusive mode").execute(&mut other).await.unwrap();
    let (busy, more) = key(&service, "s-1", &baraka, "1").await;
    assert!(!more && !busy.is_empty());
    sqlx::query("rollback").execute(&mut other).await.unwrap();
    // What was cut off left nothing behind: the first menu still waits.
    assert_eq!(key(&service, "s-2", &baraka, "").await.0.lines().count(), 6);
}

#[tokio::test(flavor = "multi_thread")]
async fn forgetting_deletes_every_row_of_a_number_and_no_other() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &config(&gateway));
    let (asha, baraka) = (number(305), number(306));
    let each = [("a-1", &asha, "lift 5"), ("b-1", &baraka, "lift 7"), ("a-2", &asha, "forget"), ("a-3", &asha, "yes")];
    for (sent, (id, from, text)) in each.into_iter().enumerate() {
        assert_eq!(service.post("/lines/north/inbound", &message(id, from, text)).await.status(), 202);
        // What is still on its way when a number is forgotten is forgotten with it: each is waited for.
        gateway.wait("it is answered", |calls| calls.len() > sent).await;
    }
    assert_eq!(gateway.calls().len(), 4);
    let mut database = Service::connect(&folder).await;
    let count =
        "select (select count(*) from inbound where sender = $1) + (select count(*) from outbox where recipient = $1)
                      + (select count(*) from talk where number = $1)";
    eventually("nothing is left", || async {
        let mut database = Service::connect(&folder).await;
        let left: i64 = sqlx::query_scalar(count).bind(&asha).fetch_one(&mut database).await.unwrap();
        (left == 0).then_some(())
    })
    .await;
    let others: i64 = sqlx::query_scalar(count).bind(&baraka).fetch_one(&mut database).await.unwrap();
    assert_eq!(others, 3);

    // An opt-out outlives what is forgotten after it.
    for (id, text) in [("b-2", "stop"), ("b-3", "forget")] {
        service.post("/lines/north/inbound", &message(id, &baraka, text)).await;
    }
    eventually("only the opt-out is left", || async {
        let mut database = Service::connect(&folder).await;
        let talk = "select count(*) from talk where number = $1 and talk ->> 'stopped' = 'true'";
        let stopped: i64 = sqlx::query_scalar(talk).bind(&baraka).fetch_one(&mut database).await.unwrap();
        let left: i64 = sqlx::query_scalar(count).bind(&baraka).fetch_one(&mut database).await.unwrap();
        (stopped == 1 && left == 1).then_some(())
    })
    .await;
}
