//! What an organisation's own programs read and are told.

use std::collections::BTreeSet;

use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use hmac::{Hmac, KeyInit, Mac};
use reqwest::{RequestBuilder, StatusCode, header};
use serde_json::{Value, json};
use sha2::Sha256;

use crate::common::{Folder, Gateway, Service, line, message, number};
use crate::seat::{Seat, run};

fn key(folder: &Folder, more: &[&str]) -> String {
    let made = run(folder, &[&["key", "add", "survey"], more].concat(), b"");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    String::from_utf8(made.stdout).unwrap().trim().to_owned()
}

fn get(service: &Service, key: &str, path: &str) -> RequestBuilder {
    service.client.get(format!("{}{path}", service.url)).bearer_auth(key)
}

#[tokio::test(flavor = "multi_thread")]
async fn answers_come_as_lines_or_as_one_array() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let key = key(&folder, &[]);
    let body = json!([{"ref": 1, "text": "lift 3 pipe 30 panel 3x100 garden 900"}, {"ref": 2, "text": "lift 900"}]);
    for path in ["/api/answers", "/api/v1/answers"] {
        let ask = |accept: &str| {
            let call = service.client.post(format!("{}{path}", service.url)).bearer_auth(&key);
            call.header(header::ACCEPT, accept).body(body.to_string()).send()
        };
        for accept in ["*/*", "application/x-ndjson", "application/json;q=0.5, application/x-ndjson"] {
            let answer = ask(accept).await.unwrap();
            assert_eq!(answer.headers()[header::CONTENT_TYPE], "application/x-ndjson", "{accept}");
            let text = answer.text().await.unwrap();
            let lines: Vec<Value> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
            assert_eq!((lines.len(), &lines[1]["ref"]), (2, &json!(2)));
        }
        let answer = ask("application/json").await.unwrap();
        assert_eq!(answer.headers()[header::CONTENT_TYPE], "application/json");
        let all: Vec<Value> = serde_json::from_str(&answer.text().await.unwrap()).unwrap();
        assert_eq!((all.len(), &all[0]["advice"]["verdict"].is_string()), (2, &true), "{all:?}");
        assert!(all[1]["error"]["message"].is_string());
    }
    let none = service.client.post(format!("{}/api/v1/answers", service.url)).bearer_auth(&key);
    let none = none.header(header::ACCEPT, "application/json").body("[]").send().await.unwrap();
    assert_eq!(none.text().await.unwrap().trim(), "[]");
}

#[tokio::test(flavor = "multi_thread")]
async fn messages_and_growers_are_read_page_after_page_with_a_key_for_it() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    for index in 0..5 {
        service.post("/lines/north/inbound", &message(&format!("r-{index}"), &number(670 + index), "lift 3 pipe 30")).await;
    }
    gateway.wait("all are answered", |calls| calls.len() >= 5).await;
    // The newest come two seconds late.
    tokio::time::sleep(std::time::Duration::from_millis(2500)).await;
    let answers_only = key(&folder, &[]);
    for path in ["/api/v1/messages", "/api/v1/growers"] {
        assert_eq!(service.get(path).await.status(), StatusCode::UNAUTHORIZED);
        assert_eq!(get(&service, &answers_only, path).send().await.unwrap().status(), StatusCode::FORBIDDEN);
    }
    let key = key(&folder, &["--reads-records"]);
    for (path, name, count) in [("/api/v1/messages", "messages", 10), ("/api/v1/growers", "growers", 5)] {
        let (mut seen, mut next) = (Vec::new(), None::<String>);
        for _ in 0..20 {
            let after = next.as_deref().map(|next| format!("&after={next}")).unwrap_or_default();
            let page = get(&service, &key, &format!("{path}?limit=3{after}")).send().await.unwrap();
            assert_eq!(page.status(), StatusCode::OK);
            let page: Value = serde_json::from_str(&page.text().await.unwrap()).unwrap();
            seen.extend(page[name].as_array().unwrap().clone());
            next = page["next"].as_str().map(str::to_owned);
            if next.is_none() {
                break;
            }
        }
        let ids: BTreeSet<&str> = seen.iter().map(|record| record["id"].as_str().unwrap()).collect();
        assert_eq!((seen.len(), ids.len()), (count, count), "each once: {seen:?}");
        assert!(seen[0]["number"].as_str().unwrap().starts_with("+447700900"));
    }
    for wrong in ["limit=0", "limit=x", "after=x", "from=yesterday"] {
        let refused = get(&service, &key, &format!("/api/v1/messages?{wrong}")).send().await.unwrap();
        assert_eq!(refused.status(), StatusCode::BAD_REQUEST, "{wrong}");
        let refused: Value = serde_json::from_str(&refused.text().await.unwrap()).unwrap();
        assert!(refused["error"]["message"].as_str().unwrap().len() > 20, "{refused}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn an_organisation_is_told_when_somebody_wants_a_person() {
    let gateway = Gateway::accepting().await;
    let receiver = Gateway::accepting().await;
    let secret = BASE64_STANDARD.encode([7_u8; 32]);
    let folder = Folder::new();
    let events = format!("[events]\nurl = \"{}\"\nsigning_key = \"whsec_{secret}\"\n", receiver.url);
    let service = Service::start(&folder, &format!("{}\n{events}", line("north", &gateway.url)));
    service.post("/lines/north/inbound", &message("e-1", &number(680), "lift 3 pipe 30")).await;
    service.post("/lines/north/inbound", &message("e-2", &number(680), "person please")).await;
    let calls = receiver.wait("the event is told", |calls| !calls.is_empty()).await;
    assert_eq!(calls.len(), 1, "only of what wants a person");
    let call = &calls[0];
    assert_eq!(call.body["type"], "talk.wants_person");
    assert_eq!(call.body["data"]["reason"], "asked");
    let text = call.body.to_string();
    assert!(!text.contains("7700900680") && !text.contains("please"), "neither number nor text: {text}");
    // Standard Webhooks 1.0.0: base64(HMAC-SHA256(key, "id.timestamp.body")), worked out here by itself.
    let head = |name: &str| call.headers[name].to_str().unwrap();
    let mut mac = Hmac::<Sha256>::new_from_slice(&[7_u8; 32]).unwrap();
    mac.update(format!("{}.{}.", head("webhook-id"), head("webhook-timestamp")).as_bytes());
    mac.update(&call.raw);
    let expected = format!("v1,{}", BASE64_STANDARD.encode(mac.finalize().into_bytes()));
    assert_eq!(head("webhook-signature"), expected);
    // The grower's name leads to the talk.
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let grower = call.body["data"]["grower"].as_str().unwrap();
    assert!(asha.page(&format!("/desk/waiting/{grower}")).await.contains(&number(680)));
}
