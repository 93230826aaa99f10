//! Times as the deployment's clocks show them.

use chrono::{DateTime, FixedOffset, NaiveDate, Offset, Utc};

/// The deployment's clock: that of its home place.
#[derive(Debug, Clone, Copy)]
pub struct Clock {
    offset: FixedOffset,
}

impl Clock {
    /// A clock so many hours ahead of UTC.
    pub fn new(utc_offset_h: f64) -> Self {
        let offset = FixedOffset::east_opt((utc_offset_h * 3600.0).round() as i32);
        Self { offset: offset.unwrap_or_else(|| Utc.fix()) }
    }

    pub fn local(&self, at: &DateTime<Utc>) -> DateTime<FixedOffset> {
        at.with_timezone(&self.offset)
    }

    /// Day, month and time.
    pub fn short(&self, at: &DateTime<Utc>) -> String {
        self.local(at).format("%d %b %H:%M").to_string()
    }

    pub fn long(&self, at: &DateTime<Utc>) -> String {
        self.local(at).format("%Y-%m-%d %H:%M").to_string()
    }

    pub fn today(&self, now: DateTime<Utc>) -> NaiveDate {
        self.local(&now).date_naive()
    }

    /// The moment at which a day begins.
    pub fn start_of(&self, day: NaiveDate) -> DateTime<Utc> {
        let midnight = day.and_time(chrono::NaiveTime::MIN);
        (midnight - chrono::TimeDelta::seconds(i64::from(self.offset.local_minus_utc()))).and_utc()
    }
}
