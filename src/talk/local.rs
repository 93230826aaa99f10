//! What the clock and the calendar on the wall of a place say.

use chrono::{DateTime, FixedOffset, Offset, Utc};

/// Seconds in an hour.
const HOUR_S: f64 = 3600.0;

/// A moment as a clock shows it where clocks are `utc_offset_h` hours (-12..14) ahead of UTC; UTC's own outside that.
pub fn local_time(now: DateTime<Utc>, utc_offset_h: f64) -> DateTime<FixedOffset> {
    let sound = (-12.0..=14.0).contains(&utc_offset_h);
    // Within the range the seconds fit an i32 whole.
    let ahead = sound.then(|| FixedOffset::east_opt((utc_offset_h * HOUR_S).round() as i32)).flatten();
    now.with_timezone(&ahead.unwrap_or_else(|| Utc.fix()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_date_is_that_of_the_place() {
        for (utc, utc_offset_h, local) in [
            ("2027-05-31T22:30:00Z", 3.0, "2027-06-01T01:30:00+03:00"),
            ("2027-06-01T02:30:00Z", -5.0, "2027-05-31T21:30:00-05:00"),
            ("2027-12-31T18:20:00Z", 5.75, "2028-01-01T00:05:00+05:45"),
            ("2027-06-01T00:00:00Z", 0.0, "2027-06-01T00:00:00+00:00"),
            ("2027-06-01T00:00:00Z", f64::NAN, "2027-06-01T00:00:00+00:00"),
        ] {
            let now: DateTime<Utc> = utc.parse().unwrap();
            assert_eq!(local_time(now, utc_offset_h).to_rfc3339(), local);
        }
    }
}
