//! Sessions of desk accounts, and pauses after wrong passwords.

use std::time::Duration;

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use super::accounts::{StaffSecret, key_of};
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// Sessions of one account: a desk, a phone, a browser of somebody else's; the oldest ends for a new one.
const SESSIONS_MOST: i64 = 20;

/// Tries that are forgotten in one statement.
const FORGOTTEN_AT_ONCE: i64 = 10_000;

/// A session of an account.
#[derive(Debug, Clone, FromRow)]
pub struct SessionRow {
    pub id: Uuid,
    pub name: String,
    pub role: String,
    pub must_change: bool,
}

impl Step<'_> {
    /// Begins a session and forgets the wrong passwords before it; false when the account was closed or its password changed
    /// since it was looked up.
    pub async fn begin_session(
        &mut self,
        staff: &StaffSecret,
        key_hash: &[u8],
        now: DateTime<Utc>,
        lasts: Duration,
    ) -> Result<bool, StoreError> {
        sqlx::query("delete from staff_session where ends_at < $1").bind(now).execute(self.opened.on()).await?;
        let begun = sqlx::query(
            "insert into staff_session (key_hash, staff, created_at, ends_at)
             select $1, id, $3, $4 from staff where id = $2 and password = $5 and closed_at is null for update",
        )
        .bind(key_hash)
        .bind(staff.id)
        .bind(now)
        .bind(now + lasts)
        .bind(&staff.password)
        .execute(self.opened.on())
        .await?;
        sqlx::query(
            "delete from staff_session where staff = $1 and key_hash not in
                 (select key_hash from staff_session where staff = $1 order by created_at desc limit $2)",
        )
        .bind(staff.id)
        .bind(SESSIONS_MOST)
        .execute(self.opened.on())
        .await?;
        Ok(begun.rows_affected() == 1)
    }

    /// Forgets the wrong passwords of a name from an address: the right one has come from there.
    pub async fn forgive(&mut self, name: &str, address: &str) -> Result<(), StoreError> {
        sqlx::query("delete from sign_in_try where name_key = $1 and address = $2")
            .bind(key_of(name))
            .bind(address)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// Forgets what has not been tried for a day.
    pub async fn forget_tries(&mut self, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "delete from sign_in_try where (name_key, address) in
                 (select name_key, address from sign_in_try where last_at < $1 - interval '1 day' limit $2)",
        )
        .bind(now)
        .bind(FORGOTTEN_AT_ONCE)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}

impl Store {
    /// The account whose session this is.
    pub async fn session(&self, key_hash: &[u8], now: DateTime<Utc>) -> Result<Option<SessionRow>, StoreError> {
        Ok(sqlx::query_as(
            "select staff.id, name, role, must_change
             from staff_session join staff on staff.id = staff_session.staff
             where key_hash = $1 and ends_at > $2 and closed_at is null",
        )
        .bind(key_hash)
        .bind(now)
        .fetch_optional(&self.database)
        .await?)
    }

    /// Ends a session and gives the name of whose it was; none when it had ended.
    pub async fn end_session(&self, key_hash: &[u8]) -> Result<Option<String>, StoreError> {
        Ok(sqlx::query_scalar(
            "delete from staff_session using staff where key_hash = $1 and staff.id = staff_session.staff returning name",
        )
        .bind(key_hash)
        .fetch_optional(&self.database)
        .await?)
    }

    /// When a name may next be tried from an address.
    pub async fn sign_in_not_before(&self, name: &str, address: &str) -> Result<Option<DateTime<Utc>>, StoreError> {
        Ok(sqlx::query_scalar("select not_before from sign_in_try where name_key = $1 and address = $2")
            .bind(key_of(name))
            .bind(address)
            .fetch_optional(&self.database)
            .await?)
    }

    /// Counts a wrong password of a name from an address: from the third in a row each one doubles the pause, up to a quarter
    /// of an hour. Other addresses are not held up by it.
    pub async fn sign_in_failed(&self, name: &str, address: &str, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "insert into sign_in_try as before (name_key, address, failures, not_before, last_at) values ($1, $2, 1, $3, $3)
             on conflict (name_key, address) do update set
                 failures = case when before.last_at < $3 - interval '1 day' then 1 else before.failures + 1 end,
                 last_at = $3,
                 not_before = $3 + case
                     when before.failures < 2 or before.last_at < $3 - interval '1 day' then interval '0'
                     else least(interval '15 minutes', interval '5 seconds' * power(2, least(before.failures - 2, 10))) end",
        )
        .bind(key_of(name))
        .bind(address)
        .bind(now)
        .execute(&self.database)
        .await?;
        Ok(())
    }
}
