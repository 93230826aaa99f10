//! The light that holds a row of running points, cell temperature after cell temperature.
//!
//! Temperatures stand evenly in `1/T`. The diode's ideality voltage goes with T, so from one to the next every exponential of
//! the diode equation changes by a factor of its own, and none is taken anew.

use super::point::panel_power_holding;
use crate::sizing::parts::circuit::{Circuit, OperatingPoint};
use crate::sizing::parts::panel::Diode;
use crate::units::ZERO_CELSIUS_K;

/// OperatingPoint points in a row.
pub(super) const NODES: usize = 48;

/// Junction voltages at which the greatest power is laid out for pumps with electronics, so many ideality voltages apart,
/// downward from where the array gets about two suns. Each gets two thirds of the light of the one above.
const PEAKS: usize = 24;
const PEAK_STEP: f64 = 0.4;
const PEAKS_FROM_SUNS: f64 = 2.2;

/// Logarithm by which the diode's share of the current lies below the light current at the greatest power, about.
const PEAK_BELOW_OPEN: f64 = 2.5;

/// Cell temperatures evenly apart in `1/T`, coldest first.
#[derive(Debug, Clone, Copy)]
pub(super) struct Temperatures {
    per_coldest: f64,
    per_k_step: f64,
    steps_k: f64,
    pub count: usize,
}

impl Temperatures {
    /// From `coldest_c` to `hottest_c`, no further apart than `apart_k` on the mean; two at least.
    pub fn new(coldest_c: f64, hottest_c: f64, apart_k: f64) -> Self {
        let hottest_c = hottest_c.max(coldest_c + 1.0);
        let steps = ((hottest_c - coldest_c) / apart_k).ceil();
        let per_coldest = 1.0 / (coldest_c + ZERO_CELSIUS_K);
        let per_hottest = 1.0 / (hottest_c + ZERO_CELSIUS_K);
        let per_k_step = (per_coldest - per_hottest) / steps;
        Temperatures { per_coldest, per_k_step, steps_k: 1.0 / per_k_step, count: steps as usize + 1 }
    }

    /// Where a cell temperature stands among them, in steps from the coldest; beyond an end, the end.
    #[inline]
    pub fn position(&self, cell_c: f64) -> f64 {
        ((self.per_coldest - 1.0 / (cell_c + ZERO_CELSIUS_K)) * self.steps_k).clamp(0.0, (self.count - 1) as f64)
    }

    /// The cell temperature, degC, at a position.
    pub fn at(&self, position: f64) -> f64 {
        1.0 / (self.per_coldest - position * self.per_k_step) - ZERO_CELSIUS_K
    }
}

/// Suns that hold each running point of a circuit: one row for each cell temperature.
pub(super) fn suns_rows(
    circuit: &Circuit,
    nodes: &[OperatingPoint; NODES],
    temperatures: &Temperatures,
) -> Vec<[f64; NODES]> {
    if circuit.pump.electronics {
        power_rows(circuit, nodes, temperatures)
    } else {
        direct_rows(circuit, nodes, temperatures)
    }
}

/// Suns that hold the first running point, at positions `per_step` to a step between the temperatures; `rows` are those of
/// [`suns_rows`]. Near open circuit light grows by a twelfth a kelvin, too bent for a straight line between rows; power is not.
pub(super) fn threshold_suns(
    circuit: &Circuit,
    first: &OperatingPoint,
    temperatures: &Temperatures,
    rows: &[[f64; NODES]],
    per_step: usize,
) -> Vec<f64> {
    let fine = 0..=(temperatures.count - 1) * per_step;
    if circuit.pump.electronics {
        return fine
            .map(|fine| {
                let row = (fine / per_step).min(temperatures.count - 2);
                let share = (fine - row * per_step) as f64 / per_step as f64;
                let (cool, warm) = (1.0 / rows[row][0], 1.0 / rows[row + 1][0]);
                1.0 / (cool + (warm - cool) * share)
            })
            .collect();
    }
    let (cold, next) =
        (circuit.panel.at_temperature(temperatures.at(0.0)), circuit.panel.at_temperature(temperatures.at(1.0)));
    let kelvin = |position: f64| temperatures.at(position) + ZERO_CELSIUS_K;
    let (cold_k, next_k) = (kelvin(0.0), kelvin(1.0));
    let current_a = first.pump_a / circuit.parallel;
    let junction_v = junction_v(circuit, &cold, first);
    let shunt_a = junction_v / cold.shunt_ohm;
    // The band gap is linear in T, so saturation current over T cubed and the diode's exponential both go as an exponential of
    // 1/T: either follows from two of its values (De Soto 2006 eqs. 8-11).
    let cube = |kelvin: f64| kelvin * kelvin * kelvin;
    let mut saturation_a = cold.saturation_a / cube(cold_k);
    let mut grown_a = saturation_a * (junction_v / cold.ideality_v).exp();
    let next_a = next.saturation_a / cube(next_k);
    let next_grown_a = next_a * (junction_v / next.ideality_v).exp();
    let factors = [next_a / saturation_a, next_grown_a / grown_a].map(|factor| factor.powf(1.0 / per_step as f64));
    let light_a_per_k = (next.light_a - cold.light_a) / (next_k - cold_k);
    fine.map(|fine| {
        let kelvin = kelvin(fine as f64 / per_step as f64);
        let lost_a = (grown_a - saturation_a) * cube(kelvin);
        saturation_a *= factors[0];
        grown_a *= factors[1];
        (current_a + lost_a) / (cold.light_a + light_a_per_k * (kelvin - cold_k) - shunt_a)
    })
    .collect()
}

