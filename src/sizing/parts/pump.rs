//! A small pump and its motor, from nothing but the label.
//!
//! `n` is speed over the speed that belongs to the label. Head, flow and current follow the affinity laws.

use serde::{Deserialize, Serialize};

use super::pipe::WATER_KG_M3;
use crate::sizing::error::{SizingError, within};
use crate::units::{GRAVITY_M_S2, m3_s_from_l_h};

/// Labels of 12 and 24 V brushed pumps hold at the voltage of a charging battery (memory).
const CHARGING_OVER_LABEL: f64 = 13.6 / 12.0;

/// New, in clean water, a label overstates flow and head: the share that is counted on until a field test says
/// otherwise (practice).
pub const LABEL_SHARE: f64 = 0.85;

/// Shape of the head curve between a straight line and a parabola (a small radial impeller).
const HEAD_LINEAR: f64 = 0.75;
const HEAD_SQUARE: f64 = 0.25;

/// Split of the rated current: friction, speed squared, speed times flow.
const CURRENT_FRICTION: f64 = 0.08;
const CURRENT_LOAD: f64 = 0.92;
const CURRENT_SPEED: f64 = 0.45;
const CURRENT_FLOW: f64 = 0.55;

/// Volts lost over a pair of brushes.
const BRUSH_DROP_V: f64 = 1.0;

/// Share of the rated voltage lost over the winding at the rated current.
const WINDING_SHARE: f64 = 0.12;

/// Overall efficiency at the best point, from which an unprinted current follows (memory).
const EFFICIENCY_WHEN_AMPS_UNKNOWN: f64 = 0.40;

/// Over this multiple of its rated voltage a brushed motor wears its brushes quickly.
pub const OVER_DRIVE: f64 = 1.25;

/// What a pump's label says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PumpLabel {
    pub label_v: f64,
    /// Litres an hour at no lift.
    pub flow_l_h: f64,
    /// Greatest lift at no flow.
    pub head_m: f64,
    /// Amps, if printed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amps: Option<f64>,
    /// The pump carries electronics (a brushless motor, a controller) between the panels and its winding.
    pub electronics: bool,
}

/// What share of the label's flow and head the pump really gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LabelShare {
    pub flow: f64,
    pub head: f64,
}

impl Default for LabelShare {
    fn default() -> Self {
        LabelShare { flow: LABEL_SHARE, head: LABEL_SHARE }
    }
}

/// A pump with its motor, ready for the affinity laws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pump {
    /// Flow at no head and label speed, m³/s.
    pub free_flow_m3_s: f64,
    /// Head at no flow and label speed, m.
    pub shut_off_m: f64,
    pub rated_v: f64,
    pub rated_a: f64,
    pub winding_ohm: f64,
    /// Back-EMF at label speed, V.
    pub back_emf_v: f64,
    pub brush_v: f64,
    pub electronics: bool,
}

impl Pump {
    /// From a label and the share of it that is believed.
    ///
    /// Ranges: 6..400 V, 100..200000 l/h, 0.5..300 m, 0.1..200 A, shares 0.1..2. `Vr = label 13.6/12` for brushed pumps, `R =
    /// 0.12 Vr/Ir`, `e = Vr - brush - Ir R`; without printed amps `Ir = Phyd,max/(0.40 Vr)` of the label's own curve.
    pub fn from_label(label: &PumpLabel, share: LabelShare) -> Result<Self, SizingError> {
        let label_v = within("pump_v", label.label_v, 6.0, 400.0)?;
        let flow_l_h = within("pump_l_h", label.flow_l_h, 100.0, 200_000.0)?;
        let head_m = within("pump_head_m", label.head_m, 0.5, 300.0)?;
        within("label_share_flow", share.flow, 0.1, 2.0)?;
        within("label_share_head", share.head, 0.1, 2.0)?;
        let rated_v = if label.electronics { label_v } else { label_v * CHARGING_OVER_LABEL };
        let rated_a = match label.amps {
            Some(amps) => within("pump_a", amps, 0.1, 200.0)?,
            None => greatest_hydraulic_w(m3_s_from_l_h(flow_l_h), head_m) / (EFFICIENCY_WHEN_AMPS_UNKNOWN * rated_v),
        };
        let brush_v = if label.electronics { 0.0 } else { BRUSH_DROP_V };
        let winding_ohm = WINDING_SHARE * rated_v / rated_a;
        Ok(Pump {
            free_flow_m3_s: m3_s_from_l_h(flow_l_h) * share.flow,
            shut_off_m: head_m * share.head,
            rated_v,
            rated_a,
            winding_ohm,
            back_emf_v: rated_v - brush_v - rated_a * winding_ohm,
            brush_v,
            electronics: label.electronics,
        })
    }

    /// Head, m, at speed `n` and flow: `h0 [n^2 - 0.75 n x - 0.25 x^2]`, `x = Q/q0`; negative past free flow.
    pub fn head_m(&self, speed: f64, flow_m3_s: f64) -> f64 {
        let x = flow_m3_s / self.free_flow_m3_s;
        self.shut_off_m * (speed * speed - HEAD_LINEAR * speed * x - HEAD_SQUARE * x * x)
    }

    /// Speed that gives a flow at a head: the positive root of [`Self::head_m`] in `n`.
    pub fn speed_for(&self, flow_m3_s: f64, head_m: f64) -> f64 {
        let x = flow_m3_s / self.free_flow_m3_s;
        let linear = HEAD_LINEAR * x;
        let rest = HEAD_SQUARE * x * x + head_m / self.shut_off_m;
        0.5 * (linear + (linear * linear + 4.0 * rest).sqrt())
    }

    /// Current, A: `Ir [0.08 + 0.92 (0.45 n^2 + 0.55 n Q/q0)]`.
    pub fn current_a(&self, speed: f64, flow_m3_s: f64) -> f64 {
        let x = flow_m3_s / self.free_flow_m3_s;
        self.rated_a * (CURRENT_FRICTION + CURRENT_LOAD * (CURRENT_SPEED * speed * speed + CURRENT_FLOW * speed * x))
    }

    /// Terminal voltage, V: brush drop + winding + back-EMF (permanent-magnet motor).
    pub fn voltage_v(&self, speed: f64, current_a: f64) -> f64 {
        self.brush_v + current_a * self.winding_ohm + self.back_emf_v * speed
    }

    /// Voltage above which the brushes wear quickly; none for pumps without brushes.
    pub fn over_drive_v(&self) -> Option<f64> {
        (!self.electronics).then_some(OVER_DRIVE * self.rated_v)
    }
}

/// Greatest hydraulic power along a label's curve at label speed, W: `rho g Q H` where `d/dx x(1 - 0.75x - 0.25x^2) = 0`.
fn greatest_hydraulic_w(free_flow_m3_s: f64, shut_off_m: f64) -> f64 {
    let x = (-2.0 * HEAD_LINEAR + (4.0 * HEAD_LINEAR * HEAD_LINEAR + 12.0 * HEAD_SQUARE).sqrt()) / (6.0 * HEAD_SQUARE);
    let head = shut_off_m * (1.0 - HEAD_LINEAR * x - HEAD_SQUARE * x * x);
    WATER_KG_M3 * GRAVITY_M_S2 * free_flow_m3_s * x * head
}
