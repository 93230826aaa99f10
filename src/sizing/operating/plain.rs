//! Where panels and pump meet, found the plain way: a bracket and a bisection, nothing tabulated.
//!
//! Slow, and obviously right: the reference that `holding` and `flow_table` are held against.

use crate::sizing::error::SizingError;
use crate::sizing::parts::circuit::{Circuit, MPPT_EFFICIENCY, OperatingPoint, SOILING_DERATE};

/// Convergence in speed.
const SPEED_TOLERANCE: f64 = 1e-10;

/// The running point in a light on the panels (`poa_w_m2`, 0..1600, before dust) at a cell temperature (-40..120 degC).
///
/// Without electronics the array and the motor share one voltage and one current (less the cable's drop): the root in
/// speed of `I_array(V_pump + I_pump R) = I_pump`, falling in speed. With electronics: the greatest speed up to the
/// label's whose electrical power, cable included, is at most 0.95 of the array's greatest, and which the array's voltage there
/// reaches.
/// At rest where the light does not suffice to turn the motor.
pub fn operating_point_plainly(circuit: &Circuit, poa_w_m2: f64, cell_c: f64) -> Result<OperatingPoint, SizingError> {
    let diode = circuit.panel.at(poa_w_m2 * SOILING_DERATE, cell_c)?;
    if circuit.pump.electronics {
        let peak = diode.greatest_power();
        let available_w = MPPT_EFFICIENCY * peak.power_w * circuit.series * circuit.parallel;
        let fastest = (peak.voltage_v * circuit.series / circuit.pump.rated_v).min(1.0);
        let spare = |running: &OperatingPoint| available_w - circuit.array_v(running) * running.pump_a;
        return Ok(greatest_speed(circuit, fastest, spare));
    }
    let open_v = diode.open_circuit_v() * circuit.series;
    // Back-EMF alone reaches the open-circuit voltage here, where the array gives no current: beyond every root.
    let fastest = ((open_v - circuit.pump.brush_v) / circuit.pump.back_emf_v).max(0.0);
    let spare = |running: &OperatingPoint| {
        diode.current_a(circuit.array_v(running) / circuit.series) * circuit.parallel - running.pump_a
    };
    Ok(greatest_speed(circuit, fastest, spare))
}

/// The greatest speed up to `fastest` at which something is still to spare; `spare` falls as speed rises.
fn greatest_speed(circuit: &Circuit, fastest: f64, spare: impl Fn(&OperatingPoint) -> f64) -> OperatingPoint {
    let at_fastest = at_speed(circuit, fastest);
    if spare(&at_fastest) >= 0.0 {
        return at_fastest;
    }
    let (mut low, mut high) = (0.0, fastest);
    while high - low > SPEED_TOLERANCE {
        let middle = 0.5 * (low + high);
        if spare(&at_speed(circuit, middle)) >= 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    at_speed(circuit, low)
}

/// Pump and pipe at a speed: the flow at which the pump's falling head meets the pipe's rising one, by bisection; none below
/// the speed that reaches the outlet.
fn at_speed(circuit: &Circuit, speed: f64) -> OperatingPoint {
    let greatest_m3_s = circuit.greatest_flow_m3_s();
    if circuit.pump.head_m(speed, 0.0) <= circuit.static_head_m || greatest_m3_s <= 0.0 {
        return circuit.running(speed, 0.0);
    }
    // At speed times q0 the pump gives no head at all, so the meeting lies below.
    let (mut low, mut high) = (0.0, (speed * circuit.pump.free_flow_m3_s).min(greatest_m3_s));
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if circuit.pump.head_m(speed, middle) > circuit.system_head_m(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    circuit.running(speed, 0.5 * (low + high))
}
