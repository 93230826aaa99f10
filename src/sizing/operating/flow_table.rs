//! The running points of one circuit, tabulated: what the whole year is counted with.
//!
//! Pump and pipe are laid out once, from no flow upward; for a row of cell temperatures stands the light that holds each point
//! (see `holding_rows`). Each row is then turned round, into flow at even steps of the *root* of the light over the one that
//! starts the flow, less one: with much lift flow rises in proportion to what is over, with none as its root, and either is
//! smooth in the root. Near open circuit all light grows alike with temperature, so the ratio hardly does. A flow is read off by place, without a search, on straight lines in root and temperature.

use super::point::{ONE_SUN_POA_W_M2, flow_just_beyond, greatest_power, starting_junction_v, working_v};
use super::rows::{NODES, Temperatures, suns_rows, threshold_suns};
use super::year::Lifter;
use crate::sizing::error::{SizingError, within};
use crate::sizing::light::sky::{Light, STEPS as STEPS_A_DAY};
use crate::sizing::parts::circuit::{Circuit, OperatingPoint};
use crate::sizing::parts::panel::Diode;

/// Cell temperatures that a table may be asked for, degC.
const FROM_C: f64 = -40.0;
const TO_C: f64 = 110.0;

/// Kelvins between rows.
const ROWS_APART_K: f64 = 2.5;

/// Thresholds laid out to a row.
const THRESHOLDS: usize = 6;

/// Steps of a row.
const STEPS: usize = 96;

/// Light that the rows reach to, W/m².
const BRIGHTEST_W_M2: f64 = 1600.0;

/// A share of the pump's label flow that is no flow: points would lie too near each other to be told apart.
const NO_FLOW: f64 = 1e-6;

/// A circuit's flow against light.
#[derive(Debug, Clone)]
pub struct FlowTable {
    temperatures: Temperatures,
    /// One over the light that starts the flow, m²/W, at every place between the rows.
    per_threshold: Vec<f64>,
    least_threshold_w_m2: f64,
    steps_per_root: f64,
    /// Flow, m³/s, at every step of every row.
    rows: Vec<[f64; STEPS + 1]>,
    /// What pumps with electronics do not pass.
    most_m3_s: f64,
}

impl FlowTable {
    /// Lays out a circuit for cell temperatures from `coldest_c` to `hottest_c`, within -40..110 degC.
    pub fn new(circuit: &Circuit, coldest_c: f64, hottest_c: f64) -> Result<Self, SizingError> {
        within("cell_c", coldest_c, FROM_C, TO_C)?;
        within("cell_c", hottest_c, coldest_c, TO_C)?;
        let temperatures = Temperatures::new(coldest_c, hottest_c, ROWS_APART_K);
        let brightest = Light { poa_w_m2: BRIGHTEST_W_M2, cell_c: coldest_c };
        let greatest_m3_s = flow_just_beyond(circuit, brightest).unwrap_or(0.0);
        if greatest_m3_s <= NO_FLOW * circuit.pump.free_flow_m3_s {
            return Ok(FlowTable {
                temperatures,
                per_threshold: Vec::new(),
                least_threshold_w_m2: f64::INFINITY,
                steps_per_root: 0.0,
                rows: Vec::new(),
                most_m3_s: 0.0,
            });
        }
        let nodes = lay_out(circuit, greatest_m3_s);
        let suns = suns_rows(circuit, &nodes, &temperatures);
        let per_threshold: Vec<f64> = threshold_suns(circuit, &nodes[0], &temperatures, &suns, THRESHOLDS)
            .into_iter()
            .map(|suns| 1.0 / (suns * ONE_SUN_POA_W_M2))
            .collect();
        let greatest = per_threshold.iter().copied().fold(0.0, f64::max);
        let steps_per_root = STEPS as f64 / (BRIGHTEST_W_M2 * greatest - 1.0).max(1e-3).sqrt();
        let flows = nodes.map(|node| node.flow_m3_s);
        let mut rows: Vec<[f64; STEPS + 1]> = suns.iter().map(|suns| turned_round(suns, &flows, steps_per_root)).collect();
        if circuit.pump.electronics {
            hold_to_voltage(circuit, &nodes, &temperatures, steps_per_root, &suns, &mut rows);
        }
        Ok(FlowTable {
            temperatures,
            per_threshold,
            least_threshold_w_m2: 1.0 / greatest,
            steps_per_root,
            rows,
            most_m3_s: if circuit.pump.electronics { greatest_m3_s } else { circuit.greatest_flow_m3_s() },
        })
    }

