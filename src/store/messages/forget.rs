//! Deleting what is held of a number.

use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Step;

impl Step<'_> {
    /// Deletes every message and reply of a number on every line. The message that asked for it stays, emptied, while
    /// its reply is on its way, so that the gateway may bring it again.
    pub async fn forget(&mut self, number: &str, keep: Option<Uuid>) -> Result<(), StoreError> {
        // A list of the desk keeps its row for the count, without the number and what it said.
        sqlx::query(
            "update bulk_row
             set number = null, sent = null, text = '', reply = null,
                 cells = (select coalesce(jsonb_agg(''::text), '[]') from jsonb_array_elements(cells))
             where number = $1 or sent in (select id from outbox where recipient = $1)",
        )
        .bind(number)
        .execute(self.opened.on())
        .await?;
        for held in [
            "delete from talk_in_hand where number = $1",
            "delete from draft where number = $1",
            "delete from grower where number = $1",
        ] {
            sqlx::query(held).bind(number).execute(self.opened.on()).await?;
        }
        sqlx::query("delete from outbox where recipient = $1").bind(number).execute(self.opened.on()).await?;
        sqlx::query("delete from inbound where sender = $1 and id is distinct from $2")
            .bind(number)
            .bind(keep)
            .execute(self.opened.on())
            .await?;
        sqlx::query("update inbound set body = '' where id = $1").bind(keep).execute(self.opened.on()).await?;
        Ok(())
    }

    /// Deletes where a talk stands.
    pub async fn delete_talk(&mut self, number: &str) -> Result<(), StoreError> {
        sqlx::query("delete from talk where number = $1").bind(number).execute(self.opened.on()).await?;
        Ok(())
    }
}
