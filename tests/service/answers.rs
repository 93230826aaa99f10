//! Messages come in, each is answered once.

use base64::Engine;
use hmac::{Hmac, KeyInit, Mac};
use serde_json::json;

use crate::common::{Folder, Gateway, HOTLINE, Service, line, message, number};

#[tokio::test(flavor = "multi_thread")]
async fn a_message_is_answered_once_however_often_it_comes() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = number(1);
    for text in ["lift 5 pipe 40", "lift 5 pipe 40", "another text under the same id"] {
        let response = service.post("/lines/north/inbound", &message("n-1", &asha, text)).await;
        assert_eq!(response.status(), 202);
    }
    // A later message of another number shows that nothing else was on its way before it.
    service.post("/lines/north/inbound", &message("n-2", &number(2), "help")).await;
    let calls = gateway.wait("all are answered", |calls| calls.len() >= 3).await;
    // The same again is the same message; another text under its id is another one, and is not swallowed.
    assert_eq!(calls.iter().filter(|call| call.to() == asha).count(), 2);

    let body = &calls.iter().find(|call| call.to() == asha).unwrap().body;
    let keys: Vec<&str> = body.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(keys, ["id", "to", "from", "text", "encoding", "parts"]);
    assert_eq!(body["from"], HOTLINE);
    assert!(body["id"].as_str().unwrap().parse::<uuid::Uuid>().is_ok());
    assert!(!body["text"].as_str().unwrap().is_empty());
    assert!(body["encoding"] == "gsm7" || body["encoding"] == "ucs2");
    assert!(body["parts"].as_u64().unwrap() >= 1);
    assert_eq!(calls[0].headers["authorization"], "Bearer kito-valley-secret");
}

#[tokio::test(flavor = "multi_thread")]
async fn messages_at_the_same_moment_are_all_answered() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let baraka = number(3);
    let (one, two) = (message("s-1", &baraka, "lift 5"), message("s-2", &baraka, "pipe 40"));
    let repeated = message("s-1", &baraka, "lift 5");
    let (one, two, repeated) = tokio::join!(
        service.post("/lines/north/inbound", &one),
        service.post("/lines/north/inbound", &two),
        service.post("/lines/north/inbound", &repeated),
    );
    assert_eq!([one.status(), two.status(), repeated.status()], [202, 202, 202]);
    service.post("/lines/north/inbound", &message("s-3", &baraka, "panel 400")).await;
    let calls = gateway.wait("three are answered", |calls| calls.len() >= 3).await;
    let mut ids: Vec<&str> = calls.iter().map(|call| call.id()).collect();
    ids.dedup();
    assert_eq!(ids.len(), 3, "one reply a message, each sent once");
    assert!(ids.is_sorted(), "in the order in which they were decided");
}

#[tokio::test(flavor = "multi_thread")]
async fn forms_other_field_names_and_odd_texts_are_understood() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let mapped = line("south", &gateway.url) + "fields = { id = \"msgid\", from = \"sender\", text = \"body\" }\n";
    let service = Service::start(&folder, &(line("north", &gateway.url) + &mapped));

    let form = "id=f-1&from=%2B447700900011&to=32100&text=lift+5%2C+pipe+40&at=2026-03-01T06%3A30%3A00Z";
    assert_eq!(service.post_form("/lines/north/inbound", form).await.status(), 202);
    // A plus that was not encoded reads as a space.
    let form = "id=f-2&from=+447700900012&to=+447700900100&text=";
    assert_eq!(service.post_form("/lines/north/inbound", form).await.status(), 202);
    let form = "id=f-3&from=%2B447700900013&to=32100&text=lift%005%ff";
    assert_eq!(service.post_form("/lines/north/inbound", form).await.status(), 202);
    let body = json!({ "msgid": 14, "sender": number(14), "to": HOTLINE, "body": "lift\u{0}5 🌱", "extra": [1] });
    assert_eq!(service.post("/lines/south/inbound", &body).await.status(), 202);
    let long = "lift 5 ".repeat(2000);
    assert_eq!(service.post("/lines/north/inbound", &message("f-5", &number(15), &long)).await.status(), 202);

    let calls = gateway.wait("all are answered", |calls| calls.len() >= 5).await;
    let mut to: Vec<&str> = calls.iter().map(|call| call.to()).collect();
    to.sort_unstable();
    assert_eq!(to, (11..=15).map(number).collect::<Vec<_>>());
}

#[tokio::test(flavor = "multi_thread")]
async fn a_signed_line_takes_and_makes_signed_calls_only() {
    const KEY: &[u8] = b"kito-valley-signing-key-0001";
    let key = base64::prelude::BASE64_STANDARD.encode(KEY);
    let sign = |id: &str, timestamp: &str, body: &[u8]| {
        let mut mac = Hmac::<sha2::Sha256>::new_from_slice(KEY).unwrap();
        mac.update(format!("{id}.{timestamp}.").as_bytes());
        mac.update(body);
        format!("v1,{}", base64::prelude::BASE64_STANDARD.encode(mac.finalize().into_bytes()))
    };
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let config =
        line("north", &gateway.url).replace("secret = \"kito-valley-secret\"", &format!("signing_key = \"whsec_{key}\""));
    let service = Service::start(&folder, &config);
    let body = message("w-1", &number(21), "lift 5");
    assert_eq!(service.post("/lines/north/inbound", &body).await.status(), 401, "a bearer secret proves nothing here");

    let (raw, timestamp) = (body.to_string(), chrono::Utc::now().timestamp().to_string());
    let post = |signature: String| {
        let call = service.client.post(format!("{}/lines/north/inbound", service.url));
        let call = call.header("content-type", "application/json").header("webhook-id", "call-1");
        call.header("webhook-timestamp", &timestamp).header("webhook-signature", signature).body(raw.clone()).send()
    };
    let wrong = sign("call-2", &timestamp, raw.as_bytes());
    assert_eq!(post(wrong).await.unwrap().status(), 401);
    let right = sign("call-1", &timestamp, raw.as_bytes());
    assert_eq!(post(right).await.unwrap().status(), 202);

    let calls = gateway.wait("it is answered", |calls| !calls.is_empty()).await;
    let header = |name: &str| calls[0].headers[name].to_str().unwrap().to_owned();
    assert_eq!(header("webhook-id"), calls[0].id());
    let expected = sign(calls[0].id(), &header("webhook-timestamp"), &calls[0].raw);
    assert_eq!(header("webhook-signature"), expected);
}
