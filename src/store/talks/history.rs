//! Everything that was said between a number and us, on every line, page by page.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Store;

/// A message in or out. No `Debug`: it holds a text.
#[derive(FromRow)]
pub struct HistoryRow {
    pub id: Uuid,
    pub at: DateTime<Utc>,
    /// 0 for a message of the grower's, 1 for one of ours: a reply has the time of its message and stands below it.
    pub rank: i32,
    pub line: String,
    pub body: String,
    /// How far a message that went out has come.
    pub state: Option<String>,
    /// Who of staff wrote it.
    pub staff: Option<String>,
    /// It waits for a human.
    pub waits: bool,
    pub reason: Option<String>,
}

/// Where a page of the past begins: everything older than this message.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Before {
    pub at: DateTime<Utc>,
    pub rank: i32,
    pub id: Uuid,
}

impl Before {
    pub fn of(row: &HistoryRow) -> Self {
        Self { at: row.at, rank: row.rank, id: row.id }
    }

    pub fn text(&self) -> String {
        format!("{}.{}.{}", self.at.timestamp_micros(), self.rank, self.id)
    }

    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.splitn(3, '.');
        let at = DateTime::from_timestamp_micros(parts.next()?.parse().ok()?)?;
        Some(Self { at, rank: parts.next()?.parse().ok()?, id: parts.next()?.parse().ok()? })
    }
}

impl Store {
    /// The newest messages between a number and us, or the newest of those before one, oldest first.
    pub async fn history(&self, number: &str, before: Option<Before>, limit: i64) -> Result<Vec<HistoryRow>, StoreError> {
        let (at, rank, id) =
            before.map_or((None, None, None), |before| (Some(before.at), Some(before.rank), Some(before.id)));
        let mut rows: Vec<HistoryRow> = sqlx::query_as(
            "select * from (
                 (select id, received_at as at, 0 as rank, line, body, null::text as state, null::text as staff,
                         wants_person and person_done_at is null as waits, person_reason as reason
                  from inbound
                  where sender = $1 and ($2::timestamptz is null
                        or received_at <= $2 and (received_at, 0, id) < ($2, $3, $4))
                  order by received_at desc, id desc limit $5)
                 union all
                 (select id, created_at, 1, line, body, state, staff, false, null from outbox
                  where recipient = $1 and ($2::timestamptz is null
                        or created_at <= $2 and (created_at, 1, id) < ($2, $3, $4))
                  order by created_at desc, id desc limit $5)
             ) both_ways
             order by at desc, rank desc, id desc limit $5",
        )
        .bind(number)
        .bind(at)
        .bind(rank)
        .bind(id)
        .bind(limit)
        .fetch_all(&self.database)
        .await?;
        rows.reverse();
        Ok(rows)
    }
}
