//! Messages that want a person, to be told of elsewhere.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Store;

/// One that is to be told.
#[derive(Debug, Clone, FromRow)]
pub struct EventRow {
    pub message: Uuid,
    pub grower: Uuid,
    pub line: String,
    pub at: DateTime<Utc>,
    pub reason: String,
    pub is_danger: bool,
    /// This try included.
    pub attempts: i32,
}

impl Store {
    /// Takes up what is due: it is due again after a pause that grows from 15 seconds to an hour, for a day.
    pub async fn events_due(&self, limit: i64) -> Result<Vec<EventRow>, StoreError> {
        Ok(sqlx::query_as(
            "with due as (
                 update inbound
                 set event_attempts = event_attempts + 1,
                     event_due_at = now() + least(interval '15 seconds' * power(2, event_attempts), interval '1 hour')
                 where id in (
                     select id from inbound
                     where wants_person and event_told_at is null and received_at > now() - interval '1 day'
                       and (event_due_at is null or event_due_at <= now())
                     order by received_at limit $1 for update skip locked
                 )
                 returning id, sender, line, received_at, person_reason, event_attempts
             )
             select due.id as message, grower.id as grower, due.line, due.received_at as at,
                    coalesce(due.person_reason, 'gave_up') as reason,
                    coalesce(due.person_reason = 'danger', false) as is_danger, due.event_attempts as attempts
             from due join grower on grower.number = due.sender order by due.received_at",
        )
        .bind(limit)
        .fetch_all(&self.database)
        .await?)
    }

    pub async fn event_told(&self, message: Uuid, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("update inbound set event_told_at = $2 where id = $1")
            .bind(message)
            .bind(now)
            .execute(&self.database)
            .await?;
        Ok(())
    }
}
