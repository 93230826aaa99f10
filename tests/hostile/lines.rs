//! What somebody may try at the lines.

use base64::Engine;
use hmac::{Hmac, KeyInit, Mac};
use reqwest::Response;
use serde_json::{Value, json};
use sha2::Sha256;

use crate::common::{Answer, Folder, Gateway, Service, line, message, number};

const KEY: &str = "a2l0byB2YWxsZXkgc2lnbmluZyBrZXkgMQ==";

fn menus() -> String {
    format!("[lines.menus]\nkind = \"ussd\"\nnumber = \"38400\"\nsigning_key = \"whsec_{KEY}\"\n")
}

/// A call signed as the Standard Webhooks specification says, by code that is not the service's.
async fn signed(service: &Service, id: &str, body: &Value) -> Response {
    let (at, body) = (chrono::Utc::now().timestamp().to_string(), body.to_string());
    let key = base64::prelude::BASE64_STANDARD.decode(KEY).unwrap();
    let mut mac = Hmac::<Sha256>::new_from_slice(&key).unwrap();
    mac.update(format!("{id}.{at}.{body}").as_bytes());
    let signature = base64::prelude::BASE64_STANDARD.encode(mac.finalize().into_bytes());
    let call = service.client.post(format!("{}/lines/menus/ussd", service.url)).header("content-type", "application/json");
    let call = call.header("webhook-id", id).header("webhook-timestamp", at);
    call.header("webhook-signature", format!("v1,{signature}")).body(body).send().await.unwrap()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_signed_call_that_is_repeated_shows_the_same_screen() {
    let folder = Folder::new();
    let service = Service::start(&folder, &menus());
    let key = |input: &str| json!({ "session": "s-1", "from": number(710), "code": "*384#", "input": input });
    let screen = async |id: &str, input: &str| signed(&service, id, &key(input)).await.json::<Value>().await.unwrap();
    screen("w-1", "").await;
    let first = screen("w-2", "1").await;
    let answer = screen("w-3", "3").await;
    for _ in 0..3 {
        assert_eq!(screen("w-3", "3").await, answer, "nobody pressed the key again");
        assert_eq!(screen("w-2", "1").await, first, "an older call shows its own screen");
    }
    let mut connection = Service::connect(&folder).await;
    let calls: i64 = sqlx::query_scalar("select count(*) from inbound").fetch_one(&mut connection).await.unwrap();
    assert_eq!(calls, 3);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_line_s_name_is_not_found_out_by_trying() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &(line("north", &gateway.url) + &menus()));
    let told = async |path: &str| {
        let call = service.client.post(format!("{}{path}", service.url)).bearer_auth("a wrong secret");
        let answer = call.json(&message("n-1", &number(720), "lift 3")).send().await.unwrap();
        (answer.status(), answer.text().await.unwrap())
    };
    let known = told("/lines/north/inbound").await;
    assert_eq!(known.0, 401);
    for path in
        ["/lines/south/inbound", "/lines/menus/inbound", "/lines/north/ussd", "/lines/handset/receipt", "/lines/%00/ussd"]
    {
        assert_eq!(told(path).await, known, "{path}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn the_environment_sends_nothing_by_its_proxy() {
    let gateway = Gateway::accepting().await;
    let trap = Gateway::start(|_, _| Answer::Status(200)).await;
    let proxy = trap.url.trim_end_matches("/out").to_owned();
    let folder = Folder::new();
    let variables = ["HTTP_PROXY", "http_proxy", "ALL_PROXY", "all_proxy"].map(|name| (name, proxy.as_str()));
    let service = Service::start_with(&folder, &line("north", &gateway.url), &variables);
    service.post("/lines/north/inbound", &message("p-1", &number(730), "lift 3")).await;
    gateway.wait("the answer comes straight", |calls| calls.len() == 1).await;
    assert!(trap.calls().is_empty());
}

#[tokio::test(flavor = "multi_thread")]
async fn every_answer_says_that_it_stands_in_no_frame_and_is_what_it_says() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    for path in
        ["/desk/sign-in", "/handset", "/metrics", "/healthz", "/openapi.json", "/nothing", "/lines/x/inbound", "/api"]
    {
        let answer = service.get(path).await;
        assert_eq!(answer.headers()["x-frame-options"], "DENY", "{path}");
        assert_eq!(answer.headers()["x-content-type-options"], "nosniff", "{path}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn who_asks_and_leaves_costs_no_connection() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    for index in 0..20 {
        service.post("/lines/north/inbound", &message(&format!("w-{index}"), &number(740), "lift 3")).await;
    }
    let mut connection = Service::connect(&folder).await;
    let backends = "select array_agg(pid order by pid) from pg_stat_activity where application_name = 'noonwater'";
    let before: Vec<i32> = sqlx::query_scalar(backends).fetch_one(&mut connection).await.unwrap();
    for index in 0..60_u32 {
        let body = message(&format!("c-{index}"), &number(index), "lift 3 pipe 30 panel 3x100 garden 900");
        let asked = service.try_post("/lines/north/inbound", &body);
        // Gone in the midst of it, at another moment each time.
        let _ = tokio::time::timeout(std::time::Duration::from_micros(300 * u64::from(index % 20)), asked).await;
    }
    tokio::time::sleep(std::time::Duration::from_secs(1)).await;
    let after: Vec<i32> = sqlx::query_scalar(backends).fetch_one(&mut connection).await.unwrap();
    let lost: Vec<_> = before.iter().filter(|pid| !after.contains(pid)).collect();
    assert!(lost.is_empty(), "{} of {} connections are gone", lost.len(), before.len());
}
