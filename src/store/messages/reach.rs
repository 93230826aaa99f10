//! How far a list reaches when it is sent, and the word of another account that is waited for.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use super::bulk::SENDABLE;
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// What sending a list would send.
#[derive(Debug, Clone, Copy, FromRow)]
pub struct ToSend {
    pub messages: i64,
    pub parts: i64,
    pub opted_out: i64,
    pub no_number: i64,
    /// Of the messages: to numbers of other countries that never wrote.
    pub elsewhere: i64,
}

/// Who asks for a list to be sent, by which line, how many messages, and of which verdict.
pub struct ToAsk<'a> {
    pub by: Uuid,
    pub line: &'a str,
    pub count: i64,
    pub verdict: Option<&'a str>,
}

impl Step<'_> {
    /// Keeps who asks for a list to be sent; or that nobody does.
    pub async fn ask_to_send(
        &mut self,
        list: Uuid,
        asked: Option<&ToAsk<'_>>,
        now: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "update bulk_list set asked_by = $2, asked_line = $3, asked_count = $4, asked_verdict = $5,
                    asked_at = case when $2::uuid is null then null else $6 end
             where id = $1",
        )
        .bind(list)
        .bind(asked.map(|asked| asked.by))
        .bind(asked.map(|asked| asked.line))
        .bind(asked.map(|asked| asked.count))
        .bind(asked.and_then(|asked| asked.verdict))
        .bind(now)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}

impl Store {
    /// What sending a list would send, where numbers that begin with one of `codes` are at home.
    pub async fn bulk_to_send(&self, list: Uuid, verdict: Option<&str>, codes: &[String]) -> Result<ToSend, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!(
            "select count(*) filter (where number is not null and not o) as messages,
                    coalesce(sum(parts) filter (where number is not null and not o), 0)::bigint as parts,
                    count(*) filter (where number is not null and o) as opted_out,
                    count(*) filter (where number is null) as no_number,
                    count(*) filter (where number is not null and not o
                        and not exists (select 1 from unnest($3::text[]) as code where starts_with(number, code))
                        and not exists (select 1 from inbound where inbound.sender = rows.number)) as elsewhere
             from (select bulk_row.*, exists (select 1 from talk where talk.number = bulk_row.number
                                              and talk.stopped) as o
                   from bulk_row where list = $1 and {SENDABLE} and ($2::text is null or verdict = $2)) as rows"
        )))
        .bind(list)
        .bind(verdict)
        .bind(codes)
        .fetch_one(&self.database)
        .await?)
    }
}
