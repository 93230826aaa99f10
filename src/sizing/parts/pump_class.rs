//! Generic classes of pump, as the nearest town sells them.

use serde::{Deserialize, Serialize};

use super::pump::PumpLabel;

/// A class of pump: its name, what its label says, how long it runs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PumpClass {
    pub name: String,
    pub label: PumpLabel,
    /// Hours of running until it wears out.
    pub life_h: f64,
}

impl PumpClass {
    /// Whether a label is this class's: the amps are not looked at, since not every label prints them.
    pub fn has_label(&self, label: &PumpLabel) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() < 1e-6;
        same(self.label.label_v, label.label_v)
            && same(self.label.flow_l_h, label.flow_l_h)
            && same(self.label.head_m, label.head_m)
            && self.label.electronics == label.electronics
            && self.label.displacement == label.displacement
    }
}

/// The classes that a deployment starts with (invented, typical), cheapest first.
pub fn starting_classes() -> Vec<PumpClass> {
    [
        ("tiny", 12.0, 2000.0, 3.5, 3.0, false, 1000.0),
        ("small", 12.0, 4500.0, 4.5, 6.0, false, 1500.0),
        ("middle", 12.0, 7500.0, 5.5, 9.0, false, 1500.0),
        ("large", 12.0, 14_000.0, 7.5, 15.0, false, 2500.0),
        ("large_24", 24.0, 14_000.0, 7.5, 7.5, false, 2500.0),
        ("high", 24.0, 3000.0, 25.0, 12.0, true, 8000.0),
        ("higher", 48.0, 6000.0, 40.0, 15.0, true, 8000.0),
    ]
    .into_iter()
    .map(|(name, label_v, flow_l_h, head_m, amps, electronics, life_h)| PumpClass {
        name: name.to_owned(),
        label: PumpLabel { label_v, flow_l_h, head_m, amps: Some(amps), electronics, displacement: false },
        life_h,
    })
    .collect()
}
