//! The handset as a page. It works without scripts: a form, a redirect, and the conversation as it is stored.

use std::sync::Arc;

use askama::Template;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use chrono::{DateTime, Utc};
use serde::Deserialize;
use uuid::Uuid;

use super::{FIRST_PHONE, Handset, NUMBER, PHONES, Screen, phone};
use crate::lines::{NotStored, Reception};
use crate::number::Number;
use crate::refusal::Refusal;

#[derive(Deserialize)]
pub struct Asked {
    number: Option<String>,
}

#[derive(Deserialize)]
pub struct Written {
    number: String,
    text: String,
    /// Made with the page: sending the same page twice sends one message.
    id: Uuid,
}

#[derive(Template)]
#[template(path = "handset/page.html", config = "src/askama.toml")]
struct Page<'a> {
    hotline: &'a str,
    phones: &'a str,
    number: &'a str,
    draft: &'a str,
    problem: Option<&'a str>,
    id: Uuid,
    bubbles: Vec<Bubble>,
}

/// One message: what was typed here, or what came back.
struct Bubble {
    at: DateTime<Utc>,
    said: Option<String>,
    screen: Option<Screen>,
}

pub async fn show<R: Reception>(
    State(handset): State<Arc<Handset<R>>>,
    asked: Result<Query<Asked>, QueryRejection>,
) -> Response {
    let Ok(Query(asked)) = asked else {
        let refusal = Refusal::field("number", "The address could not be read; give one number.");
        return handset.page_with_problem(FIRST_PHONE, "", refusal).await;
    };
    let number = asked.number.as_deref().unwrap_or(FIRST_PHONE);
    match phone(number) {
        Ok(phone) => handset.page(&phone, "", None).await,
        Err(refusal) => handset.page_with_problem(number, "", refusal).await,
    }
}

pub async fn send<R: Reception>(
    State(handset): State<Arc<Handset<R>>>,
    written: Result<Form<Written>, FormRejection>,
) -> Response {
    let Ok(Form(written)) = written else {
        let refusal = Refusal::new(StatusCode::BAD_REQUEST, "unreadable", "The form could not be read; write it again.");
        return handset.page_with_problem(FIRST_PHONE, "", refusal).await;
    };
    match handset.send(&written.number, &written.text, written.id).await {
        // The number is one of ours by now: digits after a plus, which a query must encode.
        Ok(_) => Redirect::to(&format!("/handset?number=%2B{}#write", written.number.trim().trim_start_matches('+')))
            .into_response(),
        Err(refusal) => handset.page_with_problem(&written.number, &written.text, refusal).await,
    }
}

impl<R: Reception> Handset<R> {
    async fn page_with_problem(&self, number: &str, draft: &str, refusal: Refusal) -> Response {
        match phone(number) {
            Ok(phone) => self.page(&phone, draft, Some(&refusal)).await,
            Err(_) => render(number, draft, Some(&refusal), Vec::new()),
        }
    }

    async fn page(&self, phone: &Number, draft: &str, problem: Option<&Refusal>) -> Response {
        match self.reception.conversation(super::LINE, phone).await {
            Ok((said, sent)) => {
                let said = said.into_iter().map(|said| Bubble { at: said.at, said: Some(said.text), screen: None });
                let sent = sent.into_iter().map(|sent| {
                    let screen = Some(Screen::of(&sent.text));
                    Bubble { at: sent.at, said: None, screen }
                });
                let mut bubbles: Vec<Bubble> = said.chain(sent).collect();
                // A reply has the time of its message, and stands below it.
                bubbles.sort_by_key(|bubble| (bubble.at, bubble.said.is_none()));
                render(phone.as_str(), draft, problem, bubbles)
            }
            Err(NotStored) => render(phone.as_str(), draft, Some(&Refusal::unavailable()), Vec::new()),
        }
    }
}

fn render(number: &str, draft: &str, problem: Option<&Refusal>, bubbles: Vec<Bubble>) -> Response {
    let status = problem.map_or(StatusCode::OK, Refusal::status);
    let page = Page {
        hotline: NUMBER,
        phones: PHONES,
        number,
        draft,
        problem: problem.map(Refusal::message),
        id: Uuid::now_v7(),
        bubbles,
    };
    match page.render() {
        Ok(html) => {
            // Nothing from elsewhere, no script, not inside another's page, and no number left in a shared cache.
            let policy = "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; base-uri 'none'; \
                          frame-ancestors 'none'";
            let headers = [
                (header::CONTENT_SECURITY_POLICY, policy),
                (header::CACHE_CONTROL, "no-store"),
                (header::REFERRER_POLICY, "no-referrer"),
                (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
            ];
            (status, headers, Html(html)).into_response()
        }
        Err(_) => Refusal::new(StatusCode::INTERNAL_SERVER_ERROR, "failed", "The page could not be made.").into_response(),
    }
}
