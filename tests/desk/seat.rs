//! A seat at the desk: an account, made as the operator makes it, and its session.

use std::collections::BTreeMap;
use std::process::Output;

use reqwest::{RequestBuilder, Response, StatusCode, header};

use crate::common::{Folder, Service, program, run_with};

pub const PASSWORD: &str = "furrow and hose 12";

/// Runs `noonwater` beside the service with a text on its standard input.
pub fn run(folder: &Folder, arguments: &[&str], input: &[u8]) -> Output {
    run_with(program().args(arguments).env("NOONWATER_DATA_DIR", folder.path()), input)
}

pub fn add_staff(folder: &Folder, name: &str, role: &str) {
    let done = run(folder, &["staff", "add", name, "--role", role], format!("{PASSWORD}\n").as_bytes());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
}

/// Somebody who is signed in.
pub struct Seat<'s> {
    pub service: &'s Service,
    pub cookie: String,
}

pub async fn try_sign_in(service: &Service, name: &str, password: &str) -> Response {
    let body = form(&[("name", name), ("password", password)]);
    service.post_form("/desk/sign-in", &body).await
}

pub fn form(fields: &[(&str, &str)]) -> String {
    form_urlencoded::Serializer::new(String::new()).extend_pairs(fields).finish()
}

impl<'s> Seat<'s> {
    pub async fn sign_in(service: &'s Service, name: &str) -> Self {
        let answer = try_sign_in(service, name, PASSWORD).await;
        assert_eq!(answer.status(), StatusCode::SEE_OTHER);
        let cookie = answer.headers()[header::SET_COOKIE].to_str().unwrap();
        for attribute in ["HttpOnly", "SameSite=Strict", "Path=/"] {
            assert!(cookie.contains(attribute), "{cookie}");
        }
        Self { service, cookie: cookie.split(';').next().unwrap().to_owned() }
    }

    /// An account of this name and role, signed in.
    pub async fn take(service: &'s Service, folder: &Folder, name: &str, role: &str) -> Self {
        add_staff(folder, name, role);
        Self::sign_in(service, name).await
    }

    pub fn request(&self, method: reqwest::Method, path: &str) -> RequestBuilder {
        let url = format!("{}{path}", self.service.url);
        self.service.client.request(method, url).header(header::COOKIE, &self.cookie)
    }

    pub async fn get(&self, path: &str) -> Response {
        self.request(reqwest::Method::GET, path).send().await.unwrap()
    }

    /// A page that must be there.
    pub async fn page(&self, path: &str) -> String {
        let answer = self.get(path).await;
        let status = answer.status();
        let text = answer.text().await.unwrap();
        assert_eq!(status, StatusCode::OK, "{path}: {text}");
        text
    }

    pub async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Response {
        let request = self.request(reqwest::Method::POST, path);
        let kind = "application/x-www-form-urlencoded";
        request.header(header::CONTENT_TYPE, kind).body(form(fields)).send().await.unwrap()
    }

    /// The same with the fields of a page's own form.
    pub async fn post_all(&self, path: &str, fields: &BTreeMap<String, String>) -> Response {
        let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        self.post(path, &fields).await
    }

    /// The path of the talk with a number, from the list of those that wait.
    pub async fn find_talk_with(&self, number: &str) -> Option<String> {
        let list = self.page("/desk/waiting").await;
        let row = list.split("<tr").find(|row| row.contains(number))?;
        Some(row.split("href=\"").nth(1)?.split('"').next()?.to_owned())
    }

    pub async fn talk_with(&self, number: &str) -> String {
        self.find_talk_with(number).await.expect("the talk waits")
    }
}

/// What stands in the form in which a talk is worked on, by the names of its fields.
pub fn fields_of(page: &str) -> BTreeMap<String, String> {
    let attribute = |tag: &str, name: &str| {
        let value = tag.split(&format!(" {name}=\"")).nth(1)?.split('"').next()?;
        Some(value.replace("&#34;", "\"").replace("&#39;", "'").replace("&#38;", "&").replace("&amp;", "&"))
    };
    let mut fields = BTreeMap::new();
    for tag in page.split("<input").skip(1).filter_map(|rest| rest.split('>').next()) {
        if let Some(name) = attribute(tag, "name") {
            fields.insert(name, attribute(tag, "value").unwrap_or_default());
        }
    }
    if let Some(text) = page.split("<textarea id=\"text\"").nth(1).and_then(|rest| rest.split_once('>')) {
        let text = text.1.split("</textarea>").next().unwrap_or_default();
        fields.insert("text".to_owned(), text.trim_start_matches('\n').replace("&#39;", "'"));
    }
    fields
}

/// The same with some of them filled in otherwise.
pub fn with_fields(page: &str, typed: &[(&str, &str)]) -> BTreeMap<String, String> {
    let mut fields = fields_of(page);
    fields.extend(typed.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())));
    fields
}
