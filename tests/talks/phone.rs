//! A phone that talks to the pure core.

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::talk::{Channel, Talk};
use noonwater::turn::{Turn, turn};

use crate::WORLD;

/// A phone, with its talk and its clock.
pub struct Phone {
    pub talk: Talk,
    pub now: DateTime<Utc>,
}

impl Phone {
    pub fn new() -> Self {
        Phone { talk: Talk::default(), now: "2026-06-01T06:00:00Z".parse().expect("a time") }
    }

    pub fn turn(&mut self, text: &str) -> Turn {
        let turn = turn(&WORLD, &self.talk, text, Channel::Sms, self.now);
        self.talk = turn.talk.clone();
        self.now += TimeDelta::minutes(1);
        turn
    }

    pub fn say(&mut self, text: &str) -> String {
        self.turn(text).reply.expect("a reply").text
    }
}

pub fn has(reply: &str, wanted: &[&str]) {
    for part in wanted {
        assert!(reply.contains(part), "{part:?} is not in {reply:?}");
    }
}
