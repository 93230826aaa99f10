//! A reminder that a grower asked for.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

/// What it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReminderKind {
    Brushes,
    LowWater,
}

impl ReminderKind {
    /// Both of them.
    pub const ALL: [ReminderKind; 2] = [ReminderKind::Brushes, ReminderKind::LowWater];

    /// The name in the database and in language folders.
    pub fn name(self) -> &'static str {
        match self {
            ReminderKind::Brushes => "brushes",
            ReminderKind::LowWater => "low_water",
        }
    }
}

/// A reminder that was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reminder {
    pub kind: ReminderKind,
    pub due_at: DateTime<Utc>,
    /// Hours that the pump will have run by then; none for low water.
    pub hours: Option<f64>,
}
