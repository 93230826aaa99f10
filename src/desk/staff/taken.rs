//! Whoever takes away what growers wrote, or who they are, is written down before it goes.

use chrono::Utc;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::state::Desk;

/// Writes down that a member of staff took a file away.
pub async fn took_away(desk: &Desk, member: &Member, what: &str) -> Result<(), Fault> {
    let mut step = desk.store.begin().await?;
    step.note(&member.name, "took away", what, Utc::now()).await?;
    Ok(step.commit().await?)
}
