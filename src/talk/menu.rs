//! The menus of a session: what their lines do, and what a screen waits for.

use serde::{Deserialize, Serialize};

/// A menu.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Menu {
    Home,
    Other,
    /// What else there is to an answer.
    Answered,
    /// All there is for a number that has opted out.
    Stopped,
    /// From this language on.
    Languages {
        first: usize,
    },
}

/// What a line of a menu does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Item {
    Answer,
    New,
    Setup,
    Care,
    Other,
    Language,
    Person,
    Stop,
    Start,
    Yes,
    No,
    More,
    Change,
    Cost,
    Back,
}

impl Item {
    /// Every item.
    pub const ALL: [Item; 15] = {
        use Item::*;
        [Answer, New, Setup, Care, Other, Language, Person, Stop, Start, Yes, No, More, Change, Cost, Back]
    };

    /// The code under which language folders word it.
    pub fn code(self) -> &'static str {
        match self {
            Item::Answer => "answer",
            Item::New => "new",
            Item::Setup => "setup",
            Item::Care => "care",
            Item::Other => "other",
            Item::Language => "language",
            Item::Person => "person",
            Item::Stop => "stop",
            Item::Start => "start",
            Item::Yes => "yes",
            Item::No => "no",
            Item::More => "more",
            Item::Change => "change",
            Item::Cost => "cost",
            Item::Back => "back",
        }
    }
}

impl Menu {
    /// Its lines, the first of them for the key 1.
    pub fn items(self) -> &'static [Item] {
        match self {
            Menu::Home => &[Item::Answer, Item::New, Item::Setup, Item::Care, Item::Other],
            Menu::Other => &[Item::Language, Item::Person, Item::Stop],
            Menu::Answered => &[Item::More, Item::Change, Item::Cost],
            Menu::Stopped => &[Item::Start],
            Menu::Languages { .. } => &[],
        }
    }
}

/// What the last screen waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Waits {
    Choice(Menu),
    /// 1 yes, 2 no.
    Sure,
    /// An answer to the talk's question.
    Answer,
    /// 1 for more.
    More,
    /// 1 to opt in again.
    Start,
    /// Only 0.
    Back,
    /// Only 0, to what else there is to the answer.
    Detail,
}

/// A screen that was shown and not answered yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct UssdScreen {
    pub waits: Waits,
    /// As it was shown, for a session that drops and is dialled again.
    pub text: String,
}
