//! Shares of a pump's label that bring the model to measured flows, by least squares.

use crate::sizing::error::SizingError;
use crate::sizing::light::sky::Light;
use crate::sizing::operating::point::operating_point;
use crate::sizing::operating::roots::rising_root;
use crate::sizing::parts::circuit::Circuit;
use crate::sizing::parts::pump::{LABEL_SHARE, LabelShare, Pump, PumpLabel};

/// Convergence in the shares.
const TOLERANCE: f64 = 1e-7;

/// Steps after which the search for two shares gives what it has.
const MOST_STEPS: usize = 100;

/// Step, in the share, of the differences that stand for derivatives.
const DIFFERENCE: f64 = 1e-4;

/// A flow measured on a circuit in a light.
#[derive(Debug, Clone, Copy)]
pub struct Observed {
    pub circuit: Circuit,
    pub light: Light,
    pub flow_m3_s: f64,
}

impl Observed {
    /// The flow that the circuit gives with so much of the label, m³/s.
    pub fn predicted_m3_s(&self, label: &PumpLabel, share: LabelShare) -> Result<f64, SizingError> {
        let circuit = Circuit { pump: Pump::from_label(label, share)?, ..self.circuit };
        Ok(operating_point(&circuit, self.light)?.flow_m3_s)
    }

    /// What is missing to the measured flow, as a share of it.
    fn missing(&self, label: &PumpLabel, share: LabelShare) -> Result<f64, SizingError> {
        Ok(1.0 - self.predicted_m3_s(label, share)? / self.flow_m3_s)
    }
}

fn squares(observed: &[Observed], label: &PumpLabel, share: LabelShare) -> Result<f64, SizingError> {
    observed.iter().map(|one| Ok(one.missing(label, share)?.powi(2))).sum()
}

/// The share of the label's flow, head at its default, that fits the measured flows best; none where it lies outside
/// `believed`.
///
/// A larger share always lifts more, so one flow is met exactly, and the least squares of several lie between the shares
/// that meet each: golden section over that stretch.
pub fn fit_flow(observed: &[Observed], label: &PumpLabel, believed: (f64, f64)) -> Result<Option<LabelShare>, SizingError> {
    let with = |flow: f64| LabelShare { flow, head: LABEL_SHARE };
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for one in observed {
        let falls_short = |flow: f64| one.missing(label, with(flow));
        if falls_short(believed.0)? < 0.0 || falls_short(believed.1)? > 0.0 {
            return Ok(None);
        }
        // No share between two that were just tried is out of range.
        let met = rising_root(believed.0, believed.1, TOLERANCE, |flow| -falls_short(flow).unwrap_or(f64::NAN));
        (low, high) = (low.min(met), high.max(met));
    }
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    while high - low > TOLERANCE {
        let (left, right) = (high - golden * (high - low), low + golden * (high - low));
        if squares(observed, label, with(left))? < squares(observed, label, with(right))? {
            high = right;
        } else {
            low = left;
        }
    }
    let flow = 0.5 * (low + high);
    Ok(flow.is_finite().then(|| with(flow)))
}

/// The shares of flow and of head that fit best; none where one lies outside `believed`.
///
/// Levenberg-Marquardt on the relative errors (Marquardt 1963, SIAM J. 11:431), derivatives by differences: `(J'J + d diag
/// J'J) step = -J'r`.
pub fn fit_flow_and_head(
    observed: &[Observed],
    label: &PumpLabel,
    believed: (f64, f64),
) -> Result<Option<LabelShare>, SizingError> {
    // A little beyond what is believed, so that what lies outside shows as that.
    let (least, most) = (believed.0 / 2.0, believed.1 * 1.2);
    let mut share = LabelShare::default();
    let mut error = squares(observed, label, share)?;
    let mut damping = 1e-3;
    for _ in 0..MOST_STEPS {
        let mut normal = [[0.0; 2]; 2];
        let mut slope = [0.0; 2];
        for one in observed {
            let here = one.missing(label, share)?;
            let more_flow = one.missing(label, LabelShare { flow: share.flow + DIFFERENCE, ..share })?;
            let more_head = one.missing(label, LabelShare { head: share.head + DIFFERENCE, ..share })?;
            let row = [(more_flow - here) / DIFFERENCE, (more_head - here) / DIFFERENCE];
            for (i, ri) in row.iter().enumerate() {
                slope[i] -= ri * here;
                for (j, rj) in row.iter().enumerate() {
                    normal[i][j] += ri * rj;
                }
            }
        }
        let damped = |i: usize| normal[i][i] * (1.0 + damping);
        let determinant = damped(0) * damped(1) - normal[0][1] * normal[1][0];
        // Where neither share moves any flow there is nowhere to go.
        if determinant.is_nan() || determinant <= 0.0 {
            break;
        }
        let step = [
            (slope[0] * damped(1) - slope[1] * normal[0][1]) / determinant,
            (slope[1] * damped(0) - slope[0] * normal[1][0]) / determinant,
        ];
        let next =
            LabelShare { flow: (share.flow + step[0]).clamp(least, most), head: (share.head + step[1]).clamp(least, most) };
        let next_error = squares(observed, label, next)?;
        if next_error < error {
            let moved = (next.flow - share.flow).abs().max((next.head - share.head).abs());
            (share, error, damping) = (next, next_error, damping / 10.0);
            if moved < TOLERANCE {
                break;
            }
        } else {
            damping *= 10.0;
            if damping > 1e12 {
                break;
            }
        }
    }
    let is_believed = |value: f64| (believed.0..=believed.1).contains(&value);
    Ok((is_believed(share.flow) && is_believed(share.head)).then_some(share))
}
