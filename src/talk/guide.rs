//! What is told in several messages, one a message, the next for the word more.

use serde::{Deserialize, Serialize};

use super::answer::{Depth, say_more};
use super::say::{Safety, Say};
use super::step::Turning;
use crate::language::Command;

/// What is told step by step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Topic {
    /// The rest of an advice.
    Advice,
    Setup,
    Care,
    Help,
    /// How a bucket test is made.
    Test,
}

/// Where the word more goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Page {
    pub topic: Topic,
    /// Steps told already.
    pub told: usize,
}

impl Page {
    /// An advice whose first message was given.
    pub fn advice() -> Page {
        Page { topic: Topic::Advice, told: 1 }
    }
}

/// One step: the code under which language folders word it, and the lines of caution that belong to it.
pub type GuideStep = (&'static str, &'static [Safety]);

impl Topic {
    /// Its steps; an advice is told otherwise.
    pub fn steps(self) -> &'static [GuideStep] {
        use Safety::*;
        match self {
            Topic::Advice => &[],
            Topic::Setup => &[
                ("mud", &[NeverDry, SwitchOff]),
                ("float", &[SwitchOff, Children]),
                ("joints", &[DryJoints, DcBreaker]),
                ("cover", &[PanelsLive]),
                ("hose", &[Children, NotDrink]),
                ("first_start", &[NeverDry, Electrician]),
                ("tie_down", &[TwoPeople]),
                ("home", &[SwitchOff, TwoPeople]),
            ],
            Topic::Care => &[
                ("week", &[SwitchOff, NeverDry]),
                ("month", &[PanelsLive, DryJoints]),
                ("season", &[DcBreaker, Children]),
                ("replace", &[SwitchOff, Electrician]),
            ],
            Topic::Help => &[("begin", &[]), ("words", &[]), ("fields", &[])],
            Topic::Test => &[("bucket", &[Children, SwitchOff]), ("heights", &[DryJoints, Children])],
        }
    }
}

impl Turning<'_> {
    /// Begins to tell something.
    pub(super) fn guide(&mut self, topic: Topic) {
        self.guide_step(topic, 0);
    }

    /// Goes on where the last message ended.
    pub(super) fn more(&mut self) {
        if self.more_of_topic() {
            return;
        }
        match self.talk.page {
            Some(Page { topic, told }) if topic != Topic::Advice => self.guide_step(topic, told),
            Some(Page { told, .. }) if told > 1 => {
                self.talk.page = None;
                self.says.push(Say::NoMore);
            }
            _ => {
                self.answer(say_more, Depth::Answer);
                if let Some(page) = &mut self.talk.page {
                    page.told = 2;
                }
            }
        }
    }

    fn guide_step(&mut self, topic: Topic, at: usize) {
        let steps = topic.steps();
        let Some(&(step, cautions)) = steps.get(at) else {
            self.talk.page = None;
            self.says.push(Say::NoMore);
            return;
        };
        self.says.push(Say::Guide { topic, step });
        if let Some(line) = super::safety::next_of(&self.talk, cautions) {
            self.says.push(Say::Safety(line));
        }
        self.talk.page = Some(Page { topic, told: at + 1 });
        if at + 1 < steps.len() {
            self.says.push(Say::NextWord(Command::More));
        }
    }
}
