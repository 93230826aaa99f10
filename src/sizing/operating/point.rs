//! The light that holds a running point, and from it the meeting point, quickly.
//!
//! Pump and pipe do not depend on the sun: for each flow the speed, the current and the voltage follow in closed form. In
//! the single-diode equation with De Soto's scaling light current and shunt conductance are proportional to irradiance, so
//! the irradiance that holds a running point at a cell temperature is explicit too:
//! `S = [I + I0 expm1((V + I Rs)/a)] / [IL - (V + I Rs)/Rsh]`. The meeting point is the inverse of that rising function: one
//! root instead of a root of roots. `plain` stays beside it as the obvious way, and the tests hold the two together.

use super::roots::{rising_root, root_near};
use crate::sizing::error::{SizingError, within};
use crate::sizing::light::sky::Light;
use crate::sizing::parts::circuit::{Circuit, MPPT_EFFICIENCY, OperatingPoint, SOILING_DERATE};
use crate::sizing::parts::panel::Diode;

/// Convergence in the share of the greatest flow, or of the starting speed.
const TOLERANCE: f64 = 1e-10;

/// Logarithm beyond which more is all the same.
const MOST_OVER: f64 = 30.0;

/// Share of the label's flow below which a flow tells nothing of one nearby.
const NEAR_SHARE: f64 = 1e-3;

/// Excess, as a logarithm, that is just beyond.
const JUST_BEYOND: (f64, f64) = (0.05, 0.35);

/// Suns of full light.
const FULL_LIGHT_W_M2: f64 = 1000.0;

/// Light on the panels, W/m², whose cells get one sun through dust and age.
pub const ONE_SUN_POA_W_M2: f64 = FULL_LIGHT_W_M2 / SOILING_DERATE;

/// Suns that hold a running point of a pump without electronics; beyond every light where the array cannot.
///
/// `diode` is the panel at the cell temperature in full light.
pub(super) fn suns_holding(circuit: &Circuit, diode: &Diode, running: &OperatingPoint) -> f64 {
    let current_a = running.pump_a / circuit.parallel;
    let junction_v = circuit.array_v(running) / circuit.series + current_a * diode.series_ohm;
    let lost_a = diode.saturation_a * (junction_v / diode.ideality_v).exp_m1();
    let per_sun_a = diode.light_a - junction_v / diode.shunt_ohm;
    if per_sun_a > 0.0 { (current_a + lost_a) / per_sun_a } else { f64::INFINITY }
}

/// Power that one panel must be able to give for a running point of a pump with electronics, W.
pub(super) fn panel_power_holding(circuit: &Circuit, running: &OperatingPoint) -> f64 {
    circuit.array_v(running) * running.pump_a / (MPPT_EFFICIENCY * circuit.series * circuit.parallel)
}

/// The running point in a light (0..1600 W/m² on the panels before dust, cells -40..120 degC).
///
/// Without electronics array and motor share one voltage and one current; with electronics the pump takes the greatest speed
/// up to the label's that 0.95 of the array's greatest power allows, and the array's voltage there: it does not raise it. Below the speed that reaches the outlet the flow is zero and
/// the motor still turns; at rest where the light does not turn it.
pub fn operating_point(circuit: &Circuit, light: Light) -> Result<OperatingPoint, SizingError> {
    within("poa_w_m2", light.poa_w_m2, 0.0, 1600.0)?;
    within("cell_c", light.cell_c, -40.0, 120.0)?;
    let array = Array::new(circuit, light);
    let fastest = array.fastest(circuit);
    Ok(fastest_below(circuit, fastest, |running| array.excess(circuit, running)))
}

