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

/// Volts lost over a pair of brushes.
const BRUSH_DROP_V: f64 = 1.0;

/// Share of the rated voltage lost over the winding at the rated current.
const WINDING_SHARE: f64 = 0.12;

/// Overall efficiency at the best point, from which an unprinted current follows: small pumps are poor (fitted to common
/// labels; memory). `min(0.45, 0.42 (P/92 W)^0.40)` of the greatest hydraulic power.
const EFFICIENCY_MOST: f64 = 0.45;
const EFFICIENCY_AT_92_W: f64 = 0.42;
const EFFICIENCY_POWER_W: f64 = 92.0;
const EFFICIENCY_EXPONENT: f64 = 0.40;

/// Displacement pumps: slip at the greatest head, share of the current that does not go with head, and the efficiency from
/// which an unprinted current follows (memory).
const DISPLACEMENT_SLIP: f64 = 0.10;
const DISPLACEMENT_FRICTION: f64 = 0.15;
const DISPLACEMENT_LOAD: f64 = 0.85;
const DISPLACEMENT_EFFICIENCY: f64 = 0.40;

/// Volts from which a pump is a mains pump, or an electrician's work.
pub const MAINS_FROM_V: f64 = 100.0;

/// Over this multiple of its rated voltage a brushed motor does not last.
pub const UNFIT_DRIVE: f64 = 1.5;

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
    /// The pump pushes a fixed volume a turn: a diaphragm, a piston, a screw.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub displacement: bool,
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
    pub displacement: bool,
    /// Share of the head curve that is linear in flow; the rest goes with its square.
    pub head_linear: f64,
    /// Share of the load current that goes with speed squared; the rest with speed and flow.
    pub current_speed: f64,
}

impl Pump {
    /// From a label and the share of it that is believed.
    ///
    /// Ranges: 6..100 V, 100..200000 l/h, 0.5..300 m, 0.1..200 A, shares 0.1..2. `Vr = label 13.6/12` for brushed pumps, `R =
    /// 0.12 Vr/Ir`, `e = Vr - brush - Ir R`. Amps not printed: `Ir = Phyd,max/(eff Vr)` of the label's own curve, and of a
    /// displacement pump `rho g 0.9 q0 h0/(0.40 Vr)`.
    pub fn from_label(label: &PumpLabel, share: LabelShare) -> Result<Self, SizingError> {
        let label_v = within("pump_v", label.label_v, 6.0, 400.0)?;
        if label_v >= MAINS_FROM_V {
            return Err(SizingError::MainsPump);
        }
        let flow_l_h = within("pump_l_h", label.flow_l_h, 100.0, 200_000.0)?;
        let head_m = within("pump_head_m", label.head_m, 0.5, 300.0)?;
        within("label_share_flow", share.flow, 0.1, 2.0)?;
        within("label_share_head", share.head, 0.1, 2.0)?;
        let rated_v = if label.electronics { label_v } else { label_v * CHARGING_OVER_LABEL };
        let rated_a = match label.amps {
            Some(amps) => within("pump_a", amps, 0.1, 200.0)?,
            None => amps_when_not_printed(m3_s_from_l_h(flow_l_h), head_m, rated_v, label.displacement),
        };
        let brush_v = if label.electronics { 0.0 } else { BRUSH_DROP_V };
        let winding_ohm = WINDING_SHARE * rated_v / rated_a;
        Ok(Pump {
            free_flow_m3_s: m3_s_from_l_h(flow_l_h) * share.flow,
            // A displacement pump's greatest head is its valve's or its housing's, not its curve's.
            shut_off_m: if label.displacement { head_m } else { head_m * share.head },
            rated_v,
            rated_a,
            winding_ohm,
            back_emf_v: rated_v - brush_v - rated_a * winding_ohm,
            brush_v,
            electronics: label.electronics,
            displacement: label.displacement,
            head_linear: HEAD_LINEAR,
            current_speed: CURRENT_SPEED,
        })
    }

    /// The same with another rated current, A: winding and back-EMF follow it.
    pub fn with_rated_a(self, rated_a: f64) -> Pump {
        let winding_ohm = WINDING_SHARE * self.rated_v / rated_a;
        Pump { rated_a, winding_ohm, back_emf_v: self.rated_v - self.brush_v - rated_a * winding_ohm, ..self }
    }

