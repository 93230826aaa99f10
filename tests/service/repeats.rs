//! The same message again, another by the same name, and machines that answer machines.

use std::time::Duration;

use serde_json::{Value, json};
use sqlx::Executor;

use crate::common::{Folder, Gateway, SECRET, Service, line, message, number};

#[tokio::test(flavor = "multi_thread")]
async fn the_same_name_with_another_sender_or_text_is_another_message() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let (asha, baraka) = (number(801), number(802));
    for (from, text) in [(&asha, "lift 3"), (&asha, "lift 3"), (&baraka, "lift 3"), (&asha, "pipe 30")] {
        assert_eq!(service.post("/lines/north/inbound", &message("1", from, text)).await.status(), 202);
    }
    gateway.wait("three are answered", |calls| calls.len() == 3).await;
    tokio::time::sleep(Duration::from_millis(500)).await;
    let calls = gateway.calls();
    assert_eq!((calls.len(), calls.iter().filter(|call| call.to() == asha).count()), (3, 2));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_message_that_is_stored_is_taken_again_however_much_its_sender_writes() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let limits = "[limits]\nmessages_a_minute = 1\nburst = 1\n";
    let service = Service::start(&folder, &(line("north", &gateway.url) + limits));
    let asha = number(803);
    let post = async |id: &str| service.post("/lines/north/inbound", &message(id, &asha, "lift 3")).await.status().as_u16();
    assert_eq!([post("a").await, post("a").await, post("b").await, post("a").await], [202, 202, 429, 202]);
}

fn with_menus(gateway: &Gateway) -> String {
    format!("{}[lines.menus]\nkind = \"ussd\"\nnumber = \"38400\"\nsecret = \"{SECRET}\"\n", line("north", &gateway.url))
}

async fn screen(service: &Service, body: &Value) -> String {
    let answer = service.post("/lines/menus/ussd", body).await;
    assert_eq!(answer.status(), 200);
    answer.json::<Value>().await.unwrap()["text"].as_str().unwrap().to_owned()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_menu_call_made_again_is_the_same_step() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &with_menus(&gateway));
    let key = |input: &str| json!({ "session": "s-1", "from": number(804), "code": "*384#", "input": input });
    screen(&service, &key("")).await;
    let mut named = key("1");
    named["id"] = json!("g-1");
    let first = screen(&service, &named).await;
    assert_eq!(screen(&service, &named).await, first, "by the gateway's own name");

    // The commit takes a while, the caller's side gives up, and the gateway calls again.
    let mut database = Service::connect(&folder).await;
    database
        .execute(
            "create function slow() returns trigger language plpgsql as $$ begin perform pg_sleep(1.2); return new; end $$;
             create constraint trigger slow after insert on outbox deferrable initially deferred
                 for each row execute function slow()",
        )
        .await
        .unwrap();
    let call = service.client.post(format!("{}/lines/menus/ussd", service.url)).bearer_auth(SECRET).json(&key("3"));
    assert!(call.timeout(Duration::from_millis(600)).send().await.is_err());
    database.execute("drop trigger slow on outbox").await.unwrap();
    let again = screen(&service, &key("3")).await;
    let stored: Vec<String> = sqlx::query_scalar("select body from outbox where line = 'menus' order by seq")
        .fetch_all(&mut database)
        .await
        .unwrap();
    assert_eq!(stored.len(), 3, "three steps, each once: {stored:?}");
    assert_eq!(again, stored[2]);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_machine_that_answers_our_answers_is_left_alone_and_shown() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let limits = "[limits]\nmessages_a_minute = 100000\nburst = 100000\n";
    let service = Service::start(&folder, &(line("north", &gateway.url) + limits));
    let (slow, fast, asha) = (number(805), number(806), number(807));
    for index in 0..40 {
        let robot = message(&format!("s-{index}"), &slow, "Thank you for your message, we are closed.");
        assert_eq!(service.post("/lines/north/inbound", &robot).await.status(), 202);
    }
    // At a machine's pace, whatever else this machine has to do.
    let fast_ones = (0..40).map(|index| {
        let robot = message(&format!("f-{index}"), &fast, &format!("Ticket {index} is open."));
        let call = service.client.post(format!("{}/lines/north/inbound", service.url)).bearer_auth(SECRET).json(&robot);
        tokio::spawn(call.send())
    });
    let fast_ones: Vec<_> = fast_ones.collect();
    for answer in fast_ones {
        assert_eq!(answer.await.unwrap().unwrap().status(), 202);
    }
    for (index, text) in ["lift 3", "pipe 30", "panel 3x100", "garden 900", "help", "more"].iter().enumerate() {
        service.post("/lines/north/inbound", &message(&format!("a-{index}"), &asha, text)).await;
    }
    let calls =
        gateway.wait("she has all her answers", |calls| calls.iter().filter(|call| call.to() == asha).count() == 6).await;
    let to = |number: &str| calls.iter().filter(|call| call.to() == number).count();
    assert!(to(&slow) <= 5 && to(&fast) <= 9, "{} {}", to(&slow), to(&fast));
    let mut database = Service::connect(&folder).await;
    let shown: Vec<(String, i64)> = sqlx::query_as(
        "select sender, count(*) from inbound where wants_person and person_reason = 'loop' group by 1 order by 1",
    )
    .fetch_all(&mut database)
    .await
    .unwrap();
    assert_eq!(shown, [(slow, 1), (fast, 1)], "each once");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_talk_that_cannot_be_read_leaves_its_messages_to_staff() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = number(808);
    service.post("/lines/north/inbound", &message("u-1", &asha, "lift 3")).await;
    let mut database = Service::connect(&folder).await;
    for (id, breaks) in [("u-2", "update talk set form = 99"), ("u-3", "update talk set form = 1, talk = '[7]'")] {
        database.execute(breaks).await.unwrap();
        assert_eq!(service.post("/lines/north/inbound", &message(id, &asha, "pipe 30")).await.status(), 202, "{id}");
    }
    let shown: i64 = sqlx::query_scalar("select count(*) from inbound where wants_person and person_reason = 'unreadable'")
        .fetch_one(&mut database)
        .await
        .unwrap();
    assert_eq!(shown, 2);
    let kept: String = sqlx::query_scalar("select talk::text from talk").fetch_one(&mut database).await.unwrap();
    assert_eq!(kept, "[7]", "for the version that can read it");
}
