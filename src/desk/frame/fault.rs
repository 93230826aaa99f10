//! Why a page could not be shown or a form not be taken, as a page that says what to do.

use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use tracing::error;

use crate::desk::frame::cell::capital;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, PASSWORD_PATH, Role};
use crate::desk::frame::page::{self, Frame};
use crate::desk::frame::words::{said, said_with};
use crate::refusal::Refusal;
use crate::store::StoreError;

/// Who was refused by the role, kept with the response.
#[derive(Debug, Clone)]
pub struct Refused(pub String);

pub enum Fault {
    /// Nobody is signed in; afterwards this path is shown.
    SignIn(Option<String>),
    /// The password has to be changed first.
    MustChange,
    NotAllowed(Box<Member>, Role),
    NotFound,
    /// The form is wrong, in one sentence that says what to do.
    Wrong(String),
    Store(StoreError),
    /// More pages of events are open than are served.
    Crowded,
    Failed,
}

impl Member {
    /// Refuses what the role does not allow.
    pub fn must(&self, role: Role) -> Result<(), Fault> {
        if self.role >= role { Ok(()) } else { Err(Fault::NotAllowed(Box::new(self.clone()), role)) }
    }
}

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

/// A page in the stead of the bare words with which a form or an address that cannot be read is refused before any room of
/// the desk sees it.
pub async fn in_words(response: Response) -> Response {
    let kind = response.headers().get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok());
    let is_bare = kind.is_some_and(|kind| kind.starts_with("text/plain"));
    match response.status() {
        StatusCode::PAYLOAD_TOO_LARGE if is_bare => {
            Fault::Wrong(said("This is larger than the desk takes at once; go back and send less.").into_owned())
                .into_response()
        }
        status if status.is_client_error() && is_bare => {
            Fault::Wrong(said("This could not be read; go back, look at what was written, and send it again.").into_owned())
                .into_response()
        }
        _ => response,
    }
}

/// An address that leads nowhere: a page for whoever reads it in a browser, the usual shape for machines.
pub async fn nowhere(headers: HeaderMap) -> Response {
    let accept = headers.get(header::ACCEPT).and_then(|value| value.to_str().ok()).unwrap_or_default();
    if !accept.contains("text/html") {
        return Refusal::not_found("There is nothing at this path; see /openapi.json.").into_response();
    }
    let frame = Frame::new("There is no such page", None);
    let sentence = said("The address is mistyped, or what was here is gone.");
    page::answer(StatusCode::NOT_FOUND, &FaultPage { frame, sentence: &sentence })
}

#[derive(askama::Template)]
#[template(path = "look/fault.html", config = "src/askama.toml")]
struct FaultPage<'a> {
    frame: Frame<'a>,
    sentence: &'a str,
}

impl IntoResponse for Fault {
    fn into_response(self) -> Response {
        let (status, sentence) = match self {
            Self::SignIn(then) => {
                let then = then.filter(|path| path.starts_with("/desk/") && !path.contains("/events"));
                let query: String = then.map_or_else(String::new, |path| {
                    form_urlencoded::Serializer::new("?".to_owned()).append_pair("then", &path).finish()
                });
                return Redirect::to(&format!("/desk/sign-in{query}")).into_response();
            }
            Self::MustChange => return Redirect::to(PASSWORD_PATH).into_response(),
            Self::NotAllowed(member, role) => {
                let sentence = said_with(
                    "This needs the role “{role}”; ask somebody who runs the place.",
                    &[("role", &said(role.name()))],
                );
                let frame = Frame::new("This did not work", Some(&*member));
                let mut response = page::answer(StatusCode::FORBIDDEN, &FaultPage { frame, sentence: &sentence });
                response.extensions_mut().insert(Refused(member.name));
                return response;
            }
            Self::NotFound => {
                (StatusCode::NOT_FOUND, said("There is nothing here any more; go back to the waiting talks.").into_owned())
            }
            Self::Wrong(sentence) => (StatusCode::BAD_REQUEST, sentence),
            Self::Store(error @ (StoreError::NameTaken | StoreError::LastRunner)) => {
                (StatusCode::CONFLICT, format!("{}.", capital(&error.to_string())))
            }
            // A character that PostgreSQL does not hold, a number out of its range: the value's fault, not the database's.
            Self::Store(error @ StoreError::Refused(_)) => {
                error!(%error, "a value was refused");
                let sentence =
                    "Something written here cannot be kept; go back, look for strange characters, send it again.";
                (StatusCode::UNPROCESSABLE_ENTITY, said(sentence).into_owned())
            }
            Self::Store(error) => {
                error!(%error, "a page could not be made");
                let sentence = Refusal::unavailable().message().to_owned();
                (StatusCode::SERVICE_UNAVAILABLE, sentence)
            }
            Self::Crowded => {
                let sentence = "Too many pages are open at once; close some and come again.";
                (StatusCode::SERVICE_UNAVAILABLE, said(sentence).into_owned())
            }
            Self::Failed => {
                (StatusCode::INTERNAL_SERVER_ERROR, said("The page could not be made; see the log.").into_owned())
            }
        };
        let frame = Frame::new("This did not work", None);
        page::answer(status, &FaultPage { frame, sentence: &sentence })
    }
}
