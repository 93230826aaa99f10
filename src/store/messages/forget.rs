//! Deleting what is held of a number: its rows, and its number, texts and whereabouts in rows that are kept for a count. The
//! table of DEVELOPERS.md, "What is held of a grower", has every column; a test holds the two together.

use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Step;

/// In this order, since each may look up what the later ones delete. Every one finds its rows by an index.
const STATEMENTS: [&str; 7] = [
    "update tally set place = null from inbound where tally.message = inbound.id and inbound.sender = $1",
    // A list of the desk keeps its row for the count, without the number and all that was said.
    "update bulk_row
     set number = null, sent = null, text = '', reply = null, place = null, problem = null,
         cells = case jsonb_typeof(cells)
             when 'object' then (select coalesce(jsonb_object_agg(key, ''::text), '{}') from jsonb_each(cells))
             when 'array' then (select coalesce(jsonb_agg(''::text), '[]') from jsonb_array_elements(cells))
             else '\"\"' end
     where number = $1 or sent = any(array(select id from outbox where recipient = $1))",
    "delete from talk_in_hand where number = $1",
    "delete from draft where number = $1",
    // With what staff have written down about it.
    "delete from grower where number = $1",
    "delete from reminder where number = $1",
    "delete from outbox where recipient = $1",
];

impl Step<'_> {
    /// Deletes every message and reply of a number on every line. The message that asked for it stays, emptied, while
    /// its reply is on its way, so that the gateway may bring it again.
    pub async fn forget(&mut self, number: &str, keep: Option<Uuid>) -> Result<(), StoreError> {
        for statement in STATEMENTS {
            sqlx::query(statement).bind(number).execute(self.opened.on()).await?;
        }
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
