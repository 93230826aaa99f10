//! The own password: changed by whoever knows it, and every session of the account ends with it.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, State};
use axum::http::HeaderMap;
use axum::response::Response;
use chrono::Utc;
use serde::Deserialize;

use crate::desk::frame::cell::capital;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::Member;
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::staff::origin::Origin;
use crate::desk::staff::password::{LENGTH_LEAST, check};
use crate::desk::staff::sign_in::signed_out;
use crate::desk::state::Desk;

#[derive(Template)]
#[template(path = "look/own_password.html", config = "src/askama.toml")]
struct OwnPasswordPage<'a> {
    frame: Frame<'a>,
    name: &'a str,
    least: usize,
    must_change: bool,
    problem: Option<String>,
}

#[derive(Deserialize)]
pub struct Typed {
    now: String,
    new: String,
    again: String,
}

fn page_of<'a>(member: &'a Member, problem: Option<String>) -> OwnPasswordPage<'a> {
    let frame = Frame::new("Password", Some(member));
    OwnPasswordPage { frame, name: &member.name, least: LENGTH_LEAST, must_change: member.must_change, problem }
}

pub async fn show_form(member: Member) -> Result<Response, Fault> {
    show(&page_of(&member, None))
}

pub async fn change(
    State(desk): State<Arc<Desk>>,
    member: Member,
    from: Origin,
    headers: HeaderMap,
    Form(typed): Form<Typed>,
) -> Result<Response, Fault> {
    let refuse = |problem: String| show_wrong(&page_of(&member, Some(problem)));
    if typed.new != typed.again {
        return refuse("The new password was written in two ways; write it twice alike.".to_owned());
    }
    if typed.new == typed.now {
        return refuse("The new password is the one of now; choose another.".to_owned());
    }
    if let Err(error) = check(&typed.new, &member.name) {
        return refuse(format!("{}.", capital(&error.to_string())));
    }
    if let Err(wait_s) = desk.tries.check(from) {
        return refuse(format!("Too many tries from here; try again in {wait_s} s."));
    }
    let busy = || "Many sign in at this moment; try again.".to_owned();
    let secret = desk.store.staff_secret(&member.name).await?.ok_or(Fault::NotFound)?;
    let Ok(is_right) = desk.hashing.verify(typed.now, Some(secret.password)).await else { return refuse(busy()) };
    if !is_right {
        desk.noticed.count(&member.name, "gave a wrong password", &from.to_string(), 1);
        return refuse("The password of now is wrong; write it again.".to_owned());
    }
    let Ok(hash) = desk.hashing.hash(typed.new).await else { return refuse(busy()) };
    let mut step = desk.store.begin().await?;
    if !step.set_password(member.id, &hash.map_err(|_| Fault::Failed)?, false).await? {
        return Err(Fault::NotFound);
    }
    step.note(&member.name, "changed the own password", "", Utc::now()).await?;
    step.commit().await?;
    desk.sessions_ended();
    Ok(signed_out(&headers))
}
