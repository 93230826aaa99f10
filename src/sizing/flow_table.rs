//! The running points of one circuit, tabulated: what the whole year is counted with.
//!
//! Pump and pipe are laid out once, from no flow upward; for a row of cell temperatures stands the light that holds each point
//! (see `holding`). The flow in a light is then a search in a sorted row.

use super::circuit::{Circuit, Running};
use super::error::{SizingError, within};
use super::holding::{
    ONE_SUN_POA_W_M2, flow_at_speed, greatest_power, greatest_speed, panel_power_holding, starting_junction_v, suns_holding,
};
use super::panel::Diode;
use super::sky::Light;
use super::year::Lifter;

/// Running points laid out between no flow and the fastest the array can drive the pump; closer together where flow begins,
/// since with little lift the flow there rises as a root of the light.
const NODES: usize = 96;
const NODE_SPACING: f64 = 1.5;

/// Cell temperatures of the rows, degC. Two and a half kelvin keeps the saturation current's growth between rows near
/// a straight line.
const ROW_FROM_C: f64 = -40.0;
const ROW_TO_C: f64 = 110.0;
const ROW_STEP_K: f64 = 2.5;

/// Irradiances at which the greatest power is laid out for pumps with electronics, spaced as squares: power over suns still
/// rises with the logarithm of light, fastest where there is little.
const POWER_NODES: usize = 48;
const POWER_TO_SUNS: f64 = 1.5;

/// A circuit's flow against light.
#[derive(Debug, Clone)]
pub struct FlowTable {
    /// Flow of each node, m³/s, rising from zero.
    flow_m3_s: [f64; NODES],
    first_row: usize,
    /// For each row of cell temperature, the light on the panels that holds each node, W/m².
    rows: Vec<[f64; NODES]>,
}

impl FlowTable {
    /// Lays out a circuit for cell temperatures from `coldest_c` to `hottest_c`, within -40..110 degC.
    pub fn new(circuit: &Circuit, coldest_c: f64, hottest_c: f64) -> Result<Self, SizingError> {
        within("cell_c", coldest_c, ROW_FROM_C, ROW_TO_C)?;
        within("cell_c", hottest_c, coldest_c, ROW_TO_C)?;
        let first_row = row_position(coldest_c) as usize;
        let last_row = row_position(hottest_c).ceil() as usize + 1;
        let greatest_m3_s = greatest_flow(circuit, row_c(first_row));
        let nodes: [Running; NODES] = std::array::from_fn(|node| {
            circuit.at_flow(greatest_m3_s * (node as f64 / (NODES - 1) as f64).powf(NODE_SPACING))
        });
        let rows = (first_row..=last_row).map(|row| light_row(circuit, &nodes, row_c(row))).collect();
        Ok(FlowTable { flow_m3_s: nodes.map(|node| node.flow_m3_s), first_row, rows })
    }

    /// Flow, m³/s, in a light; cell temperatures beyond the table's rows take the nearest row.
    fn flow(&self, light: Light) -> f64 {
        let position = (row_position(light.cell_c) - self.first_row as f64).clamp(0.0, (self.rows.len() - 1) as f64);
        let below = (position as usize).min(self.rows.len() - 2);
        let share = position - below as f64;
        let (cool, warm) = (&self.rows[below], &self.rows[below + 1]);
        let holds = |node: usize| cool[node] + (warm[node] - cool[node]) * share;
        if light.poa_w_m2 <= holds(0) {
            return 0.0;
        }
        // The first node that wants more light than there is.
        let (mut low, mut high) = (0, NODES);
        while high - low > 1 {
            let middle = low.midpoint(high);
            if holds(middle) <= light.poa_w_m2 { low = middle } else { high = middle }
        }
        if high == NODES {
            return self.flow_m3_s[NODES - 1];
        }
        let (from, to) = (holds(low), holds(high));
        let along = (light.poa_w_m2 - from) / (to - from);
        self.flow_m3_s[low] + (self.flow_m3_s[high] - self.flow_m3_s[low]) * along
    }
}

impl Lifter for FlowTable {
    fn flow_m3_s(&self, light: Light) -> Result<f64, SizingError> {
        Ok(self.flow(light))
    }
}

fn row_position(cell_c: f64) -> f64 {
    ((cell_c - ROW_FROM_C) / ROW_STEP_K).max(0.0)
}

fn row_c(row: usize) -> f64 {
    ROW_FROM_C + row as f64 * ROW_STEP_K
}

/// The flow at the fastest speed the circuit can reach: label speed with electronics, else where the coldest row's array, in
/// more than full light, gives no current any more.
fn greatest_flow(circuit: &Circuit, coldest_c: f64) -> f64 {
    let fastest = if circuit.pump.electronics {
        1.0
    } else {
        greatest_speed(circuit, &circuit.panel.at_temperature(coldest_c), POWER_TO_SUNS)
    };
    flow_at_speed(circuit, fastest)
}

/// The light, W/m² on the panels before dust, that holds each node at a cell temperature.
fn light_row(circuit: &Circuit, nodes: &[Running; NODES], cell_c: f64) -> [f64; NODES] {
    let diode = circuit.panel.at_temperature(cell_c);
    if circuit.pump.electronics {
        let power_w = power_row(&diode);
        return nodes.map(|node| ONE_SUN_POA_W_M2 * suns_for_power(&power_w, panel_power_holding(circuit, &node)));
    }
    nodes.map(|node| ONE_SUN_POA_W_M2 * suns_holding(circuit, &diode, &node))
}

/// Greatest power of one panel, W, at the suns of [`power_suns`].
fn power_row(diode: &Diode) -> [f64; POWER_NODES] {
    let mut row = [0.0; POWER_NODES];
    // Each root starts at the last one's: the working voltage hardly moves with light.
    let mut junction_v = starting_junction_v(diode);
    for (index, power) in row.iter_mut().enumerate().rev() {
        let suns = power_suns(index);
        if index > 0 {
            (*power, junction_v) = greatest_power(diode, suns, junction_v);
        }
    }
    row
}

fn power_suns(index: usize) -> f64 {
    let share = index as f64 / (POWER_NODES - 1) as f64;
    POWER_TO_SUNS * share * share
}

/// Suns at which a panel's greatest power is `power_w`; past the last node along the last two, so that a set that wants more
/// than any light still has a light to want, and rows can be joined by straight lines.
fn suns_for_power(row: &[f64; POWER_NODES], power_w: f64) -> f64 {
    let above = row.partition_point(|&p| p < power_w).clamp(1, POWER_NODES - 1);
    let share = (power_w - row[above - 1]) / (row[above] - row[above - 1]);
    power_suns(above - 1) + share * (power_suns(above) - power_suns(above - 1))
}
