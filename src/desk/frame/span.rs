//! Lengths of time in words.

use chrono::TimeDelta;

/// A time in the largest unit that says enough.
pub fn in_words(time: TimeDelta) -> String {
    let minutes = time.num_minutes().max(0);
    match minutes {
        0..60 => format!("{minutes} min"),
        60..1440 => format!("{} h {} min", minutes / 60, minutes % 60),
        _ => format!("{} d {} h", minutes / 1440, minutes / 60 % 24),
    }
}