/// Junction voltage of a panel that a running point asks for, V; a panel's series resistance does not go with temperature.
fn junction_v(circuit: &Circuit, diode: &Diode, running: &OperatingPoint) -> f64 {
    circuit.array_v(running) / circuit.series + running.pump_a / circuit.parallel * diode.series_ohm
}

/// `S = [I + I0 (exp(V/a) - 1)] / [IL - V/Rsh]`, see `holding`; only `I0`, `IL` and `a` change with temperature.
fn direct_rows(circuit: &Circuit, nodes: &[OperatingPoint; NODES], temperatures: &Temperatures) -> Vec<[f64; NODES]> {
    let coldest = circuit.panel.at_temperature(temperatures.at(0.0));
    let next = circuit.panel.at_temperature(temperatures.at(1.0));
    let current_a = nodes.map(|node| node.pump_a / circuit.parallel);
    let mut grown = [0.0; NODES];
    let mut factor = [0.0; NODES];
    let mut junction = [0.0; NODES];
    for node in 0..NODES {
        let junction_v = junction_v(circuit, &coldest, &nodes[node]);
        grown[node] = (junction_v / coldest.ideality_v).exp();
        factor[node] = (junction_v * (1.0 / next.ideality_v - 1.0 / coldest.ideality_v)).exp();
        junction[node] = junction_v;
    }
    let shunt_a = junction.map(|junction_v| junction_v / coldest.shunt_ohm);
    (0..temperatures.count)
        .map(|row| {
            let diode = circuit.panel.at_temperature(temperatures.at(row as f64));
            let mut suns = [0.0; NODES];
            for node in 0..NODES {
                let lost_a = diode.saturation_a * (grown[node] - 1.0);
                suns[node] = (current_a[node] + lost_a) / (diode.light_a - shunt_a[node]);
                grown[node] *= factor[node];
            }
            suns
        })
        .collect()
}

/// The light whose greatest power is what each running point asks for: between two peaks a cubic with their slopes.
fn power_rows(circuit: &Circuit, nodes: &[OperatingPoint; NODES], temperatures: &Temperatures) -> Vec<[f64; NODES]> {
    let power_w = nodes.map(|node| panel_power_holding(circuit, &node));
    (0..temperatures.count)
        .map(|row| {
            let peaks = peaks(&circuit.panel.at_temperature(temperatures.at(row as f64)));
            let mut above = PEAKS - 2;
            power_w.map(|power_w| {
                while above > 0 && peaks[above].power_w < power_w {
                    above -= 1;
                }
                let (bright, dim) = (peaks[above], peaks[above + 1]);
                let width_w = bright.power_w - dim.power_w;
                let run_w = power_w - dim.power_w;
                if run_w < 0.0 {
                    return power_w * dim.suns / dim.power_w;
                }
                if run_w > width_w {
                    return bright.suns + (run_w - width_w) * bright.suns_per_w;
                }
                let chord = (bright.suns - dim.suns) / width_w;
                let bend = (3.0 * chord - 2.0 * dim.suns_per_w - bright.suns_per_w) / width_w;
                let twist = (dim.suns_per_w + bright.suns_per_w - 2.0 * chord) / (width_w * width_w);
                dim.suns + run_w * (dim.suns_per_w + run_w * (bend + run_w * twist))
            })
        })
        .collect()
}

/// The greatest power of one panel in some light, and how light goes with it there.
#[derive(Debug, Clone, Copy)]
struct Peak {
    suns: f64,
    power_w: f64,
    suns_per_w: f64,
}

