//! Menu gateways of four shapes, by configuration alone. The configurations are those of DEVELOPERS.md, word by word.

use reqwest::{Client, RequestBuilder, Response};
use serde_json::{Value, json};

use crate::common::{Folder, Service, number};

/// The part of DEVELOPERS.md that stands under this heading as TOML.
fn configuration(shape: &str) -> String {
    let page = include_str!("../../DEVELOPERS.md");
    let after = page.split(&format!("Shape {shape}:")).nth(1).expect("the shape");
    let block = after.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next());
    block.expect("its configuration").to_owned()
}

fn client() -> Client {
    noonwater::lines::http::client(false).no_proxy().build().expect("a client")
}

async fn text(call: RequestBuilder) -> String {
    let answer: Response = call.send().await.expect("an answer");
    assert_eq!(answer.status(), 200);
    answer.text().await.expect("a text")
}

/// From the first screen to the answer: lift, panels, pipe, garden.
const KEYS_OF_A_SHEET: [&str; 5] = ["1", "3", "3*100", "30", "900"];

#[tokio::test(flavor = "multi_thread")]
async fn plain_text_with_everything_keyed_so_far_in_a_form() {
    let folder = Folder::new();
    let service = Service::start(&folder, &configuration("one"));
    let url = format!("{}/lines/menu/ussd", service.url);
    // This gateway sends bare numbers of its country, and everything keyed in the session.
    let bare = number(331)[3..].to_owned();
    let call = |input: &str| {
        let form = [("sessionId", "s-1"), ("phoneNumber", &bare), ("serviceCode", "*150#"), ("text", input)];
        let body = form_urlencoded::Serializer::new(String::new()).extend_pairs(form).finish();
        let call = client().post(&url).basic_auth("gateway", Some("change-me-now-please"));
        text(call.header("content-type", "application/x-www-form-urlencoded").body(body))
    };
    let first = call("").await;
    assert!(first.starts_with("CON "), "{first}");
    assert_eq!(call("").await, first, "a call made again gives the same screen");
    let second = call("1").await;
    assert!(second.starts_with("CON ") && second != first, "{second}");
    assert_eq!(call("1").await, second, "and is no second key");
    let wrong = client().post(&url).basic_auth("gateway", Some("other")).body("").send().await.expect("an answer");
    assert_eq!(wrong.status(), 401);
}

#[tokio::test(flavor = "multi_thread")]
async fn json_with_flags_and_a_sheet_dialled_at_once() {
    let folder = Folder::new();
    let service = Service::start(&folder, &configuration("two"));
    let url = format!("{}/lines/menu/ussd", service.url);
    let call = |kind: &str, input: &str, id: &str| {
        let body = json!({ "session": "t-1", "msisdn": number(332), "type": kind, "message": input, "transaction": id });
        text(client().post(&url).header("x-secret", "change-me-now-please").json(&body))
    };
    let answer: Value = serde_json::from_str(&call("1", "*150*3*30*300*900#", "c-1").await).expect("JSON");
    assert!(answer["message"].as_str().expect("a text").contains("m3"), "{answer}");
    assert!(answer["type"] == "2" || answer["type"] == "3", "{answer}");
    let again: Value = serde_json::from_str(&call("1", "*150*3*30*300*900#", "c-1").await).expect("JSON");
    assert_eq!(again, answer, "a call made again gives the same screen");
    let over: Value = serde_json::from_str(&call("3", "", "c-2").await).expect("JSON");
    assert_eq!(over["type"], "3");
}

#[tokio::test(flavor = "multi_thread")]
async fn by_query_with_the_secret_in_it() {
    let folder = Folder::new();
    let service = Service::start(&folder, &configuration("three"));
    let url = |input: &str, key: &str| {
        let from = &number(333)[1..];
        format!("{}/lines/menu/ussd?session=q-1&from={from}&input={input}&key={key}", service.url)
    };
    let first = text(client().get(url("", "change-me-now-please"))).await;
    assert!(first.starts_with("CON "), "{first}");
    assert_eq!(client().get(url("", "other")).send().await.expect("an answer").status(), 401);
    assert_eq!(client().post(url("", "change-me-now-please")).send().await.expect("an answer").status(), 405);
}

#[tokio::test(flavor = "multi_thread")]
async fn signed_json_as_it_is_without_a_word_of_configuration() {
    let folder = Folder::new();
    let service = Service::start(&folder, &configuration("four"));
    let call = |input: &str| {
        let body = json!({ "session": "j-1", "from": number(334), "code": "*150#", "input": input });
        text(client().post(format!("{}/lines/menu/ussd", service.url)).bearer_auth("change-me-now-please").json(&body))
    };
    let mut screen: Value = serde_json::from_str(&call("").await).expect("JSON");
    for key in KEYS_OF_A_SHEET {
        assert_eq!(screen["more"], true, "before {key}: {screen}");
        screen = serde_json::from_str(&call(key).await).expect("JSON");
    }
    assert!(screen["text"].as_str().expect("a text").contains("m3"), "{screen}");
}
