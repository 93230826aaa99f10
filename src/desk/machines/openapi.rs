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
    /// A body that works, as JSON.
    example: Option<String>,
    curl: Option<String>,
    /// Where, name, what it is: parameters, then what goes in and what comes out.
    fields: Vec<[String; 3]>,
}

#[derive(Template)]
#[template(path = "look/api.html", config = "src/askama.toml")]
struct ApiPage<'a> {
    frame: Frame<'a>,
    paths: Vec<Path>,
}

/// The units that names of numbers end with.
const UNITS: [(&str, &str); 16] = [
    ("_m", "metres"),
    ("_mm", "millimetres"),
    ("_mm2", "square millimetres"),
    ("_m2", "square metres"),
    ("_m3_day", "cubic metres a day"),
    ("_l_h", "litres an hour"),
    ("_l_min", "litres a minute"),
    ("_l_m2_day", "litres a square metre a day"),
    ("_w", "watts"),
    ("_v", "volts"),
    ("_a", "amperes"),
    ("_percent", "hundredths"),
    ("_deg", "degrees"),
    ("_h", "hours"),
    ("_km", "kilometres"),
    ("_cost", "the price list's currency"),
];

impl ApiPage<'_> {
    fn units(&self) -> [(&'static str, &'static str); 16] {
        UNITS
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// What a `$ref` leads to; anything else is what it is.
fn resolved<'v>(surface: &'v Value, schema: &'v Value) -> &'v Value {
    let name = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next());
    name.map_or(schema, |name| &surface["components"]["schemas"][name])
}

/// The fields of a schema, or of what a list of it holds.
fn fields(surface: &Value, place: &str, schema: &Value) -> Vec<[String; 3]> {
    let schema = resolved(surface, schema);
    if schema["type"] == "array" {
        return fields(surface, place, &schema["items"]);
    }
    let mut rows = Vec::new();
    for (name, field) in schema["properties"].as_object().into_iter().flatten() {
        let inner = resolved(surface, field);
        let what = [&field["description"], &inner["description"]].map(text).into_iter().find(|what| !what.is_empty());
        rows.push([place.to_owned(), name.clone(), what.unwrap_or_else(|| kind(inner))]);
        if inner["type"] == "array" && !inner["items"]["$ref"].is_null() {
            rows.extend(fields(surface, &format!("{place} {name}"), &inner["items"]));
        }
    }
    rows
}

fn kind(schema: &Value) -> String {
    let choices = schema["enum"].as_array().map(|all| all.iter().map(text).collect::<Vec<_>>().join(", "));
    choices.unwrap_or_else(|| text(&schema["type"]))
}

/// A command that works as it stands once the key is put in.
fn curl(method: &str, path: &str, of_method: &Value, example: Option<&Value>) -> Option<String> {
    if path.contains('{') || path == "/desk" || path == "/api" {
        return None;
    }
    let mut command = "curl".to_owned();
    if !of_method["security"].is_null() {
        command.push_str(" -H \"Authorization: Bearer $KEY\"");
    }
    if method != "GET" {
        command.push_str(&format!(" -X {method}"));
    }
    if let Some(example) = example {
        command
            .push_str(&format!(" -H 'Content-Type: application/json' -d '{}'", example.to_string().replace('\'', "'\\''")));
    }
    Some(format!("{command} http://127.0.0.1:8080{path}"))
}

fn path_of(surface: &Value, path: &str, method: &str, of_method: &Value) -> Path {
    let body = &of_method["requestBody"]["content"]["application/json"];
    let example = Some(&body["example"]).filter(|example| !example.is_null());
    let mut rows: Vec<[String; 3]> = Vec::new();
    for parameter in of_method["parameters"].as_array().into_iter().flatten() {
        rows.push([text(&parameter["in"]), text(&parameter["name"]), text(&parameter["description"])]);
    }
    rows.extend(fields(surface, "in", &body["schema"]));
    for content in of_method["responses"]["200"]["content"].as_object().into_iter().flatten().take(1) {
        rows.extend(fields(surface, "out", &content.1["schema"]));
    }
    let statuses = of_method["responses"].as_object().into_iter().flatten();
    let method = method.to_uppercase();
    Path {
        path: path.to_owned(),
        what: text(&of_method["summary"]),
        statuses: statuses.map(|(status, what)| (status.clone(), text(&what["description"]))).collect(),
        example: example.and_then(|example| serde_json::to_string_pretty(example).ok()),
        curl: curl(&method, path, of_method, example),
        fields: rows,
        method,
    }
}

pub async fn page() -> Result<Response, Fault> {
    let surface: Value = serde_json::from_str(SURFACE).map_err(|_| Fault::Failed)?;
    let mut paths = Vec::new();
    for (of, name) in [("paths", ""), ("webhooks", "event ")] {
        for (path, methods) in surface[of].as_object().into_iter().flatten() {
            for (method, of_method) in methods.as_object().into_iter().flatten() {
                let mut path = path_of(&surface, path, method, of_method);
                if !name.is_empty() {
                    (path.path, path.curl) = (format!("{name}{}", path.path), None);
                }
                paths.push(path);
            }
        }
    }
    show(&ApiPage { frame: Frame::new("For machines", None), paths })
}
