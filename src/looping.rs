//! Whether who writes is a machine that answers our own answers, so that two machines keep each other going for ever at the
//! price of every message. Never a clock (times are arguments), a database or a network.
//!
//! The bounds are practice, set where no person was seen to go: nobody types, reads the answer and types anew within four
//! seconds ten times running, sends one text six times within an hour, or says two things in turn twenty times within two.

use std::collections::BTreeSet;

use chrono::{DateTime, TimeDelta, Utc};

/// How far back is looked, and at how many messages at most.
pub const WITHIN: TimeDelta = TimeDelta::hours(2);
pub const MESSAGES: i64 = 20;

/// So many messages running, each this soon after the one before.
const FAST: usize = 10;
const FAST_GAP: TimeDelta = TimeDelta::seconds(4);

/// One text so many times running within this time.
const SAME: usize = 6;
const SAME_WITHIN: TimeDelta = TimeDelta::hours(1);

/// So few texts in so many messages.
const FEW: usize = 2;

/// Whether the newest of these messages, newest first, each with the mark of its text, belongs to a loop.
pub fn is_loop<Mark: Ord>(heard: &[(DateTime<Utc>, Mark)]) -> bool {
    let is_fast = heard.len() >= FAST && heard[..FAST].windows(2).all(|pair| pair[0].0 - pair[1].0 <= FAST_GAP);
    let is_same = heard.len() >= SAME
        && heard[..SAME].iter().all(|(_, mark)| *mark == heard[0].1)
        && heard[0].0 - heard[SAME - 1].0 <= SAME_WITHIN;
    let marks: BTreeSet<&Mark> = heard.iter().map(|(_, mark)| mark).collect();
    let is_in_turn = heard.len() >= MESSAGES as usize && marks.len() <= FEW;
    is_fast || is_same || is_in_turn
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Messages so many seconds apart, newest first.
    fn heard(gap_s: i64, texts: &[&'static str]) -> Vec<(DateTime<Utc>, &'static str)> {
        let first = DateTime::from_timestamp(1_800_000_000, 0).unwrap();
        let each = texts.iter().enumerate().map(|(n, text)| (first + TimeDelta::seconds(gap_s * n as i64), *text));
        let mut all: Vec<_> = each.collect();
        all.reverse();
        all
    }

    #[test]
    fn machines_are_known_by_their_pace_and_by_their_few_words() {
        let many: Vec<&'static str> = "a b c d e f g h i j".split(' ').collect();
        assert!(is_loop(&heard(2, &many)));
        assert!(is_loop(&heard(120, &["thank you for your message"; 6])));
        let two: Vec<&'static str> = (0..20).map(|n| if n % 2 == 0 { "we are closed" } else { "call again" }).collect();
        assert!(is_loop(&heard(200, &two)));
    }

    #[test]
    fn people_are_none() {
        let many: Vec<&'static str> = "a b c d e f g h i j".split(' ').collect();
        assert!(!is_loop(&heard(9, &many)), "a fast typist");
        assert!(!is_loop(&heard(1, &many[..9])), "a text that came in nine messages");
        assert!(!is_loop(&heard(60, &["help"; 5])));
        assert!(!is_loop(&heard(900, &["more"; 6])), "over an hour and a quarter");
        let yes_no_5: Vec<&'static str> = (0..20).map(|n| ["yes", "no", "5"][n % 3]).collect();
        assert!(!is_loop(&heard(60, &yes_no_5)));
        assert!(!is_loop::<u8>(&[]));
    }
}
