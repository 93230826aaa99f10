//! A conversation between a grower and a member of staff, as both live it: in a real browser, with the keyboard.

use fantoccini::Locator;
use fantoccini::key::Key;
use serde_json::json;

use crate::browser::Browser;
use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::seat::add_staff;

/// A service where a number has told a set and asked for a person.
async fn with_waiting(folder: &Folder, gateway: &Gateway, grower: &str) -> Service {
    let service = Service::start(folder, &line("north", &gateway.url));
    add_staff(folder, "Asha", "runs");
    writes(&service, grower, &["lift 3 pipe 30 panel 3x100 garden 900", "person"]).await;
    gateway.wait("the program has answered", |calls| calls.len() >= 2).await;
    service
}

async fn writes(service: &Service, from: &str, texts: &[&str]) {
    for text in texts {
        let id = format!("{from}-{text}");
        assert_eq!(service.post("/lines/north/inbound", &message(&id, from, text)).await.status(), 202);
    }
}

fn texts(gateway: &Gateway, to: &str) -> Vec<String> {
    gateway.calls().iter().filter(|call| call.to() == to).map(|call| call.text().to_owned()).collect()
}

/// What stands in a field of the page.
async fn value(browser: &Browser, id: &str) -> String {
    let script = format!("return document.getElementById('{id}').value");
    browser.client.execute(&script, Vec::new()).await.unwrap().as_str().unwrap_or_default().to_owned()
}

/// What the list of those that wait says; it may be replaced at any moment, so that no element of it is held.
async fn list_of(browser: &Browser) -> String {
    browser.client.wait().for_element(Locator::Id("waiting")).await.unwrap();
    let script = "return document.getElementById('waiting').innerText";
    browser.client.execute(script, Vec::new()).await.unwrap().as_str().unwrap_or_default().to_owned()
}

async fn focused(browser: &Browser) -> String {
    browser.client.active_element().await.unwrap().attr("id").await.unwrap().unwrap_or_default()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_talk_is_held_with_the_keyboard_over_several_messages() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let grower = number(660);
    let service = with_waiting(&folder, &gateway, &grower).await;
    let asha = Browser::open(1280, true).await;
    asha.sign_in(&service, "Asha").await;
    let mut keys = 0;
    // The next talk is one key away, and the cursor stands where one writes.
    asha.key(Key::Enter).await;
    keys += 1;
    asha.client.wait().for_element(Locator::Id("work")).await.unwrap();
    eventually("the text has the focus", async || (focused(&asha).await == "text").then_some(())).await;
    asha.keys("How deep is the river").await;
    // While one types the grower writes: it appears, and what is typed stays, cursor and all.
    writes(&service, &grower, &["pipe 30 bore 63", "the river is 2 m deep"]).await;
    eventually("the new message is seen", async || asha.source().await.contains("the river is 2 m deep").then_some(()))
        .await;
    eventually("the sheet takes the bore", async || value(&asha, "f-bore").await.starts_with("63").then_some(())).await;
    asha.keys(" in June?").await;
    assert_eq!(value(&asha, "text").await, "How deep is the river in June?");
    let before = texts(&gateway, &grower).len();
    // Send and keep: two tabs from the text.
    asha.tab_to("Send and keep").await;
    asha.key(Key::Enter).await;
    gateway.wait("it is out", |calls| calls.iter().any(|call| call.text().starts_with("How deep"))).await;
    eventually("the page says so", async || asha.source().await.contains("The talk stays with you").then_some(())).await;
    assert_eq!(value(&asha, "text").await, "", "nothing is left to be sent twice");
    assert_eq!(texts(&gateway, &grower).len(), before + 1, "the program has kept silent");

    // The answer comes to the same hands, and the program says nothing to it.
    writes(&service, &grower, &["about 1 metre lift"]).await;
    eventually("the answer is seen", async || asha.source().await.contains("about 1 metre lift").then_some(())).await;
    asha.client.find(Locator::Id("text")).await.unwrap().click().await.unwrap();
    asha.keys("Then keep the screen off the mud.").await;
    asha.tab_to("Send and finish").await;
    asha.key(Key::Enter).await;
    gateway.wait("it is out", |calls| calls.iter().any(|call| call.text().starts_with("Then keep the screen"))).await;
    assert_eq!(texts(&gateway, &grower).len(), before + 2);
    eventually("the list says so", async || asha.source().await.contains("Nobody waits").then_some(())).await;

    // For an hour it comes back; handed back with a word, the program goes on.
    writes(&service, &grower, &["thanks, and which hose"]).await;
    eventually("it is back", async || asha.source().await.contains("which hose").then_some(())).await;
    asha.press("#waiting th a").await;
    asha.client.wait().for_element(Locator::Id("work")).await.unwrap();
    asha.press("#work details summary").await;
    asha.press("button[value='back-word']").await;
    gateway.wait("the grower is told", |calls| calls.iter().any(|call| call.text().contains("the program again"))).await;
    writes(&service, &grower, &["garden 800"]).await;
    gateway.wait("the program answers", |calls| calls.last().is_some_and(|call| call.text().contains("m3"))).await;
    println!("keys beside name, password and text: {} and the tabs to a button", keys + 1);
}

