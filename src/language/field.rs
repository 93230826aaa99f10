//! The fields of a sheet and the words that do something, by the names the language folders use for them.

use serde::{Deserialize, Serialize};

use crate::units::Unit;

/// One thing that a grower can tell about the site or the set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    Lift,
    Low,
    Pipe,
    Bore,
    Panel,
    Stance,
    Pump,
    /// Height of a pump that stands above the water.
    Suction,
    Well,
    Garden,
    Crop,
    Soil,
    Month,
    Watering,
    Wire,
    Place,
}

impl Field {
    /// Every field, in the order in which a reply lists them.
    pub const ALL: [Field; 16] = [
        Field::Lift,
        Field::Low,
        Field::Pipe,
        Field::Bore,
        Field::Panel,
        Field::Stance,
        Field::Pump,
        Field::Suction,
        Field::Well,
        Field::Garden,
        Field::Crop,
        Field::Soil,
        Field::Month,
        Field::Watering,
        Field::Wire,
        Field::Place,
    ];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Field::Lift => "lift",
            Field::Low => "low",
            Field::Pipe => "pipe",
            Field::Bore => "bore",
            Field::Panel => "panel",
            Field::Stance => "stance",
            Field::Pump => "pump",
            Field::Suction => "suction",
            Field::Well => "well",
            Field::Garden => "garden",
            Field::Crop => "crop",
            Field::Soil => "soil",
            Field::Month => "month",
            Field::Watering => "watering",
            Field::Wire => "wire",
            Field::Place => "place",
        }
    }
}

/// A word that does something instead of telling something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Command {
    Help,
    More,
    Cost,
    Change,
    Sun,
    /// The good hours of a bright day, and how often to water.
    When,
    Test,
    Setup,
    Care,
    Remind,
    New,
    Person,
    Stop,
    Start,
    Forget,
    Yes,
    No,
}

impl Command {
    /// Every command, in the order in which help lists them.
    pub const ALL: [Command; 17] = [
        Command::Help,
        Command::More,
        Command::Cost,
        Command::Change,
        Command::Sun,
        Command::When,
        Command::Test,
        Command::Setup,
        Command::Care,
        Command::Remind,
        Command::New,
        Command::Person,
        Command::Stop,
        Command::Start,
        Command::Forget,
        Command::Yes,
        Command::No,
    ];

    /// The name used in language folders.
    pub fn name(self) -> &'static str {
        match self {
            Command::Help => "help",
            Command::More => "more",
            Command::Cost => "cost",
            Command::Change => "change",
            Command::Sun => "sun",
            Command::When => "when",
            Command::Test => "test",
            Command::Setup => "setup",
            Command::Care => "care",
            Command::Remind => "remind",
            Command::New => "new",
            Command::Person => "person",
            Command::Stop => "stop",
            Command::Start => "start",
            Command::Forget => "forget",
            Command::Yes => "yes",
            Command::No => "no",
        }
    }
}

/// A kind of gallon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gallon {
    Us,
    Imperial,
}

impl Gallon {
    /// Both kinds.
    pub const ALL: [Gallon; 2] = [Gallon::Us, Gallon::Imperial];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Gallon::Us => "us",
            Gallon::Imperial => "imperial",
        }
    }

    /// So many of them an hour.
    pub fn unit(self) -> Unit {
        match self {
            Gallon::Us => Unit::UsGallonPerHour,
            Gallon::Imperial => Unit::ImperialGallonPerHour,
        }
    }
}

/// A word that answers a question without a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// There is none, or none yet.
    None,
    /// The grower does not know.
    Unknown,
}
