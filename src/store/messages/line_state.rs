//! A line as a whole: whether it is down, held back, or paced. Every process on the database goes by the same.

use std::time::Duration;

use super::interval::interval;
use super::sending::Lease;
use crate::sending::{DOWN_AFTER, FIRST_PROBE, LEASE, LONGEST_PROBE};
use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// What a line lets go now.
#[derive(Default)]
pub struct Leased {
    pub leases: Vec<Lease>,
    /// The line is down, and this one message tries it.
    pub is_probe: bool,
}

impl Store {
    /// Takes up to `limit` messages of a line that may go now, at most `a_second` in any second; one alone while it is down.
    pub async fn lease(&self, line: &str, limit: i64, a_second: Option<u32>) -> Result<Leased, StoreError> {
        let state: Option<(bool, bool)> = sqlx::query_as(
            "select coalesce(not_before > now(), false), down_since is not null from line_state where line = $1",
        )
        .bind(line)
        .fetch_optional(&self.database)
        .await?;
        let (is_held, is_down) = state.unwrap_or_default();
        if is_held {
            return Ok(Leased::default());
        }
        let mut step = self.begin().await?;
        let limit = match is_down {
            true if !step.claim_probe(line).await? => return Ok(Leased::default()),
            true => 1,
            false => limit,
        };
        let may = match a_second {
            Some(a_second) => step.pay(line, limit, a_second).await?,
            None => limit,
        };
        let leases = if may > 0 { step.lease_due(line, may).await? } else { Vec::new() };
        if leases.is_empty() {
            // Nothing is claimed and nothing paid for.
            return Ok(Leased::default());
        }
        if let Some(a_second) = a_second {
            step.pay_back(line, may - leases.len() as i64, a_second).await?;
        }
        step.commit().await?;
        Ok(Leased { leases, is_probe: is_down })
    }

    /// A message went through: the line is up, and what waited out a pause goes at once.
    pub async fn line_works(&self, line: &str) -> Result<bool, StoreError> {
        let was_down: Option<bool> = sqlx::query_scalar(
            "with before as (select down_since from line_state where line = $1 and failures > 0 for update)
             update line_state set failures = 0, down_since = null, not_before = null, reason = null
             from before where line = $1 returning before.down_since is not null",
        )
        .bind(line)
        .fetch_optional(&self.database)
        .await?;
        if was_down != Some(true) {
            return Ok(false);
        }
        sqlx::query(
            "update sending set due_at = now() where line = $1 and due_at > now() and not is_leased and attempts > 0",
        )
        .bind(line)
        .execute(&self.database)
        .await?;
        Ok(true)
    }

    /// A try failed for the line's sake. While it is down only its probe counts, or the calls in hand when it went would all
    /// lengthen the pause. Says whether the line is down now.
    pub async fn line_failed(&self, line: &str, is_probe: bool, reason: &str) -> Result<bool, StoreError> {
        Ok(sqlx::query_scalar(
            "insert into line_state as l (line, failures, reason) values ($1, 1, $3)
             on conflict (line) do update set
                 failures = l.failures + case when l.down_since is null or $2 then 1 else 0 end,
                 reason = excluded.reason,
                 down_since = case when l.failures + 1 >= $4 then coalesce(l.down_since, now()) end,
                 not_before = case
                     when l.failures + 1 < $4 then l.not_before
                     when l.down_since is null or $2
                         then now() + least($6, $5 * power(2, least(l.failures + 1 - $4, 20))::double precision)
                     else l.not_before end
             returning down_since is not null",
        )
        .bind(line)
        .bind(is_probe)
        .bind(reason)
        .bind(DOWN_AFTER)
        .bind(interval(FIRST_PROBE))
        .bind(interval(LONGEST_PROBE))
        .fetch_one(&self.database)
        .await?)
    }

    /// The gateway asks for less: nothing goes for so long.
    pub async fn slow_down(&self, line: &str, pause: Duration, reason: &str) -> Result<(), StoreError> {
        sqlx::query(
            "insert into line_state as l (line, not_before, reason) values ($1, now() + $2, $3)
             on conflict (line) do update set not_before = greatest(l.not_before, excluded.not_before),
                 reason = excluded.reason",
        )
        .bind(line)
        .bind(interval(pause))
        .bind(reason)
        .execute(&self.database)
        .await?;
        Ok(())
    }
}

impl Step<'_> {
    /// Takes the one probe of a line that is down, for as long as a lease.
    async fn claim_probe(&mut self, line: &str) -> Result<bool, StoreError> {
        let claimed = sqlx::query(
            "update line_state set not_before = now() + $2 where line = $1 and down_since is not null
             and coalesce(not_before <= now(), true)",
        )
        .bind(line)
        .bind(interval(LEASE))
        .execute(self.opened.on())
        .await?;
        Ok(claimed.rows_affected() == 1)
    }

    /// Takes as many of `wanted` sends as the pace allows now, and pays for them. A quiet line has a second's worth saved.
    async fn pay(&mut self, line: &str, wanted: i64, a_second: u32) -> Result<i64, StoreError> {
        let each = Duration::from_secs(1) / a_second.max(1);
        sqlx::query("insert into line_state (line) values ($1) on conflict do nothing")
            .bind(line)
            .execute(self.opened.on())
            .await?;
        Ok(sqlx::query_scalar(
            "with now_at as (
                 select greatest(paid_until, clock_timestamp() - interval '1 second') as paid
                 from line_state where line = $1 for update
             ), may as (
                 select paid, greatest(0, least($2, floor(
                     extract(epoch from clock_timestamp() - paid) / extract(epoch from $3::interval)
                 )))::bigint as n from now_at
             )
             update line_state set paid_until = paid + n * $3 from may where line = $1 returning n",
        )
        .bind(line)
        .bind(wanted)
        .bind(interval(each))
        .fetch_one(self.opened.on())
        .await?)
    }

    async fn pay_back(&mut self, line: &str, sends: i64, a_second: u32) -> Result<(), StoreError> {
        let each = Duration::from_secs(1) / a_second.max(1);
        sqlx::query("update line_state set paid_until = paid_until - $2 * $3::interval where line = $1")
            .bind(line)
            .bind(sends as f64)
            .bind(interval(each))
            .execute(self.opened.on())
            .await?;
        Ok(())
    }
}