/// The same, sooner, where a flow is known that is not far off. With none, or where it leads astray, just [`operating_point`].
pub fn operating_point_near(circuit: &Circuit, light: Light, near_m3_s: f64) -> Result<OperatingPoint, SizingError> {
    within("poa_w_m2", light.poa_w_m2, 0.0, 1600.0)?;
    within("cell_c", light.cell_c, -40.0, 120.0)?;
    if near_m3_s > NEAR_SHARE * circuit.pump.free_flow_m3_s {
        let array = Array::new(circuit, light);
        let excess = |flow: f64| {
            let running = circuit.at_flow(flow);
            let excess = array.excess(circuit, &running);
            if circuit.pump.electronics { excess.max((running.speed / array.fastest(circuit)).ln()) } else { excess }
        };
        if let Some(flow) = root_near(near_m3_s, TOLERANCE * circuit.pump.free_flow_m3_s, excess)
            && flow < circuit.greatest_flow_m3_s()
        {
            return Ok(circuit.at_flow(flow));
        }
    }
    operating_point(circuit, light)
}

/// A flow that takes more light than `light`, but not half as much again; none where that light lifts nothing. As much as
/// pumps with electronics ever give, where the light is enough for it.
pub(super) fn flow_just_beyond(circuit: &Circuit, light: Light) -> Option<f64> {
    let array = Array::new(circuit, light);
    let fastest = array.fastest(circuit);
    let start = circuit.starting_speed();
    let greatest_m3_s = circuit.greatest_flow_m3_s();
    let is_at_rest = start >= fastest || greatest_m3_s <= 0.0;
    if is_at_rest || array.excess(circuit, &circuit.without_flow(start)) >= 0.0 {
        return None;
    }
    let beyond = |excess: f64| if (JUST_BEYOND.0..JUST_BEYOND.1).contains(&excess) { 0.0 } else { excess - JUST_BEYOND.0 };
    let free_m3_s = (fastest * circuit.pump.free_flow_m3_s).min(greatest_m3_s);
    let flow = rising_root(0.0, free_m3_s, TOLERANCE * circuit.pump.free_flow_m3_s, |flow| {
        beyond(array.excess(circuit, &circuit.at_flow(flow)))
    });
    Some(if circuit.pump.electronics { flow.min(flow_at_speed(circuit, 1.0)) } else { flow })
}

/// The array in one light: what it can give, against what a running point asks for.
enum Array {
    /// Without electronics: the panel's curve in full light, and how many suns there are.
    Direct { diode: Diode, suns: f64 },
    /// With electronics: the greatest power of a panel, and the speed that its voltage there allows.
    Tracked { power_w: f64, fastest: f64 },
}

impl Array {
    fn new(circuit: &Circuit, light: Light) -> Self {
        let diode = circuit.panel.at_temperature(light.cell_c);
        let suns = light.poa_w_m2 / ONE_SUN_POA_W_M2;
        if circuit.pump.electronics {
            let (power_w, junction_v) = greatest_power(&diode, suns, starting_junction_v(&diode));
            let panel_v = working_v(&diode, suns, junction_v);
            Array::Tracked { power_w, fastest: (panel_v * circuit.series / circuit.pump.rated_v).clamp(0.0, 1.0) }
        } else {
            Array::Direct { diode, suns }
        }
    }

    /// A speed that is not passed.
    fn fastest(&self, circuit: &Circuit) -> f64 {
        match self {
            Array::Direct { diode, suns } => greatest_speed(circuit, diode, suns.max(1.0)),
            Array::Tracked { fastest, .. } => *fastest,
        }
    }

    /// What is asked over what is there, as a logarithm.
    fn excess(&self, circuit: &Circuit, running: &OperatingPoint) -> f64 {
        match self {
            Array::Direct { diode, suns } => over(suns_holding(circuit, diode, running), *suns),
            Array::Tracked { power_w, .. } => over(panel_power_holding(circuit, running), *power_w),
        }
    }
}

/// The speed whose back-EMF alone is the array's open-circuit voltage in so many suns: faster than every meeting.
pub(super) fn greatest_speed(circuit: &Circuit, diode: &Diode, suns: f64) -> f64 {
    let open_v = Diode { light_a: diode.light_a * suns, ..*diode }.open_circuit_v();
    ((open_v * circuit.series - circuit.pump.brush_v) / circuit.pump.back_emf_v).max(0.0)
}

