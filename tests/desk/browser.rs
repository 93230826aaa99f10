//! The desk in a real browser: headless Chromium, driven by W3C WebDriver. Needs `chromium` and `chromedriver`, and the
//! file named by AXE_JS: axe.min.js of npm's axe-core, which finds what WCAG 2.2 AA forbids. `.ci/run` brings all three.

use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::key::Key;
use fantoccini::{Client, ClientBuilder, Locator};
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::seat::{PASSWORD, add_staff};

/// A browser of its own, gone with the test.
struct Browser {
    client: Client,
    driver: Child,
    _profile: TempDir,
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
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
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
            let mut builder = ClientBuilder::new(hyper_util_connector());
            builder.capabilities(serde_json::Map::clone(&capabilities));
            builder.connect(&format!("http://127.0.0.1:{port}")).await.ok()
        })
        .await;
        Self { client, driver, _profile: profile }
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

fn hyper_util_connector() -> fantoccini::HttpConnector {
    fantoccini::HttpConnector::new()
}
