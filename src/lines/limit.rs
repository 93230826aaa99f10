//! How much one number may send.

use std::collections::HashMap;
use std::num::NonZeroU32;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use governor::clock::{Clock, DefaultClock};
use governor::{DefaultKeyedRateLimiter, Quota};

use crate::config::Limits;
use crate::number::Number;

/// After this many checks the numbers that have been quiet long enough are forgotten, so that the table holds only
/// those of the last few minutes.
const SWEEP_EVERY: u32 = 1024;

/// How long a number that wrote of a danger may send as much as it will.
const DANGER: Duration = Duration::from_secs(3600);

pub struct Limiter {
    limiter: DefaultKeyedRateLimiter<Number>,
    checks: AtomicU32,
    /// When each number last wrote of a danger.
    dangers: Mutex<HashMap<Number, Instant>>,
}

impl Limiter {
    pub fn new(limits: Limits) -> Self {
        let at_least_one = |count| NonZeroU32::new(count).unwrap_or(NonZeroU32::MIN);
        let quota = Quota::per_minute(at_least_one(limits.messages_a_minute)).allow_burst(at_least_one(limits.burst));
        Self { limiter: DefaultKeyedRateLimiter::keyed(quota), checks: AtomicU32::new(0), dangers: Mutex::default() }
    }

    /// Takes one message of this number, or says in how many seconds it may come again. Whoever is in danger is never held up.
    pub fn check(&self, number: &Number, in_danger: bool) -> Result<(), u64> {
        if self.checks.fetch_add(1, Ordering::Relaxed) % SWEEP_EVERY == SWEEP_EVERY - 1 {
            self.limiter.retain_recent();
            self.limiter.shrink_to_fit();
        }
        if self.is_free(number, in_danger) {
            return Ok(());
        }
        self.limiter.check_key(number).map_err(|wait| {
            let wait = wait.wait_time_from(DefaultClock::default().now());
            wait.as_secs() + 1
        })
    }

    fn is_free(&self, number: &Number, in_danger: bool) -> bool {
        let mut dangers = self.dangers.lock().unwrap_or_else(PoisonError::into_inner);
        dangers.retain(|_, at| at.elapsed() < DANGER);
        if in_danger {
            dangers.insert(number.clone(), Instant::now());
        }
        dangers.contains_key(number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(index: u32) -> Number {
        Number::parse(&format!("+447700{:06}", 900_000 + index % 1000)).unwrap()
    }

    #[test]
    fn a_burst_passes_and_the_next_must_wait_for_its_share_of_a_minute() {
        let limiter = Limiter::new(Limits { messages_a_minute: 1, burst: 3, ..Limits::default() });
        let asha = number(1);
        assert!((0..3).all(|_| limiter.check(&asha, false).is_ok()));
        let wait_s = limiter.check(&asha, false).unwrap_err();
        assert!((1..=61).contains(&wait_s), "{wait_s}");
        assert!(limiter.check(&number(2), false).is_ok(), "another number is not held up");
    }

    #[test]
    fn whoever_is_in_danger_is_never_held_up() {
        let limiter = Limiter::new(Limits { messages_a_minute: 1, burst: 1, ..Limits::default() });
        let asha = number(1);
        assert!(limiter.check(&asha, false).is_ok() && limiter.check(&asha, false).is_err());
        assert!((0..50).all(|_| limiter.check(&asha, true).is_ok()));
        assert!((0..50).all(|_| limiter.check(&asha, false).is_ok()), "nor in the hour after");
        assert!(limiter.check(&number(2), false).is_ok() && limiter.check(&number(2), false).is_err());
    }

    #[test]
    fn quiet_numbers_are_forgotten() {
        // At a million a minute a number is quiet again at once.
        let limiter = Limiter::new(Limits { messages_a_minute: 60_000_000, burst: 1, ..Limits::default() });
        for index in 0..SWEEP_EVERY * 2 {
            let _ = limiter.check(&number(index), false);
        }
        assert!(limiter.limiter.len() < 1000, "{}", limiter.limiter.len());
    }
}