#[tokio::test(flavor = "multi_thread")]
async fn the_program_answers_what_staff_let_it_and_an_opt_out_always() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let grower = number(661);
    let service = with_waiting(&folder, &gateway, &grower).await;
    let asha = Browser::open(390, true).await;
    asha.sign_in(&service, "Asha").await;
    asha.key(Key::Enter).await;
    asha.client.wait().for_element(Locator::Id("work")).await.unwrap();
    let before = texts(&gateway, &grower).len();
    writes(&service, &grower, &["pump 12 acres"]).await;
    eventually("it is seen", async || asha.source().await.contains("pump 12 acres").then_some(())).await;
    assert_eq!(texts(&gateway, &grower).len(), before);
    asha.press("button[value=help]").await;
    asha.client.wait().for_element(Locator::Css("button[value=only]")).await.unwrap();
    writes(&service, &grower, &["garden 700"]).await;
    gateway.wait("the program helps", |calls| calls.last().is_some_and(|call| call.text().contains("m3"))).await;
    asha.press("button[value=only]").await;
    asha.client.wait().for_element(Locator::Css("button[value=help]")).await.unwrap();
    let before = texts(&gateway, &grower).len();
    writes(&service, &grower, &["stop"]).await;
    eventually("the opt-out is confirmed", async || (texts(&gateway, &grower).len() > before).then_some(())).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn nothing_typed_is_lost() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let grower = number(662);
    let service = with_waiting(&folder, &gateway, &grower).await;
    let asha = Browser::open(1280, true).await;
    asha.sign_in(&service, "Asha").await;
    asha.key(Key::Enter).await;
    asha.client.wait().for_element(Locator::Id("work")).await.unwrap();
    let path = asha.client.current_url().await.unwrap().to_string();
    asha.fill("text", "Half a sentence").await;
    asha.fill("f-garden", "850").await;
    eventually("it is kept", async || asha.source().await.contains("Kept.").then_some(())).await;
    // Reloaded; left and come back to; in a second tab.
    asha.client.refresh().await.unwrap();
    assert_eq!((value(&asha, "text").await, value(&asha, "f-garden").await), ("Half a sentence".into(), "850".into()));
    asha.client.goto(&format!("{}/desk/numbers", service.url)).await.unwrap();
    asha.client.back().await.unwrap();
    eventually("it is there", async || (value(&asha, "text").await == "Half a sentence").then_some(())).await;
    let tab = asha.client.new_window(true).await.unwrap();
    asha.client.switch_to_window(tab.handle).await.unwrap();
    asha.client.goto(&path).await.unwrap();
    assert_eq!(value(&asha, "text").await, "Half a sentence");

    // The network drops while one types on.
    let offline = |is: bool| json!({"offline": is, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1});
    asha.chrome("Network.enable", json!({})).await;
    asha.chrome("Network.emulateNetworkConditions", offline(true)).await;
    asha.fill("text", "A whole sentence, at last").await;
    eventually("the page says so", async || asha.source().await.contains(">No connection").then_some(())).await;
    asha.chrome("Network.emulateNetworkConditions", offline(false)).await;
    eventually("it is kept after all", async || asha.source().await.contains(">Kept.").then_some(())).await;

    // The session ends: signed in again, the same words stand there.
    let mut connection = Service::connect(&folder).await;
    sqlx::query("delete from staff_session").execute(&mut connection).await.unwrap();
    asha.fill("text", "Written after the session was over").await;
    asha.press("button[value=send]").await;
    asha.fill("name", "Asha").await;
    asha.fill("password", crate::seat::PASSWORD).await;
    asha.press("form.card button").await;
    asha.client.wait().for_element(Locator::Id("work")).await.unwrap();
    assert_eq!(value(&asha, "text").await, "Written after the session was over");
    // A ready reply goes in where the cursor stands and replaces nothing.
    asha.client.execute("document.getElementById('text').setSelectionRange(7, 7)", Vec::new()).await.unwrap();
    asha.press("#ready-questions summary").await;
    asha.press("button[value='ask-pump']").await;
    let text = value(&asha, "text").await;
    assert!(text.starts_with("Written ") && text.ends_with("session was over") && text.len() > 60, "{text}");
    assert!(!texts(&gateway, &grower).iter().any(|text| text.contains("session was over")), "nothing went out meanwhile");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_held_talk_shows_who_holds_it_and_goes_back_after_an_hour_without_a_sign() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let grower = number(663);
    let service = with_waiting(&folder, &gateway, &grower).await;
    add_staff(&folder, "Baraka", "answers");
    let (asha, baraka) = (Browser::open(1280, true).await, Browser::open(1280, true).await);
    baraka.sign_in(&service, "Baraka").await;
    baraka.key(Key::Enter).await;
    baraka.client.wait().for_element(Locator::Id("work")).await.unwrap();
    asha.sign_in(&service, "Asha").await;
    let list = list_of(&asha).await;
    assert!(list.contains("Baraka since"), "{list}");
    assert!(list.contains("lift 3 pipe 30"), "the message that says something is shown: {list}");
    assert!(list.contains("asked for a person"), "{list}");
    // Who runs the place can take it over.
    asha.press("#waiting th a").await;
    asha.press("button[value=over]").await;
    asha.client.wait().for_element(Locator::Id("work")).await.unwrap();
    baraka.fill("text", "Too late").await;
    baraka.press("button[value=send]").await;
    let told = baraka.client.wait().for_element(Locator::Css("[role=alert]")).await.unwrap();
    assert!(told.text().await.unwrap().contains("not in your hands"));
    // An hour without a sign.
    let mut connection = Service::connect(&folder).await;
    let long_ago = "update talk_in_hand set seen_at = now() - interval '61 minutes'";
    sqlx::query(long_ago).execute(&mut connection).await.unwrap();
    baraka.client.goto(&format!("{}/desk/waiting?whose=free", service.url)).await.unwrap();
    let list = list_of(&baraka).await;
    assert!(list.contains(&grower), "{list}");
    assert!(baraka.client.title().await.unwrap().starts_with("(1)"), "the title counts");
    baraka.press("#waiting button[value=take]").await;
    baraka.client.wait().for_element(Locator::Id("work")).await.unwrap();
}
