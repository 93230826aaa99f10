//! The desk in a real browser: headless Chromium, driven by W3C WebDriver. Needs `chromium` and `chromedriver`, and the
//! file named by AXE_JS: axe.min.js of npm's axe-core, which finds what WCAG 2.2 AA forbids. `.ci/run` brings all three.

use std::process::{Child, Command, Stdio};
use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::key::Key;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::seat::{PASSWORD, add_staff};

/// The first talk in the list of those that wait.
const TALK: &str = "#waiting th a";

const SET: &str = "/desk/set?text=lift+5+pipe+40+panel+5x80+garden+1500+tomato";

/// Where pictures of the pages are left for whoever wants to look at them.
fn shot(file: &str) -> String {
    let folder = concat!(env!("CARGO_TARGET_TMPDIR"), "/desk");
    std::fs::create_dir_all(folder).unwrap();
    format!("{folder}/{file}")
}

/// A browser of its own, gone with the test.
struct Browser {
    client: Client,
    driver: Child,
    _profile: TempDir,
}

#[derive(Debug)]
struct Chrome {
    command: String,
    parameters: Value,
}

impl WebDriverCompatibleCommand for Chrome {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (reqwest::Method, Option<String>) {
        (reqwest::Method::POST, Some(json!({ "cmd": self.command, "params": self.parameters }).to_string()))
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Browser {
    async fn open(width: u32, with_scripts: bool) -> Self {
        let port = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let driver = Command::new("chromedriver").arg(format!("--port={port}")).stdout(Stdio::null()).spawn();
        let driver = driver.expect("chromedriver; .ci/run installs it");
        let profile = tempfile::tempdir().unwrap();
        let arguments = [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
        ];
        let mut arguments: Vec<String> = arguments.map(str::to_owned).to_vec();
        arguments.push(format!("--user-data-dir={}", profile.path().display()));
        arguments.push(format!("--window-size={width},900"));
        let scripts = if with_scripts { 1 } else { 2 };
        let options = json!({
            "args": arguments,
            "prefs": { "profile.managed_default_content_settings.javascript": scripts },
        });
        let capabilities = [("goog:chromeOptions".to_owned(), options)].into_iter().collect();
        let client = eventually("the driver answers", async || {
            let mut builder = ClientBuilder::new(HttpConnector::new());
            builder.capabilities(serde_json::Map::clone(&capabilities));
            builder.connect(&format!("http://127.0.0.1:{port}")).await.ok()
        })
        .await;
        let browser = Self { client, driver, _profile: profile };
        // A window of a desktop cannot be as narrow as a phone.
        let size = json!({ "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": false });
        browser.chrome("Emulation.setDeviceMetricsOverride", size).await;
        browser.chrome("Emulation.setScrollbarsHidden", json!({ "hidden": true })).await;
        browser
    }

    async fn fill(&self, id: &str, text: &str) {
        let field = self.client.wait().at_most(Duration::from_secs(30)).for_element(Locator::Id(id)).await.unwrap();
        field.clear().await.unwrap();
        field.send_keys(text).await.unwrap();
    }

    async fn press(&self, css: &str) {
        let button = self.client.wait().at_most(Duration::from_secs(30)).for_element(Locator::Css(css)).await.unwrap();
        button.click().await.unwrap();
    }

    async fn sign_in(&self, service: &Service, name: &str) {
        self.client.goto(&format!("{}/desk", service.url)).await.unwrap();
        self.fill("name", name).await;
        self.fill("password", PASSWORD).await;
        self.press("form.card button").await;
        self.client.wait().for_element(Locator::Css("header.top")).await.unwrap();
    }

    /// Presses keys wherever the focus is.
    async fn keys(&self, text: &str) {
        let mut actions = KeyActions::new("keyboard".to_owned());
        for value in text.chars() {
            actions = actions.then(KeyAction::Down { value }).then(KeyAction::Up { value });
        }
        self.client.perform_actions(actions).await.unwrap();
    }

    async fn key(&self, key: Key) {
        self.keys(&char::from(key).to_string()).await;
    }

    /// Tabs on until the focus is on something that says so.
    async fn tab_to(&self, says: &str) {
        for _ in 0..200 {
            self.key(Key::Tab).await;
            let focus = self.client.active_element().await.unwrap();
            let label = focus.attr("aria-label").await.unwrap().unwrap_or_default();
            if label.starts_with(says) || focus.text().await.unwrap().starts_with(says) {
                return;
            }
        }
        panic!("the keyboard does not reach {says}");
    }

    async fn tab_to_id(&self, id: &str) {
        for _ in 0..200 {
            self.key(Key::Tab).await;
            let focus = self.client.active_element().await.unwrap();
            if focus.attr("id").await.unwrap().as_deref() == Some(id) {
                return;
            }
        }
        panic!("the keyboard does not reach {id}");
    }

    /// Nothing that WCAG forbids in either colour scheme, nothing wider than the screen, no more than 200 KiB; a picture of
    /// it beside what the build makes.
    async fn look(&self, name: &str) {
        for scheme in ["light", "dark"] {
            let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
            self.chrome("Emulation.setEmulatedMedia", media).await;
            self.picture(&format!("{name}-{scheme}")).await;
            assert_eq!(self.violations().await, json!([]), "{name} {scheme}");
        }
        let wide = "return document.documentElement.scrollWidth - document.documentElement.clientWidth";
        assert_eq!(self.client.execute(wide, Vec::new()).await.unwrap(), json!(0), "{name} is wider than the screen");
        let weight = "return performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource'))
                      .reduce((sum, entry) => sum + entry.decodedBodySize, 0)";
        let weight = self.client.execute(weight, Vec::new()).await.unwrap().as_f64().unwrap();
        assert!(weight > 1000.0 && weight < 200.0 * 1024.0, "{name}: {weight} bytes");
    }

    /// The whole page as a picture, what lies below the window too.
    async fn picture(&self, name: &str) {
        let parameters = json!({ "format": "png", "captureBeyondViewport": true });
        self.keep(&shot(&format!("{name}.png")), "Page.captureScreenshot", parameters).await;
    }

    /// Keeps what a command gives as a file.
    async fn keep(&self, file: &str, command: &str, parameters: Value) {
        let answer = self.chrome(command, parameters).await;
        let bytes = BASE64.decode(answer["data"].as_str().unwrap()).unwrap();
        std::fs::write(file, bytes).unwrap();
    }

    /// A command that only Chromium knows.
    async fn chrome(&self, command: &str, parameters: Value) -> Value {
        self.client.issue_cmd(Chrome { command: command.to_owned(), parameters }).await.unwrap()
    }

    async fn source(&self) -> String {
        self.client.source().await.unwrap()
    }

    /// What axe-core finds against WCAG 2.2 AA on the page.
    async fn violations(&self) -> Value {
        let file = std::env::var("AXE_JS").expect("AXE_JS names axe.min.js; .ci/run sets it");
        let axe = std::fs::read_to_string(file).unwrap();
        self.client.execute(&axe, Vec::new()).await.unwrap();
        let run = "const done = arguments[0]; axe.run({runOnly: ['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa']})
                   .then(r => done(r.violations.map(v => [v.id, v.nodes.map(n => n.html + ' ' + n.failureSummary)])));";
        self.client.execute_async(run, Vec::new()).await.unwrap()
    }
}

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
    let row = "insert into outbox (id, line, sender, recipient, body, encoding, parts, state, attempts, next_try_at,
                                   created_at, updated_at, not_taken_because)
               values (gen_random_uuid(), 'north', '+447700900100', $1, $2, 'gsm7', 1, 'undelivered', 15, now(), now(),
                       now(), 'the gateway did not answer')";
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
    asha.keep(&shot("set.pdf"), "Page.printToPDF", json!({ "paperWidth": 8.27, "paperHeight": 11.69 })).await;
}
