//! The desk's own words in the language of whoever reads them. Pages are written in English; a language folder that has a
//! `desk.toml` gives its own words for each of those sentences, so that a further language of the desk is one more file.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use axum::extract::{Form, Request};
use axum::http::{HeaderMap, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;
use tokio::task_local;

use crate::language::shipped;

/// The cookie that holds the chosen language.
pub const COOKIE_NAME: &str = "noonwater_words";

/// The file of a language folder that holds the desk's words: English on the left.
const FILE: &str = "desk.toml";

/// Under this the file gives the language its own name.
const NAME: &str = "name of this language";

/// One language's words, by the English ones.
pub struct Words {
    pub code: String,
    pub name: String,
    said: BTreeMap<String, String>,
}

/// The language in which the pages are written comes first: its file gives no sentence another wording.
static ALL: LazyLock<Vec<Words>> = LazyLock::new(|| {
    let read = shipped::folders().into_iter().filter_map(|(code, files)| {
        let mut said: BTreeMap<String, String> = toml::from_str(files.get(FILE)?).ok()?;
        let name = said.remove(NAME).unwrap_or_else(|| code.clone());
        Some(Words { code, name, said })
    });
    let mut all: Vec<Words> = read.collect();
    all.sort_by_key(|words| !words.said.is_empty());
    all
});

task_local! {
    static CHOSEN: usize;
}

/// Every language that the desk speaks, by its place.
pub fn languages() -> &'static [Words] {
    &ALL
}

/// The language of the page that is being made.
fn chosen() -> Option<&'static Words> {
    ALL.get(CHOSEN.try_with(|at| *at).unwrap_or_default())
}

/// Its code, for the page to say.
pub fn code() -> &'static str {
    chosen().map_or("", |words| &words.code)
}

/// A sentence in the page's language; as it is written where that language has none.
pub fn said(text: &str) -> Cow<'_, str> {
    chosen().and_then(|words| words.said.get(text)).map_or(Cow::Borrowed(text), |said| Cow::Owned(said.clone()))
}

/// The same with values in the stead of their names in braces.
pub fn said_with(text: &str, values: &[(&str, &dyn std::fmt::Display)]) -> String {
    values
        .iter()
        .fold(said(text).into_owned(), |text, (name, value)| text.replace(&format!("{{{name}}}"), &value.to_string()))
}

fn asked(headers: &HeaderMap) -> usize {
    let place = |code: &str| ALL.iter().position(|words| words.code == code);
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = cookies.flat_map(|value| value.split(';')).filter_map(|pair| pair.trim().split_once('='));
    let kept = pairs.find(|(name, _)| *name == COOKIE_NAME).and_then(|(_, code)| place(code));
    let wished = headers.get(header::ACCEPT_LANGUAGE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let wished = wished.split(',').filter_map(|tag| tag.split([';', '-']).next()).find_map(|code| place(code.trim()));
    kept.or(wished).unwrap_or_default()
}

/// Makes every page below in the language that the browser asks for or that was chosen.
pub async fn speak(request: Request, next: Next) -> Response {
    CHOSEN.scope(asked(request.headers()), next.run(request)).await
}

#[derive(Deserialize)]
pub struct Choice {
    code: String,
}

/// Keeps the language that was chosen, and shows the same page again.
pub async fn choose(headers: HeaderMap, Form(choice): Form<Choice>) -> Response {
    let code = ALL.iter().find(|words| words.code == choice.code).map_or_else(code, |words| &words.code);
    let from = headers.get(header::REFERER).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let path = from.split_once("://").and_then(|(_, rest)| rest.find('/').map(|at| &rest[at..]));
    let path = path.filter(|path| path.starts_with("/desk/") || *path == "/api").unwrap_or("/desk/waiting");
    let cookie = format!("{COOKIE_NAME}={code}; Path=/; SameSite=Lax; Max-Age=31536000");
    ([(header::SET_COOKIE, cookie)], Redirect::to(path)).into_response()
}
