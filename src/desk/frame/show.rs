//! A page as an answer: as it is, or again with what was wrong.

use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;

use super::fault::Fault;
use super::page::answer;

/// A page.
pub fn show(page: &impl Template) -> Result<Response, Fault> {
    Ok(answer(StatusCode::OK, page))
}

/// A page again, with what was wrong said on it.
pub fn show_wrong(page: &impl Template) -> Result<Response, Fault> {
    Ok(answer(StatusCode::UNPROCESSABLE_ENTITY, page))
}
