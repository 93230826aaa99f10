//! Kinds of sheet, by what is told of them.

use super::dice::Dice;
use crate::sizing::Sheet;
use crate::sizing::parts::pump::PumpLabel;
use crate::terms::{PipeKind, StanceKind, Watering};

/// What a sheet leaves open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    AllTold,
    NoAmps,
    NoPanelVolts,
    NoBore,
    NoPump,
    /// Nothing of the set: it is proposed.
    Proposal,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Kind; 6] =
        [Kind::AllTold, Kind::NoAmps, Kind::NoPanelVolts, Kind::NoBore, Kind::NoPump, Kind::Proposal];

    /// As a table names it.
    pub fn name(self) -> &'static str {
        match self {
            Kind::AllTold => "all_told",
            Kind::NoAmps => "no_amps",
            Kind::NoPanelVolts => "no_panel_volts",
            Kind::NoBore => "no_bore",
            Kind::NoPump => "no_pump",
            Kind::Proposal => "proposal",
        }
    }

    /// A sheet of the kind, with a garden only where the set is to be proposed.
    pub(super) fn sheet(self, dice: &mut Dice) -> Sheet {
        let lift_m = (dice.between((1.0, 6.5)) * 2.0).round() / 2.0;
        let pipe_m = dice.between((10.0, 80.0)).round();
        let stance = dice.one_of(&[StanceKind::Flat, StanceKind::Flat, StanceKind::Turned]);
        let watering = dice.one_of(&[Watering::Furrow, Watering::Furrow, Watering::Hose]);
        let bare = Sheet {
            lift_m: Some(lift_m),
            low_m: Some(lift_m),
            pipe_m: Some(pipe_m),
            pipe_kind: Some(PipeKind::SmoothPlastic),
            stance: Some(stance),
            watering: Some(watering),
            wire_m: Some(10.0),
            ..Sheet::default()
        };
        if self == Kind::Proposal {
            return Sheet { garden_m2: Some(dice.between((200.0, 4000.0)).round()), pipe_kind: None, low_m: None, ..bare };
        }
        let mut label = label(dice, lift_m);
        let volts = label.label_v;
        if self == Kind::NoAmps {
            label.amps = None;
        }
        let (panel_w, panel_v) = if self == Kind::NoPanelVolts {
            (dice.one_of(&[200.0, 250.0, 300.0, 330.0, 380.0]), None)
        } else {
            (dice.one_of(&[50.0, 80.0, 100.0, 120.0, 150.0]), Some(12.0))
        };
        let wanted_w = label.amps.unwrap_or(8.0) * volts * dice.between((1.2, 3.0));
        let least = if panel_v.is_some() && volts > 12.0 { 2 } else { 1 };
        let panel_count = ((wanted_w / panel_w).round() as u32).clamp(least, 12);
        let bore_mm = dice.one_of(&[38.0, 50.0, 63.0]);
        Sheet {
            panel_count: Some(panel_count),
            panel_w: Some(panel_w),
            panel_v,
            bore_mm: (self != Kind::NoBore).then_some(bore_mm),
            pump: (self != Kind::NoPump).then_some(label),
            ..bare
        }
    }
}

/// A label such as shops have: more flow wants more amps, and the head suits the lift.
fn label(dice: &mut Dice, lift_m: f64) -> PumpLabel {
    let label_v = dice.one_of(&[12.0, 12.0, 24.0]);
    let flow_l_h = (dice.between((2000.0, 15_000.0)) / 500.0).round() * 500.0;
    let head_m = ((lift_m * dice.between((1.5, 2.5)) + 1.0) * 2.0).round() / 2.0;
    let hydraulic_w = 997.0 * 9.81 * flow_l_h / 3.6e6 * head_m * 0.33;
    let efficiency = (0.42 * (hydraulic_w / 92.0).powf(0.4)).min(0.45) * dice.between((0.8, 1.25));
    let amps = (hydraulic_w / (efficiency * label_v * 13.6 / 12.0) * 2.0).round().max(2.0) / 2.0;
    PumpLabel { label_v, flow_l_h, head_m, amps: Some(amps), electronics: false, displacement: false }
}
