//! What is removed when its time is over, a batch at a time so that no statement holds up the hotline. Opt-outs have no time.
//!
//! No table is cut into months: a message's name must be the same message whichever month it comes again in, and PostgreSQL
//! holds a name to be unique only within one month's table.

use chrono::{DateTime, Utc};

use super::error::StoreError;
use super::handle::Store;
use super::talks::talk::TalkForm;
use crate::talk::Talk;

/// Rows removed in one statement.
const BATCH: i64 = 2000;

/// What is removed, each kind by a time of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Texts in and out.
    Messages,
    Lists,
    Counts,
    Audit,
}

impl Kind {
    pub const ALL: [Self; 4] = [Self::Messages, Self::Lists, Self::Counts, Self::Audit];

    /// Each removes at most a batch of what is older than a time.
    fn statements(self) -> &'static [&'static str] {
        match self {
            Self::Messages => &[
                "delete from outbox where id in (select id from outbox where created_at < $1 limit $2)",
                // What waits for a human waits on.
                "delete from inbound where id in (
                     select id from inbound where received_at < $1 and (not wants_person or person_done_at is not null) limit $2
                 )",
            ],
            Self::Lists => &[
                "delete from bulk_row where (list, n) in (
                     select list, n from bulk_row where list in (select id from bulk_list where created_at < $1) limit $2
                 )",
                "delete from bulk_list where created_at < $1
                 and not exists (select 1 from bulk_row where list = bulk_list.id) and $2 > 0",
            ],
            Self::Counts => {
                &["delete from tally where message in (select message from tally where received_at < $1 limit $2)"]
            }
            Self::Audit => &["delete from audit where id in (select id from audit where at < $1 limit $2)"],
        }
    }
}

impl Store {
    /// Removes what is older than a time, until none is left; says how many rows.
    pub async fn remove_old(&self, kind: Kind, before: DateTime<Utc>) -> Result<u64, StoreError> {
        let mut removed = 0;
        for statement in kind.statements() {
            loop {
                let done = sqlx::query(*statement).bind(before).bind(BATCH).execute(&self.database).await?.rows_affected();
                removed += done;
                if done < BATCH as u64 {
                    break;
                }
            }
        }
        Ok(removed)
    }

    /// Removes talks that nobody has gone on with; of one that has opted out nothing but that is left, and one with a reminder
    /// to come stays. Goes through them by number, since an index by time would make every message write it.
    pub async fn remove_quiet_talks(&self, before: DateTime<Utc>) -> Result<u64, StoreError> {
        let opted_out = TalkForm::write(&Talk { stopped: true, ..Talk::default() })?;
        let (mut from, mut removed) = (String::new(), 0);
        loop {
            let numbers: Vec<(String, bool)> = sqlx::query_as(
                "select number, updated_at < $2 and not exists (select 1 from reminder where reminder.number = talk.number)
                 from talk where number > $1 order by number limit $3",
            )
            .bind(&from)
            .bind(before)
            .bind(BATCH)
            .fetch_all(&self.database)
            .await?;
            let Some((last, _)) = numbers.last() else { return Ok(removed) };
            from.clone_from(last);
            let quiet: Vec<&str> = numbers.iter().filter(|(_, quiet)| *quiet).map(|(number, _)| number.as_str()).collect();
            if quiet.is_empty() {
                continue;
            }
            // A message may have come since: looked at again under the row's lock.
            let gone = sqlx::query("delete from talk where number = any($1) and updated_at < $2 and not stopped")
                .bind(&quiet)
                .bind(before)
                .execute(&self.database)
                .await?;
            sqlx::query("update talk set form = $3, talk = $4 where number = any($1) and updated_at < $2 and stopped and talk <> $4")
                .bind(&quiet)
                .bind(before)
                .bind(opted_out.form)
                .bind(&opted_out.talk)
                .execute(&self.database)
                .await?;
            removed += gone.rows_affected();
            // With what staff have written down about it.
            sqlx::query(
                "delete from grower where number = any($1) and last_at < $2
                 and not exists (select 1 from talk where talk.number = grower.number)",
            )
            .bind(&quiet)
            .bind(before)
            .execute(&self.database)
            .await?;
        }
    }

    /// Deletes last words that their own call has shown a while ago, and the messages that they answered.
    pub async fn remove_last_words(&self, before: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "with gone as (
                 delete from outbox where last_word and state <> 'queued' and created_at < $1 returning in_reply_to
             )
             delete from inbound where id in (select in_reply_to from gone)",
        )
        .bind(before)
        .execute(&self.database)
        .await?;
        Ok(())
    }
}
