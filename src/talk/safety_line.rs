//! Lines of caution, of which every advice carries one.

use serde::{Deserialize, Serialize};

/// A line of caution; every advice carries one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Safety {
    SwitchOff,
    DryJoints,
    PanelsLive,
    DcBreaker,
    Children,
    NeverDry,
    TwoPeople,
    NotDrink,
    Electrician,
    /// Nobody in the water while the pump runs.
    InWater,
    /// Nobody goes down a well.
    Well,
    Storm,
    /// Off before the plug is pulled.
    Plug,
    Poison,
}

impl Safety {
    /// The lines that take turns.
    pub const ALL: [Safety; 14] = [
        Safety::SwitchOff,
        Safety::InWater,
        Safety::DryJoints,
        Safety::DcBreaker,
        Safety::PanelsLive,
        Safety::Children,
        Safety::NeverDry,
        Safety::TwoPeople,
        Safety::NotDrink,
        Safety::Electrician,
        Safety::Well,
        Safety::Plug,
        Safety::Storm,
        Safety::Poison,
    ];

    /// The code under which language folders word it.
    pub fn code(self) -> &'static str {
        match self {
            Safety::SwitchOff => "switch_off",
            Safety::DryJoints => "dry_joints",
            Safety::PanelsLive => "panels_live",
            Safety::DcBreaker => "dc_breaker",
            Safety::Children => "children",
            Safety::NeverDry => "never_dry",
            Safety::TwoPeople => "two_people",
            Safety::NotDrink => "not_drink",
            Safety::Electrician => "electrician",
            Safety::InWater => "in_water",
            Safety::Well => "well",
            Safety::Storm => "storm",
            Safety::Plug => "plug",
            Safety::Poison => "poison",
        }
    }
}
