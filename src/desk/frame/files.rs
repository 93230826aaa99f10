//! The files that every page uses. Their names carry a hash of what is in them: a browser keeps them for good and asks for a
//! changed one at once.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

/// A file by its hashed name.
struct File {
    path: String,
    kind: &'static str,
    body: &'static str,
}

fn file(stem: &str, ending: &str, kind: &'static str, body: &'static str) -> File {
    let hash: String = Sha256::digest(body.as_bytes()).iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    File { path: format!("{stem}-{hash}.{ending}"), kind, body }
}

static STYLE: LazyLock<File> =
    LazyLock::new(|| file("desk", "css", "text/css; charset=utf-8", include_str!("../look/desk.css")));
static SCRIPT: LazyLock<File> =
    LazyLock::new(|| file("desk", "js", "text/javascript; charset=utf-8", include_str!("../look/desk.js")));
static STREAM: LazyLock<File> =
    LazyLock::new(|| file("stream", "js", "text/javascript; charset=utf-8", include_str!("../look/stream.js")));
static ICON: LazyLock<File> = LazyLock::new(|| file("icon", "svg", "image/svg+xml", include_str!("../look/icon.svg")));

pub fn style_path() -> String {
    path_of(&STYLE)
}

pub fn script_path() -> String {
    path_of(&SCRIPT)
}

pub fn stream_path() -> String {
    path_of(&STREAM)
}

pub fn icon_path() -> String {
    path_of(&ICON)
}

fn path_of(file: &File) -> String {
    format!("/desk/files/{}", file.path)
}

/// A year: such a name never stands for anything else.
const FOR_GOOD: &str = "public, max-age=31536000, immutable";

pub async fn serve(Path(name): Path<String>) -> Response {
    let all: [&File; 4] = [&STYLE, &SCRIPT, &STREAM, &ICON];
    let Some(file) = all.into_iter().find(|file| file.path == name) else { return StatusCode::NOT_FOUND.into_response() };
    answer(file, FOR_GOOD)
}

/// Where browsers look for an icon by themselves.
pub async fn icon() -> Response {
    answer(&ICON, "public, max-age=86400")
}

fn answer(file: &'static File, caching: &'static str) -> Response {
    let headers =
        [(header::CONTENT_TYPE, file.kind), (header::CACHE_CONTROL, caching), (header::X_CONTENT_TYPE_OPTIONS, "nosniff")];
    (headers, file.body).into_response()
}
