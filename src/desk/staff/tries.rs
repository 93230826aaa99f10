//! How often one address may try to sign in, whatever names it types.

use std::num::NonZeroU32;
use std::sync::atomic::{AtomicU32, Ordering};

use governor::clock::{Clock, DefaultClock};
use governor::{DefaultKeyedRateLimiter, Quota};

use super::origin::Origin;

/// An office behind one address that comes in the morning; and how many more in a minute (practice).
const BURST: NonZeroU32 = NonZeroU32::new(30).unwrap();
const A_MINUTE: NonZeroU32 = NonZeroU32::new(20).unwrap();

/// After this many checks the addresses that have been quiet are forgotten.
const SWEEP_EVERY: u32 = 1024;

pub struct Tries {
    limiter: DefaultKeyedRateLimiter<Origin>,
    checks: AtomicU32,
}

impl Default for Tries {
    fn default() -> Self {
        let quota = Quota::per_minute(A_MINUTE).allow_burst(BURST);
        Self { limiter: DefaultKeyedRateLimiter::keyed(quota), checks: AtomicU32::new(0) }
    }
}

impl Tries {
    /// Takes one try from an address, or says in how many seconds it may come again.
    pub fn check(&self, from: Origin) -> Result<(), i64> {
        if self.checks.fetch_add(1, Ordering::Relaxed) % SWEEP_EVERY == SWEEP_EVERY - 1 {
            self.limiter.retain_recent();
            self.limiter.shrink_to_fit();
        }
        self.limiter.check_key(&from).map_err(|wait| {
            let wait = wait.wait_time_from(DefaultClock::default().now());
            i64::try_from(wait.as_secs()).unwrap_or(i64::MAX - 1) + 1
        })
    }
}
