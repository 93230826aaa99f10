//! What is wrong with a request is said in one shape, and nothing of it is kept.

use reqwest::Response;
use serde_json::{Value, json};

use crate::common::{Folder, Gateway, HOTLINE, Service, line, message, number};

async fn error_of(response: Response) -> (u16, Value) {
    let status = response.status().as_u16();
    let body: Value = response.json().await.expect("a JSON error");
    let error = body["error"].clone();
    assert!(error["code"].is_string() && error["message"].as_str().is_some_and(|m| m.ends_with('.')), "{body}");
    (status, error)
}

#[tokio::test(flavor = "multi_thread")]
async fn wrong_fields_are_named() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let good = message("r-1", &number(31), "lift 5");
    for (field, value) in [
        ("id", Value::Null),
        ("id", json!("")),
        ("id", json!("a\u{0}b")),
        ("id", json!("x".repeat(201))),
        ("from", Value::Null),
        ("from", json!("07700900031")),
        ("from", json!("+44 7700 900031")),
        ("from", json!("32100")),
        ("from", json!(447_700_900_031_u64)),
        ("to", json!("our number")),
        ("to", Value::Null),
        ("text", Value::Null),
        ("text", json!(["lift 5"])),
        ("at", json!("yesterday")),
        ("at", json!(5)),
    ] {
        let mut body = good.clone();
        body[field] = value.clone();
        let (status, error) = error_of(service.post("/lines/north/inbound", &body).await).await;
        assert_eq!((status, &error["field"]), (400, &json!(field)), "{value}: {error}");
    }
    let json = |body: &'static str| {
        let call = service.client.post(format!("{}/lines/north/inbound", service.url));
        call.bearer_auth("kito-valley-secret").header("content-type", "application/json").body(body).send()
    };
    for body in ["", "{", "[]", "\"lift 5\"", "{\"id\": \"\\ud800\"}"] {
        let (status, error) = error_of(json(body).await.unwrap()).await;
        assert_eq!((status, &error["field"]), (400, &json!("body")), "{body}");
    }
    assert_eq!(service.post("/lines/north/inbound", &good).await.status(), 202, "and the good one is taken");
    let calls = gateway.wait("it is answered", |calls| !calls.is_empty()).await;
    assert_eq!(calls.len(), 1, "none of the refused was");
}

#[tokio::test(flavor = "multi_thread")]
async fn strangers_wrong_kinds_and_too_much_are_refused() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let limits = "[limits]\nmessages_a_minute = 1\nburst = 2\n";
    let service = Service::start(&folder, &(line("north", &gateway.url) + limits));
    let (path, body) = ("/lines/north/inbound", message("t-1", &number(41), "lift 5"));
    let url = format!("{}{path}", service.url);

    for secret in [None, Some(""), Some("kito-valley-secre"), Some("kito-valley-secret2"), Some("other")] {
        let call = service.client.post(&url).json(&body);
        let call = secret.map_or(call.try_clone().unwrap(), |secret| call.bearer_auth(secret));
        let (status, error) = error_of(call.send().await.unwrap()).await;
        assert_eq!((status, &error["code"]), (401, &json!("unauthorized")), "{secret:?}");
    }
    for line in ["south", "handset", "nor%00th"] {
        let (status, _) = error_of(service.post(&format!("/lines/{line}/inbound"), &body).await).await;
        assert_eq!(status, 401, "{line}: not told from a line whose secret is wrong");
    }
    assert_eq!(error_of(service.get("/nothing/here").await).await.0, 404);
    assert_eq!(error_of(service.get(path).await).await.0, 405);

    let large = message("t-2", &number(41), &"x".repeat(16 * 1024));
    assert_eq!(error_of(service.post(path, &large).await).await.0, 413);
    let call = service.client.post(&url).bearer_auth("kito-valley-secret").header("content-type", "text/plain");
    assert_eq!(error_of(call.body("lift 5").send().await.unwrap()).await.0, 415);

    for id in ["t-3", "t-4"] {
        assert_eq!(service.post(path, &message(id, &number(42), "lift 5")).await.status(), 202);
    }
    let response = service.post(path, &message("t-5", &number(42), "lift 5")).await;
    let wait_s: u64 = response.headers()["retry-after"].to_str().unwrap().parse().unwrap();
    assert!((1..=61).contains(&wait_s), "{wait_s}");
    assert_eq!(error_of(response).await.0, 429);
    assert_eq!(service.post(path, &message("t-6", &number(43), "lift 5")).await.status(), 202, "others may send");
}

#[tokio::test(flavor = "multi_thread")]
async fn receipts_are_kept_or_refused() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &(line("north", &gateway.url) + &line("south", &gateway.url)));
    service.post("/lines/north/inbound", &message("q-1", &number(51), "lift 5")).await;
    let calls = gateway.wait("it is answered", |calls| !calls.is_empty()).await;
    let id = calls[0].id();
    for status in ["delivered", "delivered", "failed", "expired"] {
        let response = service.post("/lines/north/receipt", &json!({ "id": id, "status": status })).await;
        assert_eq!(response.status(), 202, "{status}");
    }
    let refused = [
        ("/lines/north/receipt", json!({ "id": id, "status": "eaten" }), 400, json!("status")),
        ("/lines/north/receipt", json!({ "id": HOTLINE, "status": "failed" }), 400, json!("id")),
        ("/lines/north/receipt", json!({ "id": uuid::Uuid::nil(), "status": "failed" }), 404, Value::Null),
        ("/lines/south/receipt", json!({ "id": id, "status": "failed" }), 404, Value::Null),
    ];
    for (path, body, status, field) in refused {
        let (got, error) = error_of(service.post(path, &body).await).await;
        assert_eq!((got, &error["field"]), (status, &field), "{body}");
    }
}
