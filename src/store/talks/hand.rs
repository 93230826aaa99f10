//! In whose hands a talk is, and who answers what its grower writes.

use chrono::{DateTime, TimeDelta, Utc};
use sqlx::FromRow;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Step;

/// Held without a sign for so long, a talk goes back (practice: longer than a meal, shorter than half a day).
pub const SIGN_WITHIN: TimeDelta = TimeDelta::hours(1);

/// For so long after the last word of staff, what the grower writes goes to who wrote it.
pub const ANSWERS_GO_BACK_FOR: TimeDelta = TimeDelta::hours(1);

/// What became of taking a talk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hand {
    Taken,
    /// This member of staff has it.
    HeldBy(String),
}

/// Who holds a talk.
#[derive(Debug, Clone, FromRow)]
pub struct Holder {
    pub staff: Uuid,
    pub name: String,
    pub taken_at: DateTime<Utc>,
    pub program_helps: bool,
}

impl Step<'_> {
    /// Puts a talk into somebody's hands: one that is in nobody's, has been finished, or has had no sign of its holder for
    /// long; any other only with `over`.
    pub async fn take_talk(
        &mut self,
        number: &str,
        staff: Uuid,
        over: bool,
        now: DateTime<Utc>,
    ) -> Result<Hand, StoreError> {
        sqlx::query(
            "insert into talk_in_hand as hand (number, staff, taken_at, seen_at) values ($1, $2, $3, $3)
             on conflict (number) do update
             set staff = excluded.staff, seen_at = excluded.seen_at, finished_at = null,
                 taken_at = case when hand.staff = excluded.staff and hand.finished_at is null then hand.taken_at
                                 else excluded.taken_at end,
                 program_helps = hand.program_helps and hand.staff = excluded.staff and hand.finished_at is null
             where $4 or hand.staff = excluded.staff or hand.finished_at is not null or hand.seen_at <= $5",
        )
        .bind(number)
        .bind(staff)
        .bind(now)
        .bind(over)
        .bind(now - SIGN_WITHIN)
        .execute(self.opened.on())
        .await?;
        let (holder, name): (Uuid, String) = sqlx::query_as(
            "select staff.id, staff.name from talk_in_hand join staff on staff.id = talk_in_hand.staff where number = $1",
        )
        .bind(number)
        .fetch_one(self.opened.on())
        .await?;
        Ok(if holder == staff { Hand::Taken } else { Hand::HeldBy(name) })
    }

    /// Locks a talk that is in these hands until this step ends, as a sign of them; false when it no longer is.
    pub async fn hold_talk(&mut self, number: &str, staff: Uuid, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let done =
            sqlx::query("update talk_in_hand set seen_at = $3 where number = $1 and staff = $2 and finished_at is null")
                .bind(number)
                .bind(staff)
                .bind(now)
                .execute(self.opened.on())
                .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Whether the program answers too while the talk is held.
    pub async fn set_program_helps(&mut self, number: &str, helps: bool) -> Result<(), StoreError> {
        sqlx::query("update talk_in_hand set program_helps = $2 where number = $1")
            .bind(number)
            .bind(helps)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// Lets go of a talk; what waits in it waits on, and the program answers again.
    pub async fn let_go(&mut self, number: &str) -> Result<(), StoreError> {
        sqlx::query("delete from talk_in_hand where number = $1").bind(number).execute(self.opened.on()).await?;
        Ok(())
    }

    /// The holder has finished: for a while what the grower writes comes back.
    pub async fn finish_talk(&mut self, number: &str, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("update talk_in_hand set finished_at = $2, seen_at = $2 where number = $1")
            .bind(number)
            .bind(now)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// Who is to read what a number writes now. One who has finished within the hour holds the talk again.
    pub async fn reader_of(&mut self, number: &str, now: DateTime<Utc>) -> Result<Option<Holder>, StoreError> {
        Ok(sqlx::query_as(
            "with revived as (
                 update talk_in_hand set finished_at = null, seen_at = $2, taken_at = $2
                 where number = $1 and finished_at > $3 returning *
             ), hand as (
                 select * from revived
                 union all
                 select * from talk_in_hand where number = $1 and finished_at is null and seen_at > $4
             )
             select hand.staff, staff.name, hand.taken_at, hand.program_helps
             from hand join staff on staff.id = hand.staff",
        )
        .bind(number)
        .bind(now)
        .bind(now - ANSWERS_GO_BACK_FOR)
        .bind(now - SIGN_WITHIN)
        .fetch_optional(self.opened.on())
        .await?)
    }

    /// Messages that were shown have been dealt with; whatever came since waits on.
    pub async fn messages_done(
        &mut self,
        number: &str,
        shown: &[Uuid],
        is_answered: bool,
        now: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "with done as (
                 update inbound set person_done_at = $3
                 where sender = $1 and id = any($2) and wants_person and person_done_at is null returning id
             )
             update tally set person_answered_at = $3 from done where tally.message = done.id and $4",
        )
        .bind(number)
        .bind(shown)
        .bind(now)
        .bind(is_answered)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    /// A reply was written by this member of staff.
    pub async fn written_by(&mut self, reply: Uuid, staff: &str) -> Result<(), StoreError> {
        sqlx::query("update outbox set staff = $2 where id = $1").bind(reply).bind(staff).execute(self.opened.on()).await?;
        Ok(())
    }
}
