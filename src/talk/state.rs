//! Where a talk with one number stands between two messages.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::in_danger::InDanger;
use super::known::Known;
use super::menu::UssdScreen;
use super::reminder::Reminder;
use super::safety_line::Safety;
use super::search::Search;
use super::topic::Page;
use crate::language::{Command, Field};
use crate::message::FactValue;

/// How a message came in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Channel {
    Sms,
    Ussd,
    /// A message by itself, in a list or from a machine: nobody answers a question, and there is no talk to end or to
    /// take up again.
    Alone,
}

/// A talk with one number. Every field has a default, so that a row written by an older version still reads.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Talk {
    /// The language it is held in, once one has shown.
    pub language: Option<String>,
    /// The grower has opted out: nothing is said until `start`.
    pub stopped: bool,
    pub known: Known,
    /// The question that waits for its answer.
    pub asked: Option<Asked>,
    /// Fields whose unusual value was asked back once already.
    pub doubted: Vec<Field>,
    /// Fields of which it was told how to find them out.
    pub explained: Vec<Field>,
    /// Marks of the last replies, the latest last: nobody is told the same three times.
    pub said: Vec<u64>,
    /// Lines of caution seen, the latest last.
    pub safety_seen: Vec<Safety>,
    /// What the word more goes on with.
    pub page: Option<Page>,
    /// The screen that a menu session left, until a message comes.
    pub ussd: Option<UssdScreen>,
    /// Messages in a row of which nothing was understood.
    pub misread: u8,
    /// A bucket test was told and not judged yet.
    pub test_waits: bool,
    /// The topic that the word more goes on with.
    pub topic_page: Option<TopicPage>,
    /// Turns in a row that did not get on.
    pub stumbles: u8,
    /// Somebody was in danger, so lately that the talk may still be about it.
    pub danger: Option<InDanger>,
    pub reminders: Vec<Reminder>,
    /// The fault that is or was looked for last.
    pub search: Option<Search>,
    /// When the last message came.
    pub last_at: Option<DateTime<Utc>>,
}

/// How much of a topic's answer was told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TopicPage {
    pub topic: String,
    pub told: usize,
}

/// A question that was asked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "question")]
pub enum Asked {
    /// What this field is: a number alone is its answer.
    Field { field: Field },
    /// Which gallons a number of them was; a number alone is in litres an hour.
    Gallon { field: Field, gallons_h: f64 },
    /// Whether an unusual value is right.
    Unusual { field: Field },
    /// Whether a mistyped word was meant so; with the facts of the message read that way.
    DidYouMean {
        facts: Vec<FactValue>,
        /// What the word asks, where it is one that does something.
        #[serde(default)]
        command: Option<Command>,
    },
    /// Whether an old sheet is still of the same garden; with what came meanwhile.
    StillSame {
        facts: Vec<FactValue>,
        #[serde(default)]
        command: Option<Command>,
    },
    /// A step of looking for a fault.
    Fault { step: String },
    /// Whether a change that was only compared is to be taken.
    WhatIf { facts: Vec<FactValue> },
    /// Which of two topics was meant: 1 or 2.
    WhichTopic { first: String, second: String },
    /// Whether everything held about the number is really to be deleted.
    Forget,
}

impl Asked {
    /// The field that a bare number would answer.
    pub fn field(&self) -> Option<Field> {
        match self {
            Asked::Field { field } | Asked::Gallon { field, .. } | Asked::Unusual { field } => Some(*field),
            Asked::DidYouMean { .. }
            | Asked::StillSame { .. }
            | Asked::Forget
            | Asked::Fault { .. }
            | Asked::WhatIf { .. }
            | Asked::WhichTopic { .. } => None,
        }
    }
}
