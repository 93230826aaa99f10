//! One step of a conversation.
use serde::{Deserialize, Serialize};

/// Where a talk with one number stands.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Talk {
    /// The grower has opted out: nothing is sent until `start`.
    pub stopped: bool,
    pub turns: u32,
}

/// How a message came in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Channel {
    Sms,
    Ussd,
}
