//! Desk accounts, their sessions, and pauses after wrong passwords.

use std::time::Duration;

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

fn key_of(name: &str) -> String {
    name.trim().to_lowercase()
}

impl Step<'_> {
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

    /// Changes what an account may do.
    pub async fn set_role(&mut self, staff: Uuid, role: &str) -> Result<bool, StoreError> {
        let done = sqlx::query("update staff set role = $2 where id = $1 and closed_at is null")
            .bind(staff)
            .bind(role)
            .execute(self.opened.on())
            .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Closes an account, ends its sessions and gives back the talks in its hands.
    pub async fn close_staff(&mut self, staff: Uuid, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let done = sqlx::query("update staff set closed_at = $2 where id = $1 and closed_at is null")
            .bind(staff)
            .bind(now)
            .execute(self.opened.on())
            .await?;
        sqlx::query("delete from staff_session where staff = $1").bind(staff).execute(self.opened.on()).await?;
        sqlx::query("delete from talk_in_hand where staff = $1").bind(staff).execute(self.opened.on()).await?;
        Ok(done.rows_affected() == 1)
    }

    /// Begins a session and forgets those that have ended, and the wrong passwords before it.
    pub async fn begin_session(
        &mut self,
        staff: &StaffSecret,
        key_hash: &[u8],
        now: DateTime<Utc>,
        lasts: Duration,
    ) -> Result<(), StoreError> {
        sqlx::query("delete from staff_session where ends_at < $1").bind(now).execute(self.opened.on()).await?;
        sqlx::query("delete from sign_in_failure where name_key = $1")
            .bind(key_of(&staff.name))
            .execute(self.opened.on())
            .await?;
        sqlx::query("insert into staff_session (key_hash, staff, created_at, ends_at) values ($1, $2, $3, $4)")
            .bind(key_hash)
            .bind(staff.id)
            .bind(now)
            .bind(now + lasts)
            .execute(self.opened.on())
            .await?;
        Ok(())
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
            "select id, name, role, created_at, closed_at from staff order by closed_at is not null, name_key",
        )
        .fetch_all(&self.database)
        .await?)
    }

    /// The account whose session this is.
    pub async fn session(&self, key_hash: &[u8], now: DateTime<Utc>) -> Result<Option<StaffRow>, StoreError> {
        Ok(sqlx::query_as(
            "select staff.id, name, role, staff.created_at, closed_at
             from staff_session join staff on staff.id = staff_session.staff
             where key_hash = $1 and ends_at > $2 and closed_at is null",
        )
        .bind(key_hash)
        .bind(now)
        .fetch_optional(&self.database)
        .await?)
    }

    pub async fn end_session(&self, key_hash: &[u8]) -> Result<(), StoreError> {
        sqlx::query("delete from staff_session where key_hash = $1").bind(key_hash).execute(&self.database).await?;
        Ok(())
    }

    /// When a name may next be tried.
    pub async fn sign_in_not_before(&self, name: &str) -> Result<Option<DateTime<Utc>>, StoreError> {
        Ok(sqlx::query_scalar("select not_before from sign_in_failure where name_key = $1")
            .bind(key_of(name))
            .fetch_optional(&self.database)
            .await?)
    }

    /// Counts a wrong password: from the third in a row each one doubles the pause, up to a quarter of an hour.
    /// Names not tried for a day are forgotten.
    pub async fn sign_in_failed(&self, name: &str, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("delete from sign_in_failure where last_at < $1 - interval '1 day'")
            .bind(now)
            .execute(&self.database)
            .await?;
        sqlx::query(
            "insert into sign_in_failure (name_key, failures, not_before, last_at) values ($1, 1, $2, $2)
             on conflict (name_key) do update set
                 failures = sign_in_failure.failures + 1,
                 last_at = excluded.last_at,
                 not_before = excluded.last_at + case when sign_in_failure.failures < 2 then interval '0'
                     else least(interval '15 minutes',
                                interval '5 seconds' * power(2, least(sign_in_failure.failures - 2, 10))) end",
        )
        .bind(key_of(name))
        .bind(now)
        .execute(&self.database)
        .await?;
        Ok(())
    }
}
