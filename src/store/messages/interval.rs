//! A span of time as PostgreSQL takes it.

use std::time::Duration;

use sqlx::postgres::types::PgInterval;

pub fn interval(duration: Duration) -> PgInterval {
    PgInterval { months: 0, days: 0, microseconds: i64::try_from(duration.as_micros()).unwrap_or(i64::MAX) }
}
