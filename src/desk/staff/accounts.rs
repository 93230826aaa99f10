//! Accounts, keys, and who did what.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use chrono::Utc;
use serde::Deserialize;
use uuid::Uuid;

use crate::desk::frame::clock::Clock;
use crate::desk::frame::fault::Fault;
use crate::desk::frame::filters;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::Frame;
use crate::desk::frame::show::{show, show_wrong};
use crate::desk::frame::words::said;
use crate::desk::staff::password::first_password;
use crate::desk::state::Desk;
use crate::store::{AuditRow, KeyRow, StaffRow};

const SHOWN: i64 = 100;

#[derive(Template)]
#[template(path = "look/accounts.html", config = "src/askama.toml")]
struct AccountsPage<'a> {
    frame: Frame<'a>,
    staff: Vec<StaffRow>,
    keys: Vec<KeyRow>,
    roles: [Role; 3],
    /// Roles as they were brought, with what is wrong with them.
    brought: &'a str,
    problem: Option<String>,
    /// The name of an account and the password for its first sign-in, shown this once.
    first: Option<(&'a str, &'a str)>,
}

pub async fn list(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    page(&desk, &member, "", None).await
}

/// The accounts, with a password that is shown this once.
async fn page_with(desk: &Desk, member: &Member, first: (&str, &str)) -> Result<Response, Fault> {
    let (staff, keys) = (desk.store.staff().await?, desk.store.keys().await?);
    let frame = Frame::new("Accounts", Some(member));
    show(&AccountsPage { frame, staff, keys, roles: Role::ALL, brought: "", problem: None, first: Some(first) })
}

/// The accounts, beside a file of roles that was not taken.
pub async fn page(desk: &Desk, member: &Member, brought: &str, problem: Option<String>) -> Result<Response, Fault> {
    let (staff, keys) = (desk.store.staff().await?, desk.store.keys().await?);
    let is_wrong = problem.is_some();
    let frame = Frame::new("Accounts", Some(member));
    let page = AccountsPage { frame, staff, keys, roles: Role::ALL, brought, problem, first: None };
    if is_wrong { show_wrong(&page) } else { show(&page) }
}

/// Back to the accounts.
pub fn home() -> Response {
    Redirect::to("/desk/accounts").into_response()
}

#[derive(Deserialize)]
pub struct Change {
    id: Uuid,
    #[serde(rename = "do")]
    what: String,
    #[serde(default)]
    role: String,
}

pub async fn act(State(desk): State<Arc<Desk>>, member: Member, Form(change): Form<Change>) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let now = Utc::now();
    let name = desk.store.staff().await?.into_iter().find(|row| row.id == change.id).map(|row| row.name);
    if change.id == member.id {
        return Err(Fault::Wrong("Nobody changes the own account; ask another who runs the place.".to_owned()));
    }
    if let ("reset" | "reopen", Some(name)) = (change.what.as_str(), &name) {
        return give_password(&desk, &member, &change, name).await;
    }
    let mut step = desk.store.begin().await?;
    match (change.what.as_str(), name) {
        ("close", Some(name)) => {
            if step.close_staff(change.id, now).await? {
                step.note(&member.name, "closed an account", &name, now).await?;
            }
        }
        ("role", Some(name)) => {
            let role = Role::named(&change.role).ok_or(Fault::NotFound)?;
            if step.set_role(change.id, role.name()).await? {
                step.note(&member.name, "changed a role", &format!("{name}: {}", role.name()), now).await?;
            }
        }
        ("close-key", _) => {
            let name = step.close_key(change.id, now).await?.ok_or(Fault::NotFound)?;
            step.note(&member.name, "closed a key", &name, now).await?;
        }
        _ => return Err(Fault::NotFound),
    }
    step.commit().await?;
    desk.sessions_ended();
    Ok(home())
}

/// Gives an account a password for its first sign-in, which ends every session of it; opens it where it was closed.
async fn give_password(desk: &Desk, member: &Member, change: &Change, name: &str) -> Result<Response, Fault> {
    let now = Utc::now();
    let password = first_password().map_err(|_| Fault::Failed)?;
    let hash = desk.hashing.hash(password.clone()).await.map_err(|_| Fault::Crowded)?.map_err(|_| Fault::Failed)?;
    let mut step = desk.store.begin().await?;
    let (is_done, did) = match change.what.as_str() {
        "reopen" => (step.reopen_staff(change.id, &hash).await?, "opened an account again"),
        _ => (step.set_password(change.id, &hash, true).await?, "set another's password anew"),
    };
    if !is_done {
        return Err(Fault::NotFound);
    }
    step.note(&member.name, did, name, now).await?;
    step.commit().await?;
    desk.sessions_ended();
    page_with(desk, member, (name, &password)).await
}

#[derive(Deserialize)]
pub struct Before {
    before: Option<i64>,
}

#[derive(Template)]
#[template(path = "look/audit.html", config = "src/askama.toml")]
struct AuditPage<'a> {
    frame: Frame<'a>,
    clock: Clock,
    rows: Vec<AuditRow>,
    next: Option<i64>,
}

impl AuditPage<'_> {
    /// Where what was done can be looked at, and its name there; what it was done to by itself where there is no such page.
    fn link(&self, row: &AuditRow) -> Option<(String, String)> {
        let is = |what: &str| row.did.contains(what);
        let id = row.about.split([' ', ':']).next().filter(|id| id.parse::<Uuid>().is_ok());
        let name: String = form_urlencoded::byte_serialize(row.about.as_bytes()).collect();
        match id {
            Some(id) if is("talk") || is("grower") => {
                Some((format!("/desk/growers/{id}"), said("the grower").into_owned()))
            }
            Some(id) if is("list") || is(" row") => Some((format!("/desk/bulk/{id}"), said("the list").into_owned())),
            None if is("place") && !is("took out") => {
                Some((format!("/desk/places/{}", name.replace('+', "%20")), row.about.clone()))
            }
            _ => None,
        }
    }
}

pub async fn audit(State(desk): State<Arc<Desk>>, member: Member, Query(before): Query<Before>) -> Result<Response, Fault> {
    let rows = desk.store.audit(before.before, SHOWN).await?;
    let next = (rows.len() as i64 == SHOWN).then(|| rows.last().map(|row| row.id)).flatten();
    show(&AuditPage { frame: Frame::new("Who did what", Some(&member)), clock: desk.clock(), rows, next })
}
