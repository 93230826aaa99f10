//! Messages that came in.

use chrono::{DateTime, TimeDelta, Utc};
use sha2::{Digest, Sha256};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A message as its line handed it in. No `Debug`: it holds a number and a text.
pub struct Inbound<'a> {
    pub id: Uuid,
    pub line: &'a str,
    pub external_id: &'a str,
    pub sender: &'a str,
    pub recipient: &'a str,
    pub body: &'a str,
    pub sent_at: Option<DateTime<Utc>>,
    pub received_at: DateTime<Utc>,
}

/// Octets of a text's hash that are kept: enough to tell two texts of one sender apart.
const FINGERPRINT: usize = 16;

impl Inbound<'_> {
    pub fn fingerprint(&self) -> Vec<u8> {
        Sha256::digest(self.body.as_bytes())[..FINGERPRINT].to_vec()
    }
}

/// A message that is in the database.
#[derive(FromRow)]
pub struct Stored {
    pub id: Uuid,
    pub body: String,
    pub received_at: DateTime<Utc>,
}

impl Step<'_> {
    /// Stores a message; false when this line has stored the same by this name before, which stays as it is. Another sender or
    /// another text by the same name is another message. A repeat that comes while the first is still being answered waits here
    /// until that one is done.
    pub async fn store_inbound(&mut self, message: &Inbound<'_>) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "insert into inbound (id, line, external_id, sender, recipient, body, sent_at, received_at, fingerprint)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9)
             on conflict on constraint inbound_once do nothing",
        )
        .bind(message.id)
        .bind(message.line)
        .bind(message.external_id)
        .bind(message.sender)
        .bind(message.recipient)
        .bind(message.body)
        .bind(message.sent_at)
        .bind(message.received_at)
        .bind(message.fingerprint())
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Puts a message before a human, and says why.
    pub async fn want_person(&mut self, id: Uuid, reason: &str) -> Result<(), StoreError> {
        sqlx::query("update inbound set wants_person = true, person_reason = $2 where id = $1")
            .bind(id)
            .bind(reason)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// The newest messages of a number on a line within this time, the newest first: when each came, and its text's hash.
    pub async fn heard_lately(
        &mut self,
        message: &Inbound<'_>,
        within: TimeDelta,
        limit: i64,
    ) -> Result<Vec<(DateTime<Utc>, Vec<u8>)>, StoreError> {
        Ok(sqlx::query_as(
            "select received_at, fingerprint from inbound where sender = $1 and line = $2 and received_at > $3
             order by received_at desc limit $4",
        )
        .bind(message.sender)
        .bind(message.line)
        .bind(message.received_at - within)
        .bind(limit)
        .fetch_all(self.opened.on())
        .await?)
    }

    /// Whether a message of this number waits for a human because a machine sends them.
    pub async fn loop_is_shown(&mut self, message: &Inbound<'_>) -> Result<bool, StoreError> {
        Ok(sqlx::query_scalar(
            "select exists (select 1 from inbound where line = $1 and sender = $2 and wants_person
                            and person_done_at is null and person_reason = 'loop')",
        )
        .bind(message.line)
        .bind(message.sender)
        .fetch_one(self.opened.on())
        .await?)
    }
}

impl Store {
    /// The identifier by which the same message of this line is stored.
    pub async fn stored_before(&self, message: &Inbound<'_>) -> Result<Option<Uuid>, StoreError> {
        let sql = "select id from inbound where line = $1 and external_id = $2 and sender = $3 and fingerprint = $4";
        Ok(sqlx::query_scalar(sql)
            .bind(message.line)
            .bind(message.external_id)
            .bind(message.sender)
            .bind(message.fingerprint())
            .fetch_optional(&self.database)
            .await?)
    }

    /// The newest messages of a number on a line, oldest first.
    pub async fn inbound_of(&self, line: &str, sender: &str, limit: i64) -> Result<Vec<Stored>, StoreError> {
        let mut rows: Vec<Stored> = sqlx::query_as(
            "select id, body, received_at from inbound where line = $1 and sender = $2
             order by received_at desc, id desc limit $3",
        )
        .bind(line)
        .bind(sender)
        .bind(limit)
        .fetch_all(&self.database)
        .await?;
        rows.reverse();
        Ok(rows)
    }
}
