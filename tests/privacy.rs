//! No phone number and no text of a message reaches a log, however much the operator asks for and whatever is sent.

#[allow(dead_code, unused_imports, reason = "the other test programs use the rest")]
mod common;

#[path = "desk/seat.rs"]
#[allow(dead_code, reason = "the other test programs use the rest")]
mod seat;

use common::{Answer, Folder, Gateway, SECRET, Service, line, message, number};
use serde_json::json;

/// Words that are in no log of ours unless a message's text got there.
const TEXT: &str = "zebrawort lift 5";

/// What may not be seen: the numbers' common part, a text, a reply's text, a secret.
fn leaks<'a>(shown: &'a str, replies: &'a [String]) -> Vec<&'a str> {
    let fixed = ["7700900", "zebrawort", "Zebrawort", SECRET];
    fixed.into_iter().chain(replies.iter().map(String::as_str)).filter(|word| shown.contains(*word)).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn nothing_of_a_grower_is_logged() {
    let gateway = Gateway::start(|before, _| Answer::Status(if before == 0 { 500 } else { 200 })).await;
    let folder = Folder::new();
    let everything = "trace,sqlx=trace,sqlx::query=trace,hyper=trace,hyper_util=trace,reqwest=trace,axum=trace,\
                      tower_http=trace,noonwater=trace";
    let closed = line("closed", "http://127.0.0.1:9/out?key=zebrawort");
    let config = line("north", &gateway.url) + &closed + "[limits]\nmessages_a_minute = 1\nburst = 2\n";
    let mut service = Service::start_with(&folder, &config, &[("RUST_LOG", everything)]);
    let (asha, path) = (number(501), "/lines/north/inbound");

    // Good ones, a repeat, and too many.
    for id in ["p-1", "p-1", "p-2", "p-3"] {
        service.post(path, &message(id, &asha, TEXT)).await;
    }
    // A gateway that cannot be reached.
    service.post("/lines/closed/inbound", &message("p-4", &number(502), TEXT)).await;
    // Wrong ones: each field, each form, each place where a number or a text may stand.
    for (field, value) in [
        ("id", json!("zebrawort\u{0}")),
        ("from", json!(format!("{asha}zebrawort"))),
        ("to", json!("zebrawort")),
        ("text", json!([TEXT])),
        ("at", json!(asha)),
        ("text", json!(format!("{TEXT}\u{0}"))),
    ] {
        let mut body = message("p-5", &number(503), TEXT);
        body[field] = value;
        service.post(path, &body).await;
    }
    service.post_form(path, "from=%2B447700900504&text=zebrawort+%00&id=p-6&to=32100").await;
    service.post_form(&format!("{path}?from={asha}&text=zebrawort"), "{").await;
    service.post(&format!("/lines/{asha}/inbound"), &message("p-7", &asha, TEXT)).await;
    service.post(path, &message("p-8", &asha, &"zebrawort ".repeat(2000))).await;
    service.get(&format!("/zebrawort/{asha}")).await;
    service.post("/lines/north/receipt", &json!({ "id": asha, "status": TEXT })).await;
    // The handset, well and badly.
    let form = format!("number=%2B447700900505&text=zebrawort&id={}", uuid::Uuid::now_v7());
    service.post_form("/handset", &form).await;
    service.post_form("/handset", &form.replace("900505", "zebrawort")).await;
    service.get("/handset?number=%2B447700900505").await;
    service.post("/handset/messages", &json!({ "number": asha, "text": TEXT, "zebrawort": 1 })).await;

    // The desk: signing in wrongly, a talk answered, a list, words in every place.
    seat::try_sign_in(&service, &format!("{asha} zebrawort"), TEXT).await;
    let desk = seat::Seat::take(&service, &folder, "Desk", "runs").await;
    service.post("/lines/closed/inbound", &message("p-9", &number(506), "person zebrawort")).await;
    let list = desk.page("/desk/waiting").await;
    let row = list.split("<tr>").find(|row| row.contains("900506")).unwrap();
    let talk = row.split("href=\"").nth(1).unwrap().split('"').next().unwrap().to_owned();
    desk.post(&talk, &[("do", "take")]).await;
    desk.post(&talk, &[("do", "look"), ("lift", TEXT), ("text", TEXT)]).await;
    assert_eq!(desk.post(&talk, &[("do", "send"), ("lift", "5"), ("text", TEXT)]).await.status(), 303);
    desk.get(&format!("/desk/set?text=zebrawort+{asha}")).await;
    desk.post("/desk/try", &[("text", TEXT), ("language", "zebrawort"), ("place", "zebrawort")]).await;
    desk.post("/desk/places", &[("file", TEXT)]).await;
    let asked = format!("{{\"ref\":\"{asha}\",\"text\":\"{TEXT}\"}} zebrawort");
    desk.request(reqwest::Method::POST, "/api/answers").body(asked).send().await.unwrap().text().await.unwrap();
    let audit = desk.page("/desk/audit").await;
    assert!(audit.contains("answered a talk") && leaks(&audit, &[]).is_empty(), "{audit}");

    let calls = gateway.wait("replies are out", |calls| calls.len() >= 3).await;
    let replies: Vec<String> = calls.iter().filter_map(|call| call.body["text"].as_str()).map(str::to_owned).collect();
    service.terminate();
    service.wait();
    // Beside it what PostgreSQL says of errors in statements.
    let shown = format!("{}{}", service.stdout, service.stderr());
    let postgres = std::fs::read_to_string(folder.path().join("postgres.log")).unwrap();
    assert!(shown.contains("answered") && shown.contains("tried again"), "the log is there: {shown}");
    assert!(!postgres.is_empty());
    for log in [&shown, &postgres] {
        let leaks = leaks(log, &replies);
        let lines: Vec<&str> = log.lines().filter(|line| leaks.iter().any(|leak| line.contains(leak))).collect();
        assert!(leaks.is_empty(), "{leaks:?} in:\n{}", lines.join("\n"));
    }
}

#[test]
fn a_leak_would_be_seen() {
    let replies = ["Enough water.".to_owned()];
    assert_eq!(leaks("from +447700900501", &replies), ["7700900"]);
    assert_eq!(leaks("body: zebrawort", &replies), ["zebrawort"]);
    assert_eq!(leaks("Enough water.", &replies), ["Enough water."]);
    assert!(leaks("answered", &replies).is_empty());
}
