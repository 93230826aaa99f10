//! What the lines, the database and the desk call a message on its way: how important it is, what became of it, and when it is
//! tried again. Never a clock, a database or a network.

use std::time::Duration;

/// How important a message is: a more important one goes first, on its line and to its number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Priority {
    /// What to do where somebody is in danger.
    Danger,
    /// The answer to a message.
    Answer,
    /// What staff write.
    Staff,
    /// What a grower asked to be reminded of.
    Reminder,
    /// One of many.
    List,
}

impl Priority {
    pub const ALL: [Self; 5] = [Self::Danger, Self::Answer, Self::Staff, Self::Reminder, Self::List];

    /// From 0, the most important first.
    pub fn rank(self) -> i16 {
        self as i16
    }

    /// Whether an opt-out that came meanwhile holds it back: what answers a message is what its sender asked for.
    pub fn heeds_opt_out(self) -> bool {
        self >= Self::Staff
    }
}

/// What a receipt says became of a message at the phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Receipt {
    Delivered,
    Failed,
    Expired,
}

impl Receipt {
    pub const ALL: [Self; 3] = [Self::Delivered, Self::Failed, Self::Expired];

    /// In calls, in the database and in metrics.
    pub fn name(self) -> &'static str {
        match self {
            Self::Delivered => "delivered",
            Self::Failed => "failed",
            Self::Expired => "expired",
        }
    }

    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|receipt| receipt.name() == name)
    }
}

/// Longer than a gateway's call may take, so that no message is tried by two senders.
pub const LEASE: Duration = Duration::from_secs(45);

/// The longest pause between two tries of one message.
const LONGEST_PAUSE: Duration = Duration::from_secs(5 * 60);

/// A message that no gateway took for so long is put before staff: an outage over a long weekend loses nothing.
pub const TRY_FOR: Duration = Duration::from_secs(5 * 24 * 3600);

/// Failures in a row after which the line is taken to be down. One alone may be a single message's own.
pub const DOWN_AFTER: i32 = 3;

/// The pauses between probes of a line that is down: the first, doubled each time up to the longest.
pub const FIRST_PROBE: Duration = Duration::from_secs(1);
pub const LONGEST_PROBE: Duration = Duration::from_secs(60);

/// Where a gateway asks for less and names no time, and the longest time that is heeded.
pub const SLOW_DOWN: Duration = Duration::from_secs(5);
pub const LONGEST_SLOW_DOWN: Duration = Duration::from_secs(3600);

/// The pause after a message's try of this number: one second, doubled each time up to the longest.
pub fn pause_after(attempt: i32) -> Duration {
    let doublings = u32::try_from(attempt - 1).unwrap_or_default().min(20);
    Duration::from_secs(1 << doublings).min(LONGEST_PAUSE)
}

/// A status that refuses a message for good: the same again would be refused again. 401, 403 and 404 are not among them: they
/// tell of the line's address or secret, which an operator mends.
pub fn is_refusal(status: u16) -> bool {
    matches!(status, 400 | 410 | 413 | 422)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pauses_grow_and_stay_bounded() {
        let pauses: Vec<u64> = (1..40).map(|attempt| pause_after(attempt).as_secs()).collect();
        assert_eq!(pauses[..4], [1, 2, 4, 8]);
        assert!(pauses.windows(2).all(|pair| pair[0] <= pair[1]));
        assert_eq!(pauses.last(), Some(&LONGEST_PAUSE.as_secs()));
    }

    #[test]
    fn names_are_read_back_and_ranks_stand_in_order() {
        assert!(Receipt::ALL.into_iter().all(|receipt| Receipt::named(receipt.name()) == Some(receipt)));
        assert_eq!(Priority::ALL.map(Priority::rank), [0, 1, 2, 3, 4]);
        assert!(!Priority::Answer.heeds_opt_out() && Priority::List.heeds_opt_out());
    }
}
