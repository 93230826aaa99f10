//! Reminders that growers asked for, by the moment they fall due.

use chrono::{DateTime, Utc};
use sqlx::FromRow;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A reminder that has fallen due. No `Debug`: it holds a number.
#[derive(FromRow)]
pub struct DueReminder {
    pub number: String,
    pub kind: String,
    pub due_at: DateTime<Utc>,
    pub line: String,
    /// Our number on that line.
    pub sender: String,
}

/// What a number is reminded of, and when.
pub struct NewReminder<'a> {
    pub kind: &'a str,
    pub due_at: DateTime<Utc>,
}

impl Store {
    /// Those that have fallen due, the longest due first, after `last`: one that cannot be sent is passed by and holds up
    /// none.
    pub async fn reminders_due(
        &self,
        now: DateTime<Utc>,
        last: Option<&DueReminder>,
        limit: i64,
    ) -> Result<Vec<DueReminder>, StoreError> {
        Ok(sqlx::query_as(
            "select number, kind, due_at, line, sender from reminder
             where due_at <= $1 and ($2::timestamptz is null or (due_at, number, kind) > ($2, $3, $4))
             order by due_at, number, kind limit $5",
        )
        .bind(now)
        .bind(last.map(|last| last.due_at))
        .bind(last.map(|last| last.number.as_str()))
        .bind(last.map(|last| last.kind.as_str()))
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }
}

impl Step<'_> {
    /// Puts these in the place of all that a number had, to go out by a line from our number there.
    pub async fn keep_reminders(
        &mut self,
        number: &str,
        line: &str,
        sender: &str,
        reminders: &[NewReminder<'_>],
    ) -> Result<(), StoreError> {
        sqlx::query("delete from reminder where number = $1").bind(number).execute(self.opened.on()).await?;
        for reminder in reminders {
            sqlx::query("insert into reminder (number, kind, due_at, line, sender) values ($1, $2, $3, $4, $5)")
                .bind(number)
                .bind(reminder.kind)
                .bind(reminder.due_at)
                .bind(line)
                .bind(sender)
                .execute(self.opened.on())
                .await?;
        }
        Ok(())
    }

    /// Takes a reminder off the list, once its number's talk is locked; false where another has, or where it is not due.
    pub async fn take_reminder(&mut self, number: &str, kind: &str, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let taken = sqlx::query("delete from reminder where number = $1 and kind = $2 and due_at <= $3")
            .bind(number)
            .bind(kind)
            .bind(now)
            .execute(self.opened.on())
            .await?;
        Ok(taken.rows_affected() > 0)
    }
}
