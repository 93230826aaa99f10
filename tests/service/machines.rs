//! `POST /api/answers` where something is wrong, and the world behind it.

use std::sync::Arc;

use noonwater::work::refresh;
use noonwater::world::{self, Shelf};
use serde_json::{Value, json};

use crate::common::{Folder, Service, eventually, program, run_to_end};

const GOOD: &str = "lift 5 pipe 40 panel 5x80 garden 1500 tomato";

fn key(folder: &Folder) -> String {
    let made = run_to_end(program().args(["key", "add", "survey"]).env("NOONWATER_DATA_DIR", folder.path()));
    String::from_utf8(made.stdout).unwrap().trim().to_owned()
}

async fn ask(service: &Service, key: &str, body: String) -> Vec<Value> {
    // RFC 9110, section 11.1: the scheme's name ignores case.
    let call = service.client.post(format!("{}/api/answers", service.url));
    let call = call.header("authorization", format!("bearer {key}")).body(body);
    let answer = call.send().await.unwrap();
    assert_eq!(
        (answer.status().as_u16(), &answer.headers()["content-type"]),
        (200, &"application/x-ndjson".parse().unwrap())
    );
    let lines = answer.text().await.unwrap();
    lines.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_wrong_is_answered_in_its_place_and_the_rest_goes_on() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let key = key(&folder);
    let long = format!("{{\"ref\":\"long\",\"text\":\"{}\"}}", "x".repeat(70 * 1024));
    let wrong = [
        ("{\"ref\":1,\"text\":\"lift", "unreadable", ""),
        ("5", "unreadable", ""),
        (&long, "unreadable", ""),
        ("{\"ref\":4}", "missing", "text"),
        ("{\"ref\":5,\"text\":5}", "wrong_type", "text"),
        ("{\"ref\":6,\"text\":\"help\",\"lang\":[\"xx\"]}", "wrong_type", "lang"),
        ("{\"ref\":7,\"text\":\"help\",\"lang\":\"xx\"}", "unknown", "lang"),
        ("{\"ref\":8,\"text\":\"help\",\"place\":\"nowhere\"}", "unknown", "place"),
        ("{\"ref\":9,\"text\":\"help\",\"at\":\"yesterday\"}", "bad_time", "at"),
        ("{\"ref\":10,\"text\":\"help\",\"at\":\"+99999-01-01T00:00:00Z\"}", "bad_time", "at"),
    ];
    let good = json!({"ref": "good", "text": GOOD}).to_string();
    let mut body = String::new();
    for (element, ..) in &wrong {
        body += &format!("{element}\n{good}\n");
    }
    let lines = ask(&service, &key, body).await;
    assert_eq!(lines.len(), 2 * wrong.len());
    for (pair, (_, code, field)) in lines.chunks(2).zip(wrong) {
        let error = &pair[0]["error"];
        assert_eq!((&error["code"], &error["field"]), (&json!(code), &json!(field)), "{error}");
        assert!(error["message"].as_str().is_some_and(|sentence| sentence.len() > 20), "{error}");
        assert!(pair[0].get("reply").is_none());
        assert_eq!(pair[1]["ref"], "good");
        assert!(pair[1]["error"].is_null() && pair[1]["advice"].is_object());
    }
    assert_eq!(lines[6]["ref"], 4);
    // In an array too; one that is cut off says so.
    let lines = ask(&service, &key, format!("[{good}, 5, {good}")).await;
    assert_eq!(lines.iter().map(|line| &line["error"]["code"]).filter(|code| !code.is_null()).count(), 2);
    assert_eq!(ask(&service, &key, String::new()).await.len(), 0);
    assert_eq!(ask(&service, &key, "what is this".to_owned()).await[0]["error"]["code"], "unreadable");
}

#[tokio::test(flavor = "multi_thread")]
async fn an_element_may_carry_its_time() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let key = key(&folder);
    let at = |at: Option<&str>| json!({"text": "sun", "at": at}).to_string();
    let lines = ask(&service, &key, [at(None), at(Some("2026-06-21T09:00:00+03:00"))].join("\n")).await;
    assert!(lines.iter().all(|line| line["reply"].is_string()), "{lines:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn the_world_is_loaded_once_and_no_change_in_between_is_missed() {
    let folder = Folder::new();
    // On a folder with places already and on one without.
    for _ in 0..2 {
        let mut service = Service::start(&folder, "");
        service.terminate();
        assert!(service.wait().success());
        assert_eq!(service.stderr().matches("world loaded").count(), 1, "{}", service.stderr());
    }

    let _service = Service::start(&folder, "");
    let store = noonwater::store::Store::open(Service::options(&folder)).await.unwrap();
    let config = noonwater::config::read(None).unwrap();
    let ear = store.hear(noonwater::store::Signal::World).await.unwrap();
    let shelf = Arc::new(Shelf::new(world::load(&store, &config).await.unwrap()));
    // Between the load and the start of the loop.
    let upper = noonwater::demo::PLACE_JSON.replace("\"Kito\"", "\"Upper Kito\"");
    let upper = noonwater::placefile::parse(&upper, false).unwrap().place;
    world::put_places(&store, &[upper], chrono::Utc::now()).await.unwrap();
    let refresh = refresh::start(store.clone(), config, Arc::clone(&shelf), ear);
    eventually("the place is known", async || shelf.now().place("Upper Kito").map(|_| ())).await;
    refresh.stop().await;
}
