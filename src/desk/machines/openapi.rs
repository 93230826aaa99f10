//! The whole HTTP surface for machines (OpenAPI 3.1), and a page to read it.

use askama::Template;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use serde_json::Value;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::show;

const SURFACE: &str = include_str!("../look/openapi.json");

pub async fn json() -> Response {
    ([(header::CONTENT_TYPE, "application/json")], SURFACE).into_response()
}

struct Path {
    method: String,
    path: String,
    what: String,
    statuses: Vec<(String, String)>,
}

#[derive(Template)]
#[template(path = "look/api.html", config = "src/askama.toml")]
struct ApiPage<'a> {
    frame: Frame<'a>,
    paths: Vec<Path>,
}

pub async fn page() -> Result<Response, Fault> {
    let surface: Value = serde_json::from_str(SURFACE).map_err(|_| Fault::Failed)?;
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let mut paths = Vec::new();
    for (path, methods) in surface["paths"].as_object().into_iter().flatten() {
        for (method, of_method) in methods.as_object().into_iter().flatten() {
            let statuses = of_method["responses"].as_object().into_iter().flatten();
            paths.push(Path {
                method: method.to_uppercase(),
                path: path.clone(),
                what: text(&of_method["summary"]),
                statuses: statuses.map(|(status, what)| (status.clone(), text(&what["description"]))).collect(),
            });
        }
    }
    show(&ApiPage { frame: Frame::new("For machines", None), paths })
}
