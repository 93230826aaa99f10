//! Accounts as a file, to take away and to bring roles back with. Passwords stay where they are typed: no file makes an
//! account.

use std::sync::Arc;

use axum::extract::{Form, State};
use axum::response::Response;
use chrono::Utc;
use serde::Deserialize;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::{Member, Role};
use crate::desk::frame::page::download;
use crate::desk::staff::accounts;
use crate::desk::staff::taken::took_away;
use crate::desk::state::Desk;
use crate::store::StaffRow;
use crate::table::defused;

/// Every account with its role.
pub async fn take(State(desk): State<Arc<Desk>>, member: Member) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    took_away(&desk, &member, "accounts").await?;
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(["name", "role", "since", "closed"]).map_err(|_| Fault::Failed)?;
    for row in desk.store.staff().await? {
        let closed = row.closed_at.map(|at| at.to_rfc3339()).unwrap_or_default();
        let cells = [defused(&row.name).into_owned(), row.role, row.created_at.to_rfc3339(), closed];
        writer.write_record(cells).map_err(|_| Fault::Failed)?;
    }
    let bytes = writer.into_inner().map_err(|_| Fault::Failed)?;
    Ok(download("accounts.csv", "text/csv; charset=utf-8", bytes))
}

#[derive(Deserialize)]
pub struct Brought {
    #[serde(default)]
    text: String,
}

/// Gives accounts the roles of a file with the columns `name` and `role`; all of them or none.
pub async fn bring(State(desk): State<Arc<Desk>>, member: Member, Form(brought): Form<Brought>) -> Result<Response, Fault> {
    member.must(Role::Runs)?;
    let staff = desk.store.staff().await?;
    let changes = match roles_of(&brought.text, &staff, &member) {
        Ok(changes) => changes,
        Err(problem) => return accounts::page(&desk, &member, &brought.text, Some(problem)).await,
    };
    let now = Utc::now();
    let mut step = desk.store.begin().await?;
    for (row, role) in changes {
        if step.set_role(row.id, role.name()).await? {
            step.note(&member.name, "changed a role", &format!("{}: {}", row.name, role.name()), now).await?;
        }
    }
    step.commit().await?;
    desk.sessions_ended();
    Ok(accounts::home())
}

/// The roles that differ from those held, or one sentence that names the line and what to do.
fn roles_of<'s>(text: &str, staff: &'s [StaffRow], member: &Member) -> Result<Vec<(&'s StaffRow, Role)>, String> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().map_err(|_| "This is no CSV; begin it with the line: name,role".to_owned())?.clone();
    let column = |name: &str| heads.iter().position(|head| head.trim() == name);
    let (Some(name_at), Some(role_at)) = (column("name"), column("role")) else {
        return Err("The first line must name the columns name and role, as in: name,role".to_owned());
    };
    let mut changes = Vec::new();
    for (row, line) in reader.records().zip(2..) {
        let row = row.map_err(|_| format!("Line {line} has other columns than the first; mend it."))?;
        let cell = |at: usize| row.get(at).unwrap_or_default().trim();
        let name = cell(name_at).trim_start_matches('\'');
        let open = staff.iter().find(|held| held.name == name && held.closed_at.is_none());
        let held = open.ok_or_else(|| {
            format!(
                "Line {line}: no open account is called {name:?}; make it with noonwater staff add, or take the line out."
            )
        })?;
        let role = Role::named(cell(role_at)).ok_or_else(|| {
            let known = Role::ALL.map(Role::name).join(", ");
            format!("Line {line}: {:?} is no role; write one of: {known}.", cell(role_at))
        })?;
        if held.role == role.name() {
            continue;
        }
        if held.id == member.id {
            return Err(format!("Line {line}: nobody changes the own account; ask another who runs the place."));
        }
        changes.push((held, role));
    }
    Ok(changes)
}
