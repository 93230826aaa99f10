//! The desk as it is seen: with the keyboard alone, without scripts, wide and narrow, light and dark, and on paper.

use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use fantoccini::Locator;
use fantoccini::key::Key;
use serde_json::{Value, json};

use crate::browser::{Browser, shot};
use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::seat::add_staff;

/// The first talk in the list of those that wait.
const TALK: &str = "#waiting th a";

const SET: &str = "/desk/set?text=lift+5+pipe+40+panel+5x80+garden+1500+tomato";

/// A service with a talk that waits, and a place to sit.
async fn with_waiting(folder: &Folder, gateway: &Gateway, grower: &str) -> Service {
    let service = Service::start(folder, &line("north", &gateway.url));
    add_staff(folder, "Asha", "runs");
    for (id, text) in [("w-1", "lift 5 pipe 40"), ("w-2", "person")] {
        service.post("/lines/north/inbound", &message(id, grower, text)).await;
    }
    gateway.wait("the program has answered", |calls| calls.len() >= 2).await;
    service
}

fn is_sent(calls: &[crate::common::Call], start: &str) -> bool {
    calls.iter().any(|call| call.body["text"].as_str().is_some_and(|text| text.starts_with(start)))
}

#[tokio::test(flavor = "multi_thread")]
async fn a_talk_is_answered_with_the_keyboard_alone_and_the_other_is_told() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = with_waiting(&folder, &gateway, &number(640)).await;
    add_staff(&folder, "Baraka", "answers");
    let (asha, baraka) = (Browser::open(1280, true).await, Browser::open(390, true).await);
    asha.sign_in(&service, "Asha").await;
    baraka.sign_in(&service, "Baraka").await;
    let path = asha.client.find(Locator::Css(TALK)).await.unwrap().attr("href").await.unwrap().unwrap();
    baraka.client.goto(&format!("{}{path}", service.url)).await.unwrap();

    // Tab until the button has the focus, then Enter: nothing is clicked.
    asha.tab_to("Take the talk").await;
    asha.key(Key::Enter).await;
    asha.client.wait().for_element(Locator::Id("f-lift")).await.unwrap();
    baraka.press("button[value=take]").await;
    let told = baraka.client.wait().for_element(Locator::Css("[role=alert]")).await.unwrap();
    assert!(told.text().await.unwrap().contains("Asha has this talk"));

    asha.tab_to_id("f-lift").await;
    asha.keys("6 m").await;
    asha.tab_to_id("f-panel").await;
    asha.keys("5x80").await;
    asha.key(Key::Enter).await;
    eventually("the advice stands beside it", async || asha.source().await.contains("Water on the mean day").then_some(()))
        .await;
    asha.tab_to_id("text").await;
    asha.keys("A wider hose would help you.").await;
    asha.tab_to("Send and finish").await;
    asha.key(Key::Enter).await;
    gateway.wait("the reply is out", |calls| is_sent(calls, "A wider hose")).await;
    // The list of the other follows by itself.
    baraka.client.goto(&format!("{}/desk/waiting", service.url)).await.unwrap();
    baraka.client.wait().for_element(Locator::Id("waiting")).await.unwrap();
    service.post("/lines/north/inbound", &message("w-7", &number(641), "person")).await;
    eventually("it shows the new one", async || baraka.source().await.contains(&number(641)).then_some(())).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn everything_works_with_scripts_turned_off() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = with_waiting(&folder, &gateway, &number(642)).await;
    let asha = Browser::open(390, false).await;
    asha.sign_in(&service, "Asha").await;
    assert!(!asha.source().await.contains("aria-current"), "no script has run");
    asha.press("button[value=take]").await;
    asha.fill("f-panel", "5x80").await;
    asha.press("#ready-questions summary").await;
    asha.press("button[value=ask-garden]").await;
    asha.client.wait().for_element(Locator::Id("goes-out")).await.unwrap();
    asha.press("button[value=send]").await;
    gateway.wait("the reply is out", |calls| calls.len() >= 3).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_thousand_rows_are_followed_to_the_download() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "answers");
    let asha = Browser::open(1280, true).await;
    asha.sign_in(&service, "Asha").await;
    let file = folder.path().join("season.csv");
    std::fs::write(&file, crate::bulk::thousand()).unwrap();
    asha.client.goto(&format!("{}/desk/bulk", service.url)).await.unwrap();
    let input = asha.client.find(Locator::Id("file")).await.unwrap();
    input.send_keys(&file.to_string_lossy()).await.unwrap();
    asha.press("form.card button").await;
    asha.press("button[value=start]").await;
    // Nobody reloads: the page follows.
    let wait = asha.client.wait().at_most(Duration::from_secs(120));
    let link = wait.for_element(Locator::Css("a[href$='answers.csv']")).await.unwrap();
    let href = link.attr("href").await.unwrap().unwrap();
    let seat = crate::seat::Seat::sign_in(&service, "Asha").await;
    let csv = seat.page(&href).await;
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let bad = reader.records().map(Result::unwrap).filter(|row| !row[8].is_empty()).count();
    assert_eq!(bad, 50);
}

