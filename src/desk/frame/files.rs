//! The files that every page uses.

use axum::http::header;
use axum::response::{IntoResponse, Response};

pub async fn style() -> Response {
    file("text/css; charset=utf-8", include_str!("../look/desk.css"))
}

pub async fn script() -> Response {
    file("text/javascript; charset=utf-8", include_str!("../look/desk.js"))
}

fn file(kind: &'static str, body: &'static str) -> Response {
    let headers =
        [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-cache"), (header::X_CONTENT_TYPE_OPTIONS, "nosniff")];
    (headers, body).into_response()
}
