//! The classes of pump that stand in for one that was not told.

use std::sync::Arc;

use askama::Template;
use axum::extract::State;
use axum::response::Response;

use super::Desk;
use super::fault::Fault;
use super::member::Member;
use super::page::{Frame, show};
use crate::sizing::catalog::PumpClass;

#[derive(Template)]
#[template(path = "look/pumps.html", config = "src/askama.toml")]
struct PumpsPage<'a> {
    frame: Frame<'a>,
    classes: &'a [PumpClass],
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    show(&PumpsPage { frame: Frame::new("Pumps", Some(&member)), classes: &desk.world().market.classes })
}
