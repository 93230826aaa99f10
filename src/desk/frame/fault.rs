//! Why a page could not be shown or a form not be taken, as a page that says what to do.

use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use tracing::error;

use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::{self, Frame};
use crate::desk::frame::words::{said, said_with};
use crate::refusal::Refusal;
use crate::store::StoreError;

pub enum Fault {
    /// Nobody is signed in; afterwards this path is shown.
    SignIn(Option<String>),
    NotAllowed(Box<Member>, Role),
    NotFound,
    /// The form is wrong, in one sentence that says what to do.
    Wrong(String),
    Store(StoreError),
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
        let (status, member, sentence) = match self {
            Self::SignIn(then) => {
                let then = then.filter(|path| path.starts_with("/desk/") && !path.contains("/events"));
                let query: String = then.map_or_else(String::new, |path| {
                    form_urlencoded::Serializer::new("?".to_owned()).append_pair("then", &path).finish()
                });
                return Redirect::to(&format!("/desk/sign-in{query}")).into_response();
            }
            Self::NotAllowed(member, role) => {
                let sentence = said_with(
                    "This needs the role “{role}”; ask somebody who runs the place.",
                    &[("role", &said(role.name()))],
                );
                (StatusCode::FORBIDDEN, Some(*member), sentence)
            }
            Self::NotFound => (
                StatusCode::NOT_FOUND,
                None,
                said("There is nothing here any more; go back to the waiting talks.").into_owned(),
            ),
            Self::Wrong(sentence) => (StatusCode::BAD_REQUEST, None, sentence),
            Self::Store(StoreError::NameTaken) => (StatusCode::CONFLICT, None, StoreError::NameTaken.to_string()),
            Self::Store(error) => {
                error!(%error, "a page could not be made");
                let sentence = Refusal::unavailable().message().to_owned();
                (StatusCode::SERVICE_UNAVAILABLE, None, sentence)
            }
            Self::Failed => {
                (StatusCode::INTERNAL_SERVER_ERROR, None, said("The page could not be made; see the log.").into_owned())
            }
        };
        let frame = Frame::new("This did not work", member.as_ref());
        page::answer(status, &FaultPage { frame, sentence: &sentence })
    }
}
