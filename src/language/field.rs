//! The fields of a sheet and the words that do something, by the names the language folders use for them.

use serde::{Deserialize, Serialize};

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
    Well,
    Garden,
    Crop,
    Month,
    Watering,
    Wire,
    Place,
}

impl Field {
    /// Every field, in the order in which a reply lists them.
    pub const ALL: [Field; 14] = [
        Field::Lift,
        Field::Low,
        Field::Pipe,
        Field::Bore,
        Field::Panel,
        Field::Stance,
        Field::Pump,
        Field::Well,
        Field::Garden,
        Field::Crop,
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
            Field::Well => "well",
            Field::Garden => "garden",
            Field::Crop => "crop",
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
    Test,
    Setup,
    Care,
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
    pub const ALL: [Command; 15] = [
        Command::Help,
        Command::More,
        Command::Cost,
        Command::Change,
        Command::Sun,
        Command::Test,
        Command::Setup,
        Command::Care,
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
            Command::Test => "test",
            Command::Setup => "setup",
            Command::Care => "care",
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
