//! What was guessed of a set, and what is known of it only roughly: the ranges that its water is worked out over.
//!
//! Everything here is practice or memory unless a source stands beside it.

use serde::Serialize;

use super::sheet::CompleteSheet;
use crate::sizing::parts::pump::PumpLabel;

/// Watts of panels over their label, least and most.
pub const PANEL_SHARE: (f64, f64) = (0.85, 1.00);

/// Printed amps, and guessed ones, over what they are taken for.
pub const AMPS_TOLD: (f64, f64) = (0.92, 1.08);
pub const AMPS_GUESSED: (f64, f64) = (0.75, 1.25);

/// Share of the load current that goes with speed squared.
pub const CURRENT_SPEED: (f64, f64) = (0.35, 0.60);

/// Linear share of the head curve.
pub const HEAD_LINEAR: (f64, f64) = (0.55, 0.95);

/// Light that passes dust, age and mismatch.
pub const SOILING: (f64, f64) = (0.84, 0.96);

/// Loss of the fittings, in velocity heads.
pub const MINOR_LOSS: (f64, f64) = (2.0, 6.0);

/// A lift told to the metre, m, beside what was told.
pub const LIFT_M: (f64, f64) = (-0.4, 0.4);

/// Days that mix sun and cloud, over days of even light.
pub const MIXED_DAYS: (f64, f64) = (0.92, 1.03);

/// What a bucket test leaves of the flow that it measured: its litres, its seconds and its sky.
pub const MEASURED: (f64, f64) = (0.93, 1.07);

/// Cells of a panel above 160 W that tells no volts, with how likely each is.
pub const CELLS: [(u32, f64); 3] = [(36, 0.30), (60, 0.35), (72, 0.35)];

/// Sizes of bore beside the one that was taken for a pipe that is not told, with how likely each is.
pub const BORES_BESIDE: [(i8, f64); 3] = [(-1, 0.25), (0, 0.50), (1, 0.25)];

/// How likely a pipe of no told kind is a lay-flat hose.
pub const LAY_FLAT: f64 = 0.3;

/// Something that a grower could still tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Guess {
    /// Amps on the pump's label.
    Amps,
    /// Volts on the panel's label.
    PanelV,
    /// Bore of the pipe.
    BoreMm,
    /// Lift when the water stands lowest.
    LowM,
    /// What the pump really gives.
    BucketTest,
}

impl Guess {
    /// Every guess.
    pub const ALL: [Guess; 5] = [Guess::Amps, Guess::PanelV, Guess::BoreMm, Guess::LowM, Guess::BucketTest];

    /// The name used in JSON and in language folders.
    pub fn code(self) -> &'static str {
        match self {
            Guess::Amps => "amps",
            Guess::PanelV => "panel_v",
            Guess::BoreMm => "bore_mm",
            Guess::LowM => "low_m",
            Guess::BucketTest => "bucket_test",
        }
    }
}

/// Whether a sheet leaves a pump's amps to be guessed.
pub fn amps_are_guessed(filled: &CompleteSheet, label: &PumpLabel) -> bool {
    label.amps.is_none() && !filled.is_tested
}

/// Range of the amps over what they are taken for.
pub fn amps_range(label: &PumpLabel) -> (f64, f64) {
    if label.amps.is_some() { AMPS_TOLD } else { AMPS_GUESSED }
}