    /// Flows, m³/s, in lights of which so large a share passes the dust; cell temperatures beyond the table's rows take the
    /// nearest row. No more lights than a day has steps.
    ///
    /// In four passes over the day, since roots and quotients are taken two at a time and waited for less.
    fn flows(&self, lights: &[Light], share: f64, flows_m3_s: &mut [f64]) {
        flows_m3_s.fill(0.0);
        // Morning and evening, and all of a dull day, give nothing.
        let is_enough = |light: &Light| light.poa_w_m2 * share > self.least_threshold_w_m2;
        let Some(first) = lights.iter().position(is_enough) else { return };
        let after = lights.iter().rposition(is_enough).map_or(lights.len(), |last| last + 1);
        let (lights, flows_m3_s) = (&lights[first..after], &mut flows_m3_s[first..after]);
        let mut positions = [0.0; STEPS_A_DAY];
        let mut places = [0.0; STEPS_A_DAY];
        for (position, light) in positions.iter_mut().zip(lights) {
            *position = self.temperatures.position(light.cell_c);
        }
        for ((place, position), light) in places.iter_mut().zip(&positions).zip(lights) {
            let (at, along) = split(position * THRESHOLDS as f64, self.per_threshold.len() - 1);
            let (cool, warm) = (self.per_threshold[at], self.per_threshold[at + 1]);
            *place = light.poa_w_m2 * share * (cool + (warm - cool) * along) - 1.0;
        }
        for place in &mut places[..lights.len()] {
            let above = if *place > 0.0 { *place } else { 0.0 };
            let steps = above.sqrt() * self.steps_per_root;
            *place = if steps < STEPS as f64 { steps } else { STEPS as f64 };
        }
        for ((flow, place), position) in flows_m3_s.iter_mut().zip(&places).zip(&positions) {
            let (step, along_step) = split(*place, STEPS);
            let (row, along_rows) = split(*position, self.rows.len() - 1);
            let (cool, warm) = (&self.rows[row], &self.rows[row + 1]);
            let cool = cool[step] + (cool[step + 1] - cool[step]) * along_step;
            let warm = warm[step] + (warm[step + 1] - warm[step]) * along_step;
            let value = place * (cool + (warm - cool) * along_rows);
            *flow = if value < self.most_m3_s { value } else { self.most_m3_s };
        }
    }
}

impl Lifter for FlowTable {
    fn flow_m3_s(&self, light: Light) -> Result<f64, SizingError> {
        within("poa_w_m2", light.poa_w_m2, 0.0, BRIGHTEST_W_M2)?;
        within("cell_c", light.cell_c, FROM_C, 120.0)?;
        let mut flow_m3_s = [0.0];
        self.flows(&[light], 1.0, &mut flow_m3_s);
        Ok(flow_m3_s[0])
    }

    fn flows_m3_s(&self, lights: &[Light], flows_m3_s: &mut [f64]) -> Result<(), SizingError> {
        self.flows(lights, 1.0, flows_m3_s);
        Ok(())
    }
}

/// A table under panels that are dustier or cleaner than believed.
#[derive(Debug, Clone, Copy)]
pub struct Dusty<'t> {
    pub table: &'t FlowTable,
    pub light: f64,
}

impl Lifter for Dusty<'_> {
    fn flow_m3_s(&self, light: Light) -> Result<f64, SizingError> {
        self.table.flow_m3_s(Light { poa_w_m2: light.poa_w_m2 * self.light, ..light })
    }

    fn flows_m3_s(&self, lights: &[Light], flows_m3_s: &mut [f64]) -> Result<(), SizingError> {
        self.table.flows(lights, self.light, flows_m3_s);
        Ok(())
    }
}

/// A place on an evenly spaced row of so many steps, `0..=steps`: the whole steps below it and how far it is along the next.
#[inline]
fn split(place: f64, steps: usize) -> (usize, f64) {
    // Narrower than `usize`, since a conversion that is held to 32 bits is one instruction.
    let below = (place as u32).min(steps as u32 - 1);
    (below as usize, place - f64::from(below))
}

/// OperatingPoint points from no flow to `greatest_m3_s`.
fn lay_out(circuit: &Circuit, greatest_m3_s: f64) -> [OperatingPoint; NODES] {
    std::array::from_fn(|node| {
        let share = node as f64 / (NODES - 1) as f64;
        circuit.at_flow(greatest_m3_s * share * share.sqrt())
    })
}

