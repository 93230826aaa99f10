//! What staff do with a list as a whole: named, stopped, answered anew, sent again where it failed, deleted.

use chrono::{DateTime, Utc};
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Step;

impl Step<'_> {
    pub async fn rename_bulk_list(&mut self, list: Uuid, name: &str) -> Result<(), StoreError> {
        sqlx::query("update bulk_list set name = $2 where id = $1").bind(list).bind(name).execute(self.opened.on()).await?;
        Ok(())
    }

    /// Deletes a list with its rows; what was sent of it stays with its grower.
    pub async fn delete_bulk_list(&mut self, list: Uuid) -> Result<(), StoreError> {
        sqlx::query("delete from bulk_list where id = $1").bind(list).execute(self.opened.on()).await?;
        Ok(())
    }

    /// Rows that wait are left alone until the list goes on.
    pub async fn stop_bulk_list(&mut self, list: Uuid, stopped_at: Option<DateTime<Utc>>) -> Result<(), StoreError> {
        sqlx::query("update bulk_list set stopped_at = $2 where id = $1")
            .bind(list)
            .bind(stopped_at)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// Has every row that was not sent answered anew, by the places and prices of now.
    pub async fn answer_bulk_anew(&mut self, list: Uuid) -> Result<u64, StoreError> {
        let done = sqlx::query(
            "update bulk_row set state = 'waiting', reply = null, encoding = null, parts = null, verdict = null,
                    water_m3_day = null, area_m2 = null, trouble = null, problem = null
             where list = $1 and sent is null and state = 'done'",
        )
        .bind(list)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected())
    }

    /// Rows whose message never reached a phone can be sent again.
    pub async fn unsend_failed(&mut self, list: Uuid) -> Result<u64, StoreError> {
        let done = sqlx::query(
            "update bulk_row set sent = null from outbox
             where list = $1 and outbox.id = bulk_row.sent
               and outbox.state in ('refused', 'undelivered', 'failed', 'expired')
               and not exists (select 1 from sending where sending.id = outbox.id and sending.due_at is not null)",
        )
        .bind(list)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected())
    }
}
