//! Who looks at a page, and what the role allows.

use uuid::Uuid;

/// What an account may do; each role may what the ones before it may.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Sees everything, changes nothing.
    Reads,
    /// Answers growers.
    Answers,
    /// Runs the place: accounts, places, keys.
    Runs,
}

impl Role {
    pub const ALL: [Role; 3] = [Role::Reads, Role::Answers, Role::Runs];

    pub fn name(self) -> &'static str {
        match self {
            Role::Reads => "reads",
            Role::Answers => "answers",
            Role::Runs => "runs",
        }
    }

    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.name() == name)
    }
}

/// Where the own password is changed: open to who must do that before anything else.
pub const PASSWORD_PATH: &str = "/desk/password";

/// A member of staff who is signed in.
#[derive(Debug, Clone)]
pub struct Member {
    pub id: Uuid,
    pub name: String,
    pub role: Role,
    /// Somebody else has set the password: nothing can be done but choose another.
    pub must_change: bool,
    /// Talks that wait for a human, and those of them in danger.
    pub waiting: i64,
    pub danger: i64,
    /// Messages that no gateway took and nobody has dealt with: the menu of every page says so.
    pub undelivered: i64,
}