/// The flow at a speed, m³/s: the root in flow of the speed that pump and pipe ask for.
pub(super) fn flow_at_speed(circuit: &Circuit, speed: f64) -> f64 {
    let free_m3_s = (speed * circuit.pump.free_flow_m3_s).min(circuit.greatest_flow_m3_s());
    rising_root(0.0, free_m3_s, TOLERANCE * circuit.pump.free_flow_m3_s, |flow| {
        circuit.pump.speed_for(flow, circuit.system_head_m(flow)) - speed
    })
}

/// How much more is asked than is there, as a logarithm: what is asked grows exponentially near open circuit, and a root
/// finder likes straight lines. Held to what it can count with.
fn over(asked: f64, there: f64) -> f64 {
    (asked / there).ln().clamp(-MOST_OVER, MOST_OVER)
}

/// The running point of the greatest speed, up to `fastest`, at which `excess` (what is asked over what is there, rising with
/// speed) is not above zero.
fn fastest_below(circuit: &Circuit, fastest: f64, excess: impl Fn(&OperatingPoint) -> f64) -> OperatingPoint {
    let greatest_m3_s = circuit.greatest_flow_m3_s();
    let start = if greatest_m3_s > 0.0 { circuit.starting_speed() } else { fastest };
    if start >= fastest || excess(&circuit.without_flow(start)) > 0.0 {
        let speed = rising_root(0.0, start.min(fastest), TOLERANCE, |speed| excess(&circuit.without_flow(speed)));
        return circuit.without_flow(speed);
    }
    let tolerance = TOLERANCE * circuit.pump.free_flow_m3_s;
    // No head is left at speed times q0, so every flow lies below. Faster than `fastest` counts as asking too much.
    let free_m3_s = (fastest * circuit.pump.free_flow_m3_s).min(greatest_m3_s);
    let flow = rising_root(0.0, free_m3_s, tolerance, |flow| {
        let running = circuit.at_flow(flow);
        excess(&running).max((running.speed / fastest).ln())
    });
    circuit.at_flow(flow)
}

/// Terminal voltage of a panel, V, in so many suns at a junction voltage.
pub(super) fn working_v(diode: &Diode, suns: f64, junction_v: f64) -> f64 {
    let lost_a = diode.saturation_a * (junction_v / diode.ideality_v).exp_m1();
    let current_a = suns * (diode.light_a - junction_v / diode.shunt_ohm) - lost_a;
    junction_v - current_a * diode.series_ohm
}

/// Where to begin the search for a panel's greatest power: well below its open-circuit voltage.
pub(super) fn starting_junction_v(diode: &Diode) -> f64 {
    0.8 * diode.ideality_v * (diode.light_a / diode.saturation_a).ln()
}

/// Greatest power, W, in so many suns, and the junction voltage at which it is given.
///
/// With the junction voltage `x` as the variable current is explicit, `I(x) = S IL - I0 expm1(x/a) - S x/Rsh`, and so is power
/// `(x - I Rs) I`: Newton on its derivative, kept within one `a` a step.
pub(super) fn greatest_power(diode: &Diode, suns: f64, start_v: f64) -> (f64, f64) {
    let shunt_s = suns / diode.shunt_ohm;
    let mut x = start_v;
    let mut power = 0.0;
    for _ in 0..60 {
        let grown = diode.saturation_a * (x / diode.ideality_v).exp();
        let current = suns * diode.light_a - (grown - diode.saturation_a) - shunt_s * x;
        let slope = -grown / diode.ideality_v - shunt_s;
        let bend = -grown / (diode.ideality_v * diode.ideality_v);
        power = (x - current * diode.series_ohm) * current;
        let first = current + (x - 2.0 * current * diode.series_ohm) * slope;
        let second = 2.0 * slope - 2.0 * diode.series_ohm * slope * slope + (x - 2.0 * current * diode.series_ohm) * bend;
        let step = (first / second).clamp(-diode.ideality_v, diode.ideality_v);
        x -= step;
        if step.abs() < 1e-9 * x.abs() {
            break;
        }
    }
    (power.max(0.0), x)
}