/// Greatest powers from bright to dim.
///
/// At a junction voltage `x` power `P = (x - I Rs) I`, `I = S A - B`, `A = IL - x/Rsh`, `B = I0 expm1(x/a)`, is greatest where its
/// slope in `x` is nothing: `I - (x - 2 I Rs)(S/Rsh + B') = 0`, a quadratic equation in the suns `S`. Along the peaks
/// `dP/dS` is that at the same `x`, `(x - 2 I Rs) A`.
fn peaks(diode: &Diode) -> [Peak; PEAKS] {
    let highest = (PEAKS_FROM_SUNS * diode.light_a / diode.saturation_a).ln() - PEAK_BELOW_OPEN;
    let mut grown_a = diode.saturation_a * highest.exp();
    let shrink = (-PEAK_STEP).exp();
    let shunt_s = 1.0 / diode.shunt_ohm;
    std::array::from_fn(|index| {
        let x = (highest - index as f64 * PEAK_STEP) * diode.ideality_v;
        let (per_sun_a, lost_a) = (diode.light_a - x * shunt_s, grown_a - diode.saturation_a);
        let slope_s = grown_a / diode.ideality_v;
        grown_a *= shrink;
        let (fixed_v, per_sun_v) = (x + 2.0 * diode.series_ohm * lost_a, 2.0 * diode.series_ohm * per_sun_a);
        let square = per_sun_v * shunt_s;
        let linear = per_sun_a - fixed_v * shunt_s + per_sun_v * slope_s;
        let rest = lost_a + fixed_v * slope_s;
        let suns = 2.0 * rest / (linear + (linear * linear + 4.0 * square * rest).sqrt());
        let current_a = suns * per_sun_a - lost_a;
        let power_w = (x - current_a * diode.series_ohm) * current_a;
        Peak { suns, power_w, suns_per_w: 1.0 / ((x - 2.0 * current_a * diode.series_ohm) * per_sun_a) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sizing::operating::point::{greatest_power, starting_junction_v, suns_holding};
    use crate::sizing::parts::panel::Panel;
    use crate::sizing::parts::pipe::Pipe;
    use crate::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
    use crate::terms::PipeKind;

    fn circuit(electronics: bool, lift_m: f64) -> Circuit {
        let label =
            PumpLabel { label_v: 24.0, flow_l_h: 3000.0, head_m: 25.0, amps: Some(12.0), electronics, displacement: false };
        Circuit {
            panel: Panel::new(180.0, 36).expect("in range"),
            series: 2.0,
            parallel: 2.0,
            pump: Pump::from_label(&label, LabelShare::default()).expect("in range"),
            pipe: Pipe::new(60.0, 32.0, PipeKind::default()).expect("in range"),
            static_head_m: lift_m,
            cable_ohm: 0.1,
        }
    }

    fn nodes(circuit: &Circuit) -> [OperatingPoint; NODES] {
        std::array::from_fn(|node| circuit.at_flow(node as f64 / NODES as f64 * circuit.pump.free_flow_m3_s))
    }

    #[test]
    fn rows_without_exponentials_are_the_light_that_holds_each_point() {
        for lift_m in [0.0, 6.0, 18.0] {
            let circuit = circuit(false, lift_m);
            let temperatures = Temperatures::new(-20.0, 75.0, 2.5);
            let nodes = nodes(&circuit);
            let rows = suns_rows(&circuit, &nodes, &temperatures);
            for (row, suns) in rows.iter().enumerate() {
                let diode = circuit.panel.at_temperature(temperatures.at(row as f64));
                for (node, suns) in nodes.iter().zip(suns) {
                    let exact = suns_holding(&circuit, &diode, node);
                    assert!((suns / exact - 1.0).abs() < 1e-11, "{lift_m} m, row {row}: {suns} {exact}");
                }
            }
            let thresholds = threshold_suns(&circuit, &nodes[0], &temperatures, &rows, 6);
            assert_eq!(thresholds.len(), 6 * (temperatures.count - 1) + 1);
            for (fine, suns) in thresholds.iter().enumerate() {
                let diode = circuit.panel.at_temperature(temperatures.at(fine as f64 / 6.0));
                let exact = suns_holding(&circuit, &diode, &nodes[0]);
                assert!((suns / exact - 1.0).abs() < 1e-9, "{lift_m} m, threshold {fine}: {suns} {exact}");
            }
        }
    }

    #[test]
    fn power_rows_give_the_light_whose_greatest_power_it_is() {
        let circuit = circuit(true, 6.0);
        let temperatures = Temperatures::new(-20.0, 75.0, 2.5);
        let nodes = nodes(&circuit);
        for (row, suns) in suns_rows(&circuit, &nodes, &temperatures).iter().enumerate() {
            let diode = circuit.panel.at_temperature(temperatures.at(row as f64));
            for (node, &suns) in nodes.iter().zip(suns) {
                if suns < 1.6 {
                    let asked_w = panel_power_holding(&circuit, node);
                    let (there_w, _) = greatest_power(&diode, suns, starting_junction_v(&diode));
                    assert!((there_w / asked_w - 1.0).abs() < 3e-5, "row {row}: {there_w} {asked_w}");
                }
            }
        }
    }

    #[test]
    fn positions_and_temperatures_are_each_other_s_inverse() {
        let temperatures = Temperatures::new(-10.0, 62.0, 2.5);
        assert!((temperatures.at(0.0) + 10.0).abs() < 1e-9);
        assert!((temperatures.at((temperatures.count - 1) as f64) - 62.0).abs() < 1e-9);
        for cell_c in [-10.0, 0.0, 33.3, 61.0] {
            assert!((temperatures.at(temperatures.position(cell_c)) - cell_c).abs() < 1e-9);
        }
        assert_eq!(temperatures.position(-30.0), 0.0);
        assert_eq!(temperatures.position(99.0), (temperatures.count - 1) as f64);
    }
}
