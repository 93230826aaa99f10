//! The one shape that a refused request gets back: `{"error": {"code", "field", "message"}}`.

use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde_json::json;

/// Why a request was refused, and what its sender can do about it.
#[derive(Debug)]
pub struct Refusal {
    status: StatusCode,
    /// A stable word for programs.
    code: &'static str,
    /// The field of the request that is wrong, as the sender calls it.
    field: Option<String>,
    message: String,
    retry_after_s: Option<u64>,
}

impl Refusal {
    pub fn new(status: StatusCode, code: &'static str, message: impl Into<String>) -> Self {
        Self { status, code, field: None, message: message.into(), retry_after_s: None }
    }

    /// 400: this field is wrong.
    pub fn field(field: &str, message: impl Into<String>) -> Self {
        Self { field: Some(field.to_owned()), ..Self::new(StatusCode::BAD_REQUEST, "wrong_field", message) }
    }

    /// 404: there is no such thing here.
    pub fn not_found(message: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, "not_found", message)
    }

    /// 429: this sender must wait.
    pub fn too_many(retry_after_s: u64) -> Self {
        let message = format!("This number sends too many messages; send this one again in {retry_after_s} s.");
        let refusal = Self::new(StatusCode::TOO_MANY_REQUESTS, "too_many_messages", message);
        Self { retry_after_s: Some(retry_after_s), ..refusal }
    }

    /// 503: nothing is wrong with the request, and nothing of it was kept.
    pub fn unavailable() -> Self {
        let refusal = Self::new(
            StatusCode::SERVICE_UNAVAILABLE,
            "unavailable",
            "The database does not answer; nothing was stored, send this again.",
        );
        Self { retry_after_s: Some(5), ..refusal }
    }

    pub fn status(&self) -> StatusCode {
        self.status
    }

    pub fn message(&self) -> &str {
        &self.message
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let mut error = json!({ "code": self.code });
        if let Some(field) = self.field {
            error["field"] = json!(field);
        }
        error["message"] = json!(self.message);
        let mut response = (self.status, axum::Json(json!({ "error": error }))).into_response();
        if let Some(seconds) = self.retry_after_s {
            response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(seconds));
        }
        if self.status == StatusCode::UNAUTHORIZED {
            response.headers_mut().insert(header::WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
        }
        response
    }
}

/// Gives errors that the web framework words itself (an unknown path, a wrong method, a request that took too long)
/// the same shape as all others.
pub async fn shape_errors(response: Response) -> Response {
    let status = response.status();
    let is_shaped = response
        .headers()
        .get(header::CONTENT_TYPE)
        .is_some_and(|kind| kind == "application/json" || kind.as_bytes().starts_with(b"text/html"));
    if !(status.is_client_error() || status.is_server_error()) || is_shaped {
        return response;
    }
    let (code, message) = match status {
        StatusCode::FORBIDDEN => {
            ("forbidden", "This came from a page of another site; open the desk itself and send it there.")
        }
        StatusCode::NOT_FOUND => ("not_found", "There is nothing at this path; see the README for the paths."),
        StatusCode::METHOD_NOT_ALLOWED => ("wrong_method", "This path does not take this method; see Allow."),
        StatusCode::PAYLOAD_TOO_LARGE => ("too_large", "The body is too large; send less at once."),
        StatusCode::REQUEST_TIMEOUT => ("too_slow", "The request took too long; send it again."),
        _ => ("refused", "The request could not be read; check its form and send it again."),
    };
    let mut shaped = Refusal::new(status, code, message).into_response();
    if let Some(allow) = response.headers().get(header::ALLOW) {
        shaped.headers_mut().insert(header::ALLOW, allow.clone());
    }
    shaped
}
