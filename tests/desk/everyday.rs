//! What every working day asks of the pages: addresses, words, weight, many tabs.

use std::collections::BTreeMap;
use std::path::Path;

use fantoccini::Locator;
use reqwest::{StatusCode, header};

use crate::browser::Browser;
use crate::common::Gateway;
use crate::common::{Folder, Service, eventually, line, message, number};
use crate::seat::{Seat, add_staff};

#[tokio::test(flavor = "multi_thread")]
async fn addresses_lead_somewhere_and_files_are_kept() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let start = service.get("/").await;
    assert_eq!(
        (start.status(), &start.headers()[header::LOCATION]),
        (StatusCode::SEE_OTHER, &"/desk/waiting".parse().unwrap())
    );
    assert_eq!(service.get("/favicon.ico").await.headers()[header::CONTENT_TYPE], "image/svg+xml");
    let lost =
        |accept: &str| service.client.get(format!("{}/desk/waitnig", service.url)).header(header::ACCEPT, accept).send();
    let page = lost("text/html").await.unwrap();
    assert_eq!(page.status(), StatusCode::NOT_FOUND);
    let page = page.text().await.unwrap();
    assert!(page.contains("There is no such page") && page.contains("href=\"/desk/waiting\""), "{page}");
    assert!(lost("application/json").await.unwrap().text().await.unwrap().starts_with("{\"error\""));
    // The files of a page: by the hash of what is in them, for good, and small on the way.
    let sign_in = service.get("/desk/sign-in").await.text().await.unwrap();
    let style = sign_in.split("href=\"/desk/files/").nth(1).unwrap().split('"').next().unwrap();
    let style = service.client.get(format!("{}/desk/files/{style}", service.url)).header(header::ACCEPT_ENCODING, "gzip");
    let style = style.send().await.unwrap();
    assert!(style.headers()[header::CACHE_CONTROL].to_str().unwrap().contains("immutable"));
    assert_eq!(style.headers()[header::CONTENT_ENCODING], "gzip");
    println!("style sheet: {} bytes on the way", style.bytes().await.unwrap().len());
}

#[tokio::test(flavor = "multi_thread")]
async fn the_waiting_list_is_light_and_seven_tabs_follow_it_at_once() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    add_staff(&folder, "Asha", "answers");
    for index in 0..60 {
        let text = "lift 3 m, pipe 30 m, panel 3x100 w, garden 900 m2, tomato, clay, furrow, october, wire 10 m";
        for (id, text) in [("l", text), ("p", "person")] {
            service.post("/lines/north/inbound", &message(&format!("{id}-{index}"), &number(700 + index), text)).await;
        }
    }
    let seat = Seat::sign_in(&service, "Asha").await;
    let list = seat.page("/desk/waiting").await;
    println!("waiting list: {} bytes with 30 rows", list.len());
    assert!(list.len() < 30 * 1024, "{}", list.len());
    let further = list
        .split("href=\"/desk/waiting?")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap()
        .replace("&amp;", "&")
        .replace("&#38;", "&");
    assert!(seat.page(&format!("/desk/waiting?{further}")).await.contains(&number(759)), "all rows can be reached");

    let asha = Browser::open(1280, true).await;
    asha.sign_in(&service, "Asha").await;
    for _ in 0..6 {
        let tab = asha.client.new_window(true).await.unwrap();
        asha.client.switch_to_window(tab.handle).await.unwrap();
        asha.client.goto(&format!("{}/desk/waiting", service.url)).await.unwrap();
        asha.client.wait().for_element(Locator::Id("waiting")).await.unwrap();
    }
    // The seventh still loads pages and hears of changes.
    service.post("/lines/north/inbound", &message("l-new", &number(790), "person")).await;
    eventually("the title counts on", async || asha.client.title().await.unwrap().starts_with("(61)").then_some(())).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_desk_speaks_french_where_it_is_asked_to() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "answers");
    let asha = Browser::open(390, true).await;
    asha.sign_in(&service, "Asha").await;
    asha.press("button[name=code][value=fr]").await;
    eventually("the page is French", async || asha.source().await.contains("Conversations en attente").then_some(())).await;
    assert_eq!(asha.client.find(Locator::Css("html")).await.unwrap().attr("lang").await.unwrap().unwrap(), "fr");
    asha.client.goto(&format!("{}/desk/set?text=lift+3+pipe+30+panel+3x100+garden+900", service.url)).await.unwrap();
    let page = asha.source().await;
    assert!(page.contains("Eau un jour moyen") && !page.contains("Water on the mean day"), "{page}");
    asha.look("french-set").await;
    asha.press("button[name=code][value=en]").await;
    eventually("and English again", async || asha.source().await.contains("Water on the mean day").then_some(())).await;
}

/// The sentences of every template, as a template quotes them.
fn sentences(folder: &Path, found: &mut Vec<String>) {
    for entry in std::fs::read_dir(folder).unwrap().flatten() {
        let text = std::fs::read_to_string(entry.path()).unwrap_or_default();
        for part in text.split("\"|t }}") {
            let quoted = part.rsplit("{{ \"").next().unwrap_or_default();
            if part.contains("{{ \"") && !quoted.contains("}}") {
                found.push(quoted.replace("\\\"", "\""));
            }
        }
    }
}

#[test]
fn every_sentence_of_the_pages_has_its_french() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let french = std::fs::read_to_string(root.join("dialogs/fr/desk.toml")).unwrap();
    let french: BTreeMap<String, String> = toml::from_str(&french).unwrap();
    let mut found = Vec::new();
    sentences(&root.join("src/desk/look"), &mut found);
    assert!(found.len() > 300, "{}", found.len());
    let lacking: Vec<_> = found.iter().filter(|sentence| !french.contains_key(*sentence)).collect();
    assert!(lacking.is_empty(), "{lacking:?}");
}
