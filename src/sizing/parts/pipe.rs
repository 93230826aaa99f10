//! Friction in the hose, and the head it asks of the pump.

use std::f64::consts::{LN_10, PI};

use crate::sizing::error::{SizingError, within};
use crate::terms::PipeKind;
use crate::units::GRAVITY_M_S2;

/// Water at 25 degC: density kg/m³ and dynamic viscosity Pa s (IAPWS-95 gives 997.05 and 0.8900e-3).
pub const WATER_KG_M3: f64 = 997.0;
const WATER_PA_S: f64 = 0.89e-3;

/// Reynolds numbers below which flow is laminar and above which it is turbulent.
const RE_LAMINAR: f64 = 2300.0;
const RE_TURBULENT: f64 = 4000.0;

/// Loss of a strainer, two bends and the like, in velocity heads (practice).
pub const MINOR_LOSS: f64 = 3.0;

/// Bores a shop has, mm, smallest first.
pub const BORES_MM: [f64; 8] = [19.0, 25.0, 32.0, 38.0, 50.0, 63.0, 75.0, 100.0];

impl PipeKind {
    /// Roughness of the wall, mm (memory).
    pub fn roughness_mm(self) -> f64 {
        match self {
            PipeKind::SmoothPlastic => 0.007,
            PipeKind::LayFlat => 0.1,
            PipeKind::Galvanised => 0.15,
        }
    }
}

/// A pipe with its fittings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pipe {
    pub length_m: f64,
    pub bore_m: f64,
    pub roughness_m: f64,
    pub minor_loss: f64,
}

impl Pipe {
    /// A channel so wide that nothing is lost in it.
    pub const WITHOUT_LOSS: Pipe = Pipe { length_m: 0.0, bore_m: 1000.0, roughness_m: 0.0, minor_loss: 0.0 };

    /// A pipe of `length_m` 0.5..5000 and `bore_mm` 5..500, with the usual fittings.
    pub fn new(length_m: f64, bore_mm: f64, kind: PipeKind) -> Result<Self, SizingError> {
        Ok(Pipe {
            length_m: within("pipe_m", length_m, 0.5, 5000.0)?,
            bore_m: within("bore_mm", bore_mm, 5.0, 500.0)? / 1000.0,
            roughness_m: kind.roughness_mm() / 1000.0,
            minor_loss: MINOR_LOSS,
        })
    }

    /// Head lost, m: `(f L/D + K + 1) v^2/2g`, friction, fittings and the velocity that leaves with the water.
    pub fn loss_m(&self, flow_m3_s: f64) -> f64 {
        let velocity = flow_m3_s / (PI / 4.0 * self.bore_m * self.bore_m);
        let re = WATER_KG_M3 * velocity * self.bore_m / WATER_PA_S;
        if re <= 0.0 {
            return 0.0;
        }
        let friction = darcy(re, self.roughness_m / self.bore_m) * self.length_m / self.bore_m;
        (friction + self.minor_loss + 1.0) * velocity * velocity / (2.0 * GRAVITY_M_S2)
    }
}

/// Darcy friction factor at a Reynolds number (1..1e8) and relative roughness (0..0.05).
///
/// `64/Re` below 2300; Colebrook (1939) above 4000, `1/sqrt f = -2 log10(e/3.7D + 2.51/(Re sqrt f))`; between the two a
/// straight line in Re from the one's value at 2300 to the other's at 4000.
pub fn friction_factor(re: f64, relative_roughness: f64) -> Result<f64, SizingError> {
    within("reynolds", re, 1.0, 1e8)?;
    within("relative_roughness", relative_roughness, 0.0, 0.05)?;
    Ok(darcy(re, relative_roughness))
}

fn darcy(re: f64, relative_roughness: f64) -> f64 {
    if re < RE_LAMINAR {
        return 64.0 / re;
    }
    if re >= RE_TURBULENT {
        return colebrook(re, relative_roughness);
    }
    let laminar = 64.0 / RE_LAMINAR;
    let turbulent = colebrook(RE_TURBULENT, relative_roughness);
    laminar + (turbulent - laminar) * (re - RE_LAMINAR) / (RE_TURBULENT - RE_LAMINAR)
}

/// Colebrook's equation by Clamond's iteration (2009, Ind. Eng. Chem. Res. 48:3665-3671), two rounds: fourth order from a start
/// that is near already, so to rounding over the whole range of [`friction_factor`].
///
/// With `F = ln(10)/2 / sqrt f` the equation reads `F + ln(X1 + F) = X2`, `X1 = (e/D) Re ln(10)/18.574`,
/// `X2 = ln(Re ln(10)/5.02)`.
fn colebrook(re: f64, relative_roughness: f64) -> f64 {
    let rough = relative_roughness * re * (LN_10 / 18.574);
    let wanted = (re * (LN_10 / 5.02)).ln();
    let mut x = wanted - 0.2;
    for _ in 0..2 {
        let sum = rough + x;
        let excess = (sum.ln() + x - wanted) / (1.0 + sum);
        x -= (1.0 + sum + 0.5 * excess) * excess * sum / (1.0 + sum + excess * (1.0 + excess / 3.0));
    }
    let half = 0.5 * LN_10 / x;
    half * half
}
