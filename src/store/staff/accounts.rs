//! Desk accounts.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// An account as a list shows it.
#[derive(Debug, Clone, FromRow)]
pub struct StaffRow {
    pub id: Uuid,
    pub name: String,
    pub role: String,
    pub created_at: DateTime<Utc>,
    pub closed_at: Option<DateTime<Utc>>,
    /// Somebody else has set its password.
    pub must_change: bool,
}

/// What a sign-in is checked against. No `Debug`: it holds a password's hash.
#[derive(FromRow)]
pub struct StaffSecret {
    pub id: Uuid,
    pub name: String,
    pub password: String,
}

/// An account to be made. No `Debug`, for the same reason.
pub struct NewStaff<'a> {
    pub name: &'a str,
    pub role: &'a str,
    pub password: &'a str,
    pub created_at: DateTime<Utc>,
}

pub(super) fn key_of(name: &str) -> String {
    name.trim().to_lowercase()
}

impl Step<'_> {
    /// Every name that an account has or had; no other account is made, changed or opened until this step ends.
    pub async fn lock_names(&mut self) -> Result<Vec<String>, StoreError> {
        sqlx::query("lock table staff in share row exclusive mode").execute(self.opened.on()).await?;
        Ok(sqlx::query_scalar("select name from staff").fetch_all(self.opened.on()).await?)
    }

    /// Makes an account; a name that is taken is refused.
    pub async fn add_staff(&mut self, new: &NewStaff<'_>) -> Result<Uuid, StoreError> {
        let id = Uuid::now_v7();
        sqlx::query("insert into staff (id, name, name_key, role, password, created_at) values ($1, $2, $3, $4, $5, $6)")
            .bind(id)
            .bind(new.name.trim())
            .bind(key_of(new.name))
            .bind(new.role)
            .bind(new.password)
            .bind(new.created_at)
            .execute(self.opened.on())
            .await?;
        Ok(id)
    }

    /// Changes what an account may do; false when that is what it may do already, or it is closed.
    ///
    /// # Errors
    /// The last one who runs the place keeps that role.
    pub async fn set_role(&mut self, staff: Uuid, role: &str) -> Result<bool, StoreError> {
        self.lock_runners().await?;
        let done = sqlx::query("update staff set role = $2 where id = $1 and closed_at is null and role <> $2")
            .bind(staff)
            .bind(role)
            .execute(self.opened.on())
            .await?;
        self.must_be_run().await?;
        Ok(done.rows_affected() == 1)
    }

    /// Closes an account, ends its sessions and gives back the talks in its hands; false when it was closed already.
    ///
    /// # Errors
    /// The last one who runs the place stays.
    pub async fn close_staff(&mut self, staff: Uuid, now: DateTime<Utc>) -> Result<bool, StoreError> {
        self.lock_runners().await?;
        let done = sqlx::query("update staff set closed_at = $2 where id = $1 and closed_at is null")
            .bind(staff)
            .bind(now)
            .execute(self.opened.on())
            .await?;
        self.end_sessions(staff).await?;
        sqlx::query("delete from talk_in_hand where staff = $1").bind(staff).execute(self.opened.on()).await?;
        self.must_be_run().await?;
        Ok(done.rows_affected() == 1)
    }

    /// Opens a closed account again with another password; false when it is open.
    pub async fn reopen_staff(&mut self, staff: Uuid, password: &str) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "update staff set closed_at = null, password = $2, must_change = true where id = $1 and closed_at is not null",
        )
        .bind(staff)
        .bind(password)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Gives an open account another password and ends every session of it. A sign-in that is under way with the old one
    /// waits for this row and then finds another.
    pub async fn set_password(&mut self, staff: Uuid, password: &str, must_change: bool) -> Result<bool, StoreError> {
        let done = sqlx::query("update staff set password = $2, must_change = $3 where id = $1 and closed_at is null")
            .bind(staff)
            .bind(password)
            .bind(must_change)
            .execute(self.opened.on())
            .await?;
        self.end_sessions(staff).await?;
        Ok(done.rows_affected() == 1)
    }

    async fn end_sessions(&mut self, staff: Uuid) -> Result<(), StoreError> {
        sqlx::query("delete from staff_session where staff = $1").bind(staff).execute(self.opened.on()).await?;
        Ok(())
    }

    /// Two who lower each other at the same moment come one after the other.
    async fn lock_runners(&mut self) -> Result<(), StoreError> {
        sqlx::query("select 1 from staff where role = 'runs' and closed_at is null order by id for update")
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    async fn must_be_run(&mut self) -> Result<(), StoreError> {
        let is_run = sqlx::query_scalar("select exists (select 1 from staff where role = 'runs' and closed_at is null)");
        if is_run.fetch_one(self.opened.on()).await? { Ok(()) } else { Err(StoreError::LastRunner) }
    }
}

impl Store {
    /// The open account of a name.
    pub async fn staff_secret(&self, name: &str) -> Result<Option<StaffSecret>, StoreError> {
        Ok(sqlx::query_as("select id, name, password from staff where name_key = $1 and closed_at is null")
            .bind(key_of(name))
            .fetch_optional(&self.database)
            .await?)
    }

    /// Every account, open ones first.
    pub async fn staff(&self) -> Result<Vec<StaffRow>, StoreError> {
        Ok(sqlx::query_as(
            "select id, name, role, created_at, closed_at, must_change from staff order by closed_at is not null, name_key",
        )
        .fetch_all(&self.database)
        .await?)
    }
}