    /// Head, m, at speed `n` and flow: `h0 [n^2 - 0.75 n x - 0.25 x^2]`, `x = Q/q0`; negative past free flow. Of a
    /// displacement pump the head at which it gives that flow at that speed: `h0 (1 - x/n)/0.10`.
    pub fn head_m(&self, speed: f64, flow_m3_s: f64) -> f64 {
        let x = flow_m3_s / self.free_flow_m3_s;
        if self.displacement {
            return self.shut_off_m * (1.0 - x / speed.max(f64::MIN_POSITIVE)) / DISPLACEMENT_SLIP;
        }
        self.shut_off_m * (speed * speed - self.head_linear * speed * x - (1.0 - self.head_linear) * x * x)
    }

    /// Speed that gives a flow at a head: the positive root of [`Self::head_m`] in `n`; of a displacement pump
    /// `x/(1 - 0.10 H/h0)`.
    pub fn speed_for(&self, flow_m3_s: f64, head_m: f64) -> f64 {
        let x = flow_m3_s / self.free_flow_m3_s;
        if self.displacement {
            return x / (1.0 - DISPLACEMENT_SLIP * (head_m / self.shut_off_m).min(1.0));
        }
        let linear = self.head_linear * x;
        let rest = (1.0 - self.head_linear) * x * x + head_m / self.shut_off_m;
        0.5 * (linear + (linear * linear + 4.0 * rest).sqrt())
    }

    /// Current, A: `Ir [0.08 + 0.92 (0.45 n^2 + 0.55 n Q/q0)]`; of a displacement pump `Ir (0.15 + 0.85 H/h0)` at whatever speed.
    pub fn current_a(&self, speed: f64, flow_m3_s: f64, head_m: f64) -> f64 {
        if self.displacement {
            let load = DISPLACEMENT_LOAD * (head_m / self.shut_off_m).min(1.0);
            return self.rated_a * (DISPLACEMENT_FRICTION + load);
        }
        let x = flow_m3_s / self.free_flow_m3_s;
        let load = self.current_speed * speed * speed + (1.0 - self.current_speed) * speed * x;
        self.rated_a * (CURRENT_FRICTION + CURRENT_LOAD * load)
    }

    /// Terminal voltage, V: brush drop + winding + back-EMF (permanent-magnet motor).
    pub fn voltage_v(&self, speed: f64, current_a: f64) -> f64 {
        self.brush_v + current_a * self.winding_ohm + self.back_emf_v * speed
    }

    /// Voltage above which a motor with brushes does not last; none for pumps without.
    pub fn unfit_v(&self) -> Option<f64> {
        (!self.electronics).then_some(UNFIT_DRIVE * self.rated_v)
    }

    /// Voltage above which the brushes wear quickly; none for pumps without brushes.
    pub fn over_drive_v(&self) -> Option<f64> {
        (!self.electronics).then_some(OVER_DRIVE * self.rated_v)
    }
}

/// Current of a label that prints none, A; see [`Pump::from_label`].
fn amps_when_not_printed(free_flow_m3_s: f64, shut_off_m: f64, rated_v: f64, displacement: bool) -> f64 {
    if displacement {
        let hydraulic_w = WATER_KG_M3 * GRAVITY_M_S2 * (1.0 - DISPLACEMENT_SLIP) * free_flow_m3_s * shut_off_m;
        return hydraulic_w / (DISPLACEMENT_EFFICIENCY * rated_v);
    }
    let hydraulic_w = greatest_hydraulic_w(free_flow_m3_s, shut_off_m);
    let grown = (hydraulic_w / EFFICIENCY_POWER_W).powf(EFFICIENCY_EXPONENT);
    hydraulic_w / ((EFFICIENCY_AT_92_W * grown).min(EFFICIENCY_MOST) * rated_v)
}

/// Greatest hydraulic power along a label's curve at label speed, W: `rho g Q H` where `d/dx x(1 - 0.75x - 0.25x^2) = 0`.
fn greatest_hydraulic_w(free_flow_m3_s: f64, shut_off_m: f64) -> f64 {
    let x = (-2.0 * HEAD_LINEAR + (4.0 * HEAD_LINEAR * HEAD_LINEAR + 12.0 * HEAD_SQUARE).sqrt()) / (6.0 * HEAD_SQUARE);
    let head = shut_off_m * (1.0 - HEAD_LINEAR * x - HEAD_SQUARE * x * x);
    WATER_KG_M3 * GRAVITY_M_S2 * free_flow_m3_s * x * head
}
