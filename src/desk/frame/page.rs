//! A page's frame and its headers, and the files that every page uses.

use askama::Template;
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};

use uuid::Uuid;

use super::files;
use super::member::{Member, Role};
use super::words::{self, Words};
use crate::refusal::Refusal;

/// What stands around every page.
pub struct Frame<'a> {
    pub title: &'a str,
    pub member: Option<&'a Member>,
}

impl<'a> Frame<'a> {
    pub fn new(title: &'a str, member: Option<&'a Member>) -> Self {
        Self { title, member }
    }

    /// Whether who looks may answer growers.
    pub fn answers(&self) -> bool {
        self.member.is_some_and(|member| member.role >= Role::Answers)
    }

    /// Whether who looks has this account.
    pub fn is(&self, staff: &Uuid) -> bool {
        self.member.is_some_and(|member| member.id == *staff)
    }

    /// Whether who looks runs the place.
    pub fn runs(&self) -> bool {
        self.member.is_some_and(|member| member.role >= Role::Runs)
    }

    /// The language of the page's words.
    pub fn language(&self) -> &'static str {
        words::code()
    }

    pub fn languages(&self) -> &'static [Words] {
        words::languages()
    }

    pub fn style(&self) -> String {
        files::style_path()
    }

    pub fn script(&self) -> String {
        files::script_path()
    }

    pub fn stream(&self) -> String {
        files::stream_path()
    }

    pub fn icon(&self) -> String {
        files::icon_path()
    }

    /// Talks that wait for a human.
    pub fn waiting(&self) -> i64 {
        self.member.map_or(0, |member| member.waiting)
    }

    /// Messages that staff have to look at because no gateway took them.
    pub fn undelivered(&self) -> i64 {
        self.member.map_or(0, |member| member.undelivered)
    }

    /// Rooms of the desk in the order of the menu: path, name, and how much there waits to be seen to.
    pub fn menu(&self) -> [(&'static str, &'static str, i64); 12] {
        [
            ("/desk/waiting", "Waiting", self.waiting()),
            ("/desk/talks", "All talks", 0),
            ("/desk/undelivered", "Undelivered", self.undelivered()),
            ("/desk/try", "Try out", 0),
            ("/desk/set", "One set", 0),
            ("/desk/bulk", "Many at once", 0),
            ("/desk/places", "Places", 0),
            ("/desk/pumps", "Pumps", 0),
            ("/desk/prices", "Prices", 0),
            ("/desk/numbers", "Numbers", 0),
            ("/desk/accounts", "Accounts", 0),
            ("/desk/audit", "Who did what", 0),
        ]
    }
}

/// Nothing from elsewhere, not inside another's page, and nothing of a grower left in a shared cache.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self'; worker-src 'self'; \
                      form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

fn headers() -> [(HeaderName, HeaderValue); 4] {
    [
        (header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY)),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
        (header::REFERRER_POLICY, HeaderValue::from_static("same-origin")),
        (header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff")),
    ]
}

/// What every answer says, a page or not: it is what it says it is, and stands in nobody's frame (older browsers know only
/// this word for it).
pub async fn unframed(mut response: Response) -> Response {
    let headers = response.headers_mut();
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::X_FRAME_OPTIONS, HeaderValue::from_static("DENY"));
    response
}

/// A page with a status.
pub fn answer(status: StatusCode, page: &impl Template) -> Response {
    match page.render() {
        Ok(html) => (status, headers(), Html(html)).into_response(),
        Err(_) => Refusal::new(StatusCode::INTERNAL_SERVER_ERROR, "failed", "The page could not be made.").into_response(),
    }
}

/// A file to keep.
pub fn download(name: &str, kind: &'static str, body: impl Into<axum::body::Body>) -> Response {
    // The name is ours or made of safe characters.
    let safe: String = name.chars().filter(|c| c.is_ascii_alphanumeric() || "-_.".contains(*c)).collect();
    let disposition = format!("attachment; filename=\"{safe}\"");
    let disposition = HeaderValue::try_from(disposition).unwrap_or(HeaderValue::from_static("attachment"));
    let mut response = (headers(), body.into()).into_response();
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    response.headers_mut().insert(header::CONTENT_DISPOSITION, disposition);
    response
}
