//! What is told in several messages, one a message: its steps, and where the word more goes on.

use serde::{Deserialize, Serialize};

use super::safety_line::Safety;

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
                ("float", &[SwitchOff, Children, Poison]),
                ("joints", &[DryJoints, DcBreaker]),
                ("cover", &[PanelsLive]),
                ("hose", &[Children, NotDrink, Poison]),
                ("first_start", &[InWater, NeverDry, Electrician]),
                ("tie_down", &[TwoPeople, Storm]),
                ("home", &[Plug, TwoPeople]),
            ],
            Topic::Care => &[
                ("week", &[SwitchOff, NeverDry]),
                ("month", &[SwitchOff, PanelsLive, DryJoints]),
                ("season", &[DcBreaker, Children]),
                ("replace", &[SwitchOff, Electrician]),
            ],
            Topic::Help => &[("begin", &[]), ("words", &[]), ("fields", &[])],
            Topic::Test => &[("bucket", &[Children, InWater]), ("heights", &[DryJoints, Children])],
        }
    }
}
