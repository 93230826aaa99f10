//! What is written down in batches: tries that were refused, wrong passwords, what machines had answered. Each by itself would
//! let a stranger write as much into the audit as they like; together they are a line a kind in ten seconds.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use tokio::sync::Notify;

/// Lines of one batch; what is more stands together in one.
const LINES_MOST: usize = 50;

/// Who is named where nobody is known.
pub const NOBODY: &str = "(nobody)";

/// Who did what about what.
pub type Line = (String, &'static str, String);

/// What is to be written down.
#[derive(Default)]
pub struct Noticed {
    lines: Mutex<BTreeMap<Line, u64>>,
    pub woken: Notify,
}

impl Noticed {
    /// Counts that somebody did something so many times.
    pub fn count(&self, who: &str, did: &'static str, about: &str, times: u64) {
        if times == 0 {
            return;
        }
        let mut lines = self.lines.lock().unwrap_or_else(PoisonError::into_inner);
        let line = (who.to_owned(), did, about.to_owned());
        let line = if lines.len() < LINES_MOST || lines.contains_key(&line) {
            line
        } else {
            (NOBODY.to_owned(), did, String::new())
        };
        *lines.entry(line).or_default() += times;
        self.woken.notify_one();
    }

    /// What has been counted since.
    pub fn take(&self) -> BTreeMap<Line, u64> {
        std::mem::take(&mut *self.lines.lock().unwrap_or_else(PoisonError::into_inner))
    }
}
