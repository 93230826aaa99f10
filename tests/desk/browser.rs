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

use crate::common::{Service, eventually};
use crate::seat::PASSWORD;

/// Where pictures of the pages are left for whoever wants to look at them.
pub fn shot(file: &str) -> String {
    let folder = concat!(env!("CARGO_TARGET_TMPDIR"), "/desk");
    std::fs::create_dir_all(folder).unwrap();
    format!("{folder}/{file}")
}

/// A browser of its own, gone with the test.
pub struct Browser {
    pub client: Client,
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
    pub async fn open(width: u32, with_scripts: bool) -> Self {
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

    pub async fn fill(&self, id: &str, text: &str) {
        let field = self.client.wait().at_most(Duration::from_secs(30)).for_element(Locator::Id(id)).await.unwrap();
        field.clear().await.unwrap();
        field.send_keys(text).await.unwrap();
    }

    pub async fn press(&self, css: &str) {
        let button = self.client.wait().at_most(Duration::from_secs(30)).for_element(Locator::Css(css)).await.unwrap();
        button.click().await.unwrap();
    }

    pub async fn sign_in(&self, service: &Service, name: &str) {
        self.client.goto(&format!("{}/desk", service.url)).await.unwrap();
        self.fill("name", name).await;
        self.fill("password", PASSWORD).await;
        self.press("form.card button").await;
        self.client.wait().for_element(Locator::Css("header.top")).await.unwrap();
    }

    /// Presses keys wherever the focus is.
    pub async fn keys(&self, text: &str) {
        let mut actions = KeyActions::new("keyboard".to_owned());
        for value in text.chars() {
            actions = actions.then(KeyAction::Down { value }).then(KeyAction::Up { value });
        }
        self.client.perform_actions(actions).await.unwrap();
    }

    pub async fn key(&self, key: Key) {
        self.keys(&char::from(key).to_string()).await;
    }

    /// Tabs on until the focus is on something that says so.
    pub async fn tab_to(&self, says: &str) {
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

    pub async fn tab_to_id(&self, id: &str) {
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
    pub async fn look(&self, name: &str) {
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
    pub async fn picture(&self, name: &str) {
        let parameters = json!({ "format": "png", "captureBeyondViewport": true });
        self.keep(&shot(&format!("{name}.png")), "Page.captureScreenshot", parameters).await;
    }

    /// Keeps what a command gives as a file.
    pub async fn keep(&self, file: &str, command: &str, parameters: Value) {
        let answer = self.chrome(command, parameters).await;
        let bytes = BASE64.decode(answer["data"].as_str().unwrap()).unwrap();
        std::fs::write(file, bytes).unwrap();
    }

    /// A command that only Chromium knows.
    pub async fn chrome(&self, command: &str, parameters: Value) -> Value {
        self.client.issue_cmd(Chrome { command: command.to_owned(), parameters }).await.unwrap()
    }

    pub async fn source(&self) -> String {
        self.client.source().await.unwrap()
    }

    /// What axe-core finds against WCAG 2.2 AA on the page.
    pub async fn violations(&self) -> Value {
        let file = std::env::var("AXE_JS").expect("AXE_JS names axe.min.js; .ci/run sets it");
        let axe = std::fs::read_to_string(file).unwrap();
        self.client.execute(&axe, Vec::new()).await.unwrap();
        let run = "const done = arguments[0]; axe.run({runOnly: ['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa']})
                   .then(r => done(r.violations.map(v => [v.id, v.nodes.map(n => n.html + ' ' + n.failureSummary)])));";
        self.client.execute_async(run, Vec::new()).await.unwrap()
    }
}