/// A reply that was given up, as long as replies get.
async fn give_up_one(folder: &Folder) {
    let mut connection = Service::connect(folder).await;
    let text = "ENOUGH for 1500 m2: about 15 m3 a day in October, on a poor day 9. Switch off before you touch a wire.";
    let row = "with given_up as (
                   insert into outbox (id, line, sender, recipient, body, encoding, parts, state, created_at, updated_at)
                   values (gen_random_uuid(), 'north', '+447700900100', $1, $2, 'gsm7', 1, 'undelivered', now(), now())
                   returning id, seq, line, recipient
               )
               insert into sending (id, seq, line, recipient, priority, attempts, since, given_up_at, reason)
               select id, seq, line, recipient, 1, 15, now(), now(), 'the gateway did not answer' from given_up";
    sqlx::query(row).bind(number(644)).bind(text).execute(&mut connection).await.unwrap();
}

/// A list as it is looked at first, and one that is answered.
async fn two_lists(service: &Service) -> [String; 2] {
    let seat = crate::seat::Seat::sign_in(service, "Asha").await;
    let rows = "name,text,number\nBaraka,lift 5 pipe 40 panel 5x80 garden 1500 tomato,+447700900645\nA,lift 900 pipe 40,\nB,hello,\n";
    let looked_at = crate::bulk::bring(&seat, "looked at.csv", rows).await;
    let answered = crate::bulk::bring(&seat, "answered.csv", rows).await;
    seat.post(&answered, &[("do", "start")]).await;
    crate::bulk::done(&seat, &answered).await;
    [looked_at, answered]
}

#[tokio::test(flavor = "multi_thread")]
async fn no_page_breaks_wcag_and_none_is_heavy() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = with_waiting(&folder, &gateway, &number(643)).await;
    give_up_one(&folder).await;
    let [looked_at, answered] = two_lists(&service).await;
    for width in [1280, 390] {
        let browser = Browser::open(width, true).await;
        browser.client.goto(&format!("{}/desk/sign-in", service.url)).await.unwrap();
        browser.look(&format!("sign-in-{width}")).await;
        browser.sign_in(&service, "Asha").await;
        browser.look(&format!("waiting-{width}")).await;
        let talk = browser.client.find(Locator::Css(TALK)).await.unwrap().attr("href").await.unwrap().unwrap();
        if width == 1280 {
            browser.press("button[value=take]").await;
            browser.client.wait().for_element(Locator::Id("f-lift")).await.unwrap();
        }
        let pages = [
            ("talk", talk.as_str()),
            ("undelivered", "/desk/undelivered"),
            ("try", "/desk/try"),
            ("set", SET),
            ("set-no-price", "/desk/set?text=lift+5+pipe+40+panel+5x80+pump+12v+9000+l/h+7m"),
            ("set-wrong", "/desk/set?text=lift+900"),
            ("bulk", "/desk/bulk"),
            ("bulk-looked-at", &looked_at),
            ("bulk-answered", &answered),
            ("places", "/desk/places"),
            ("place", "/desk/places/Kito"),
            ("new-place", "/desk/new-place?from=-8.2+35.1+1200m"),
            ("pumps", "/desk/pumps"),
            ("pump", "/desk/pumps/large"),
            ("prices", "/desk/prices"),
            ("numbers", "/desk/numbers"),
            ("accounts", "/desk/accounts"),
            ("audit", "/desk/audit"),
            ("nothing", "/desk/places/Nowhere"),
            ("api", "/api"),
        ];
        for (name, path) in pages {
            browser.client.goto(&format!("{}{path}", service.url)).await.unwrap();
            browser.look(&format!("{name}-{width}")).await;
        }
        // Forms that were filled in wrongly.
        for (name, path, field, button) in [
            ("pumps", "/desk/pumps", "label_v", "form[action='/desk/pumps'] button"),
            ("prices", "/desk/prices", "cart", "form[action='/desk/prices'] button"),
            ("place", "/desk/places/Kito", "m3.t_min_c", "button[value=save]"),
        ] {
            browser.client.goto(&format!("{}{path}", service.url)).await.unwrap();
            browser.fill(field, "much").await;
            browser.press(button).await;
            browser.client.wait().for_element(Locator::Css("[role=alert]")).await.unwrap();
            browser.look(&format!("{name}-wrong-{width}")).await;
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_set_on_paper_has_its_charts_and_their_numbers() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "reads");
    let asha = Browser::open(1280, true).await;
    asha.sign_in(&service, "Asha").await;
    asha.client.goto(&format!("{}{SET}", service.url)).await.unwrap();
    let tall =
        "return [...document.querySelectorAll('figure svg, details table')].map(e => e.getBoundingClientRect().height)";
    let heights = |seen: Value| seen.as_array().unwrap().iter().map(|height| height.as_f64().unwrap()).collect::<Vec<_>>();
    asha.chrome("Emulation.setEmulatedMedia", json!({ "media": "print" })).await;
    let on_paper = heights(asha.client.execute(tall, Vec::new()).await.unwrap());
    assert_eq!(on_paper.len(), 10, "five charts, five tables");
    assert!(on_paper.iter().all(|height| *height > 20.0), "{on_paper:?}");
    asha.picture("set-paper").await;
    let paper = asha.chrome("Page.printToPDF", json!({ "paperWidth": 8.27, "paperHeight": 11.69 })).await;
    let paper = BASE64.decode(paper["data"].as_str().unwrap()).unwrap();
    let pages = String::from_utf8_lossy(&paper).matches("/Type /Page\n").count();
    assert!((1..=2).contains(&pages), "two sheets of paper are enough: {pages}");
    asha.keep(&shot("set.pdf"), "Page.printToPDF", json!({ "paperWidth": 8.27, "paperHeight": 11.69 })).await;
}
