//! Messages that we send: each one as it was decided, and what became of it. What is still on its way is in `sending`.

use chrono::{DateTime, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::reply::PhoneText;
use crate::sending::{Priority, Receipt};
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// By which line a message goes, from which number of ours, and to whom. No `Debug`: it holds a number.
#[derive(Clone, Copy)]
pub struct Way<'a> {
    pub line: &'a str,
    pub sender: &'a str,
    pub recipient: &'a str,
}

/// A message to be sent. No `Debug`: it holds a number and a text.
pub struct NewReply<'a> {
    pub id: Uuid,
    way: Way<'a>,
    text: &'a PhoneText,
    priority: Priority,
    at: DateTime<Utc>,
    in_reply_to: Option<Uuid>,
    last_word: bool,
    /// The call that brought the message carries its answer: nothing is to be sent. With whether a menu waits for more.
    shown: Option<bool>,
}

impl<'a> NewReply<'a> {
    pub fn new(way: Way<'a>, text: &'a PhoneText, priority: Priority, at: DateTime<Utc>) -> Self {
        let (in_reply_to, last_word, shown) = (None, false, None);
        Self { id: Uuid::now_v7(), way, text, priority, at, in_reply_to, last_word, shown }
    }

    /// It answers this message.
    pub fn answering(self, message: Uuid) -> Self {
        Self { in_reply_to: Some(message), ..self }
    }

    /// It tells that everything is deleted, and goes too once it is taken.
    pub fn as_last_word(self, last_word: bool) -> Self {
        Self { last_word, ..self }
    }

    /// It is shown by the call that it answers.
    pub fn as_shown(self, more: bool) -> Self {
        Self { shown: Some(more), ..self }
    }
}

/// A message as it stands.
#[derive(FromRow)]
pub struct Reply {
    pub id: Uuid,
    pub body: String,
    pub encoding: String,
    pub parts: i32,
    pub state: String,
    pub more: bool,
    pub created_at: DateTime<Utc>,
}

const REPLY: &str = "select id, body, encoding, parts, state, more, created_at from outbox";

impl Step<'_> {
    pub async fn queue_reply(&mut self, reply: &NewReply<'_>) -> Result<(), StoreError> {
        let seq: i64 = sqlx::query_scalar(
            "insert into outbox (id, line, sender, recipient, body, encoding, parts, in_reply_to, last_word, state, more,
                                 created_at, updated_at)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $12) returning seq",
        )
        .bind(reply.id)
        .bind(reply.way.line)
        .bind(reply.way.sender)
        .bind(reply.way.recipient)
        .bind(&reply.text.text)
        .bind(reply.text.encoding.name())
        .bind(i32::try_from(reply.text.parts).unwrap_or(i32::MAX))
        .bind(reply.in_reply_to)
        .bind(reply.last_word)
        .bind(if reply.shown.is_some() { "taken" } else { "queued" })
        .bind(reply.shown.unwrap_or_default())
        .bind(reply.at)
        .fetch_one(self.opened.on())
        .await?;
        if reply.shown.is_some() {
            return Ok(());
        }
        sqlx::query(
            "insert into sending (id, seq, line, recipient, priority, due_at, since) values ($1, $2, $3, $4, $5, now(), now())",
        )
        .bind(reply.id)
        .bind(seq)
        .bind(reply.way.line)
        .bind(reply.way.recipient)
        .bind(reply.priority.rank())
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    /// Nothing that is on its way to a number goes out any more, but what tells of danger.
    pub async fn stop_queued(&mut self, number: &str) -> Result<(), StoreError> {
        sqlx::query(
            "with gone as (
                 delete from sending where recipient = $1 and due_at is not null and priority > $2 returning id
             )
             update outbox set state = 'stopped', updated_at = now() where id in (select id from gone)",
        )
        .bind(number)
        .bind(Priority::Danger.rank())
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}

impl Store {
    /// The reply to a message.
    pub async fn reply_to(&self, inbound: Uuid) -> Result<Option<Reply>, StoreError> {
        Ok(sqlx::query_as(sqlx::AssertSqlSafe(format!("{REPLY} where in_reply_to = $1")))
            .bind(inbound)
            .fetch_optional(&self.database)
            .await?)
    }

    /// The newest replies to a number on a line, oldest first.
    pub async fn replies_of(&self, line: &str, recipient: &str, limit: i64) -> Result<Vec<Reply>, StoreError> {
        let sql = format!("{REPLY} where line = $1 and recipient = $2 order by seq desc limit $3");
        let mut rows: Vec<Reply> = sqlx::query_as(sqlx::AssertSqlSafe(sql))
            .bind(line)
            .bind(recipient)
            .bind(limit)
            .fetch_all(&self.database)
            .await?;
        rows.reverse();
        Ok(rows)
    }

    /// Keeps what a receipt says; false when this line never sent such a message. Receipts come late, twice and in any
    /// order: `delivered` stays whatever comes after it. A message that failed at the phone is put before staff.
    pub async fn settle(&self, line: &str, id: Uuid, receipt: Receipt) -> Result<bool, StoreError> {
        let mut step = self.begin().await?;
        let state: Option<String> = sqlx::query_scalar(
            "update outbox set state = case when state = 'delivered' then state else $3 end, updated_at = now()
             where id = $1 and line = $2 returning state",
        )
        .bind(id)
        .bind(line)
        .bind(receipt.name())
        .fetch_optional(step.opened.on())
        .await?;
        match state.as_deref() {
            None => return Ok(false),
            Some("delivered") => {
                sqlx::query("delete from sending where id = $1").bind(id).execute(step.opened.on()).await?;
            }
            Some(_) => step.fail_at_phone(id, receipt).await?,
        }
        step.commit().await?;
        // A receipt may overtake the gateway's answer to our call.
        self.tally_taken(id).await?;
        self.let_go_of_last_word(id).await?;
        Ok(true)
    }

    /// Deletes a last word that is no longer on its way, and the message that it answered.
    pub(in crate::store) async fn let_go_of_last_word(&self, id: Uuid) -> Result<(), StoreError> {
        sqlx::query(
            "with gone as (
                 delete from outbox where id = $1 and last_word and state <> 'queued' returning in_reply_to
             )
             delete from inbound where id in (select in_reply_to from gone)",
        )
        .bind(id)
        .execute(&self.database)
        .await?;
        Ok(())
    }
}

impl Step<'_> {
    async fn fail_at_phone(&mut self, id: Uuid, receipt: Receipt) -> Result<(), StoreError> {
        sqlx::query(
            "insert into sending (id, seq, line, recipient, priority, due_at, attempts, reason, since, given_up_at)
             select id, seq, line, recipient, $2, null, 1, $3, created_at, now() from outbox where id = $1
             on conflict (id) do update set due_at = null, is_leased = false, reason = excluded.reason,
                 given_up_at = coalesce(sending.given_up_at, excluded.given_up_at)",
        )
        .bind(id)
        .bind(Priority::Staff.rank())
        .bind(format!("the network says: {}", receipt.name()))
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}