/// Holds the rows of a pump with electronics to the speed that the array's working voltage allows, in every light: it does not
/// raise voltage. The voltage rises with little light and falls with much, so where it suffices at both ends it does between.
fn hold_to_voltage(
    circuit: &Circuit,
    nodes: &[OperatingPoint; NODES],
    temperatures: &Temperatures,
    steps_per_root: f64,
    suns: &[[f64; NODES]],
    rows: &mut [[f64; STEPS + 1]],
) {
    let speed = |diode: &Diode, suns: f64, start_v: f64| {
        let (_, junction_v) = greatest_power(diode, suns, start_v);
        (working_v(diode, suns, junction_v) * circuit.series / circuit.pump.rated_v, junction_v)
    };
    for (row, (suns, flows)) in suns.iter().zip(rows).enumerate() {
        let diode = circuit.panel.at_temperature(temperatures.at(row as f64));
        let start_v = starting_junction_v(&diode);
        let brightest = BRIGHTEST_W_M2 / ONE_SUN_POA_W_M2;
        if speed(&diode, suns[0], start_v).0 >= 1.0 && speed(&diode, brightest, start_v).0 >= 1.0 {
            continue;
        }
        let mut junction_v = start_v;
        for (step, flow) in flows.iter_mut().enumerate().skip(1) {
            let root = step as f64 / steps_per_root;
            let there = suns[0] * (1.0 + root * root);
            let (fastest, at_v) = speed(&diode, there, junction_v);
            junction_v = at_v;
            *flow = flow.min(flow_of_speed(nodes, fastest) * PER_STEP[step]);
        }
    }
}

/// The flow, m³/s, of a speed on straight lines between the nodes.
fn flow_of_speed(nodes: &[OperatingPoint; NODES], speed: f64) -> f64 {
    let after = nodes.partition_point(|node| node.speed < speed);
    match after {
        0 => 0.0,
        NODES => f64::INFINITY,
        _ => {
            let (slow, fast) = (&nodes[after - 1], &nodes[after]);
            let share = (speed - slow.speed) / (fast.speed - slow.speed);
            slow.flow_m3_s + (fast.flow_m3_s - slow.flow_m3_s) * share
        }
    }
}

/// One over each step; of the first, nothing.
const PER_STEP: [f64; STEPS + 1] = {
    let mut per_step = [0.0; STEPS + 1];
    let mut step = 1;
    while step <= STEPS {
        per_step[step] = 1.0 / step as f64;
        step += 1;
    }
    per_step
};

/// A row of suns by flow as flows by even steps of the root of the light over the first, less one: a monotone cubic through the
/// points (Fritsch & Butland 1984, SIAM J. Sci. Stat. Comput. 5:300-304), past the last along its end. What stands in the
/// row is flow *per step*, which hardly changes near the threshold whatever the lift.
fn turned_round(suns: &[f64; NODES], flows: &[f64; NODES], steps_per_root: f64) -> [f64; STEPS + 1] {
    let per_first = 1.0 / suns[0];
    let mut place = [0.0; NODES];
    for node in 1..NODES {
        place[node] = (suns[node] * per_first - 1.0).sqrt() * steps_per_root;
    }
    let (mut per_width, mut chord, mut slope) = ([0.0; NODES], [0.0; NODES], [0.0; NODES]);
    for node in 0..NODES - 1 {
        per_width[node] = 1.0 / (place[node + 1] - place[node]);
        chord[node] = (flows[node + 1] - flows[node]) * per_width[node];
    }
    for node in 1..NODES - 1 {
        let (before, after) = (place[node] - place[node - 1], place[node + 1] - place[node]);
        let (nearer, further) = (before + 2.0 * after, 2.0 * before + after);
        // Weighted harmonic mean of the two chords, `(w1 + w2)/(w1/d1 + w2/d2)`.
        let weighted = nearer * chord[node] + further * chord[node - 1];
        slope[node] = (nearer + further) * chord[node - 1] * chord[node] / weighted;
    }
    slope[NODES - 1] = chord[NODES - 2];
    let mut row = [0.0; STEPS + 1];
    // Up to the third point light over the first is as good as a quadratic function of flow, `r = b Q + c Q²`.
    let (over_1, over_2) = (suns[1] * per_first - 1.0, suns[2] * per_first - 1.0);
    let square = (over_2 / flows[2] - over_1 / flows[1]) / (flows[2] - flows[1]);
    let linear = over_1 / flows[1] - square * flows[1];
    let start = (place[2] as usize).min(STEPS - 1);
    for step in 1..=start {
        let root = step as f64 / steps_per_root;
        let over = root * root;
        row[step] = 2.0 * over / (linear + (linear * linear + 4.0 * square * over).max(0.0).sqrt()) * PER_STEP[step];
    }
    row[0] = (2.0 * row[1] - row[2]).max(0.0);
    let mut node = 2;
    for step in start + 1..=STEPS {
        let at = step as f64;
        while node < NODES - 2 && place[node + 1] < at {
            node += 1;
        }
        let run = at - place[node];
        let flow = if at < place[node + 1] {
            let bend = (3.0 * chord[node] - 2.0 * slope[node] - slope[node + 1]) * per_width[node];
            let twist = (slope[node] + slope[node + 1] - 2.0 * chord[node]) * per_width[node] * per_width[node];
            flows[node] + run * (slope[node] + run * (bend + run * twist))
        } else {
            flows[node] + run * chord[node]
        };
        row[step] = flow * PER_STEP[step];
    }
    row
}
