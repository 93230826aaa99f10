//! A month's water in outline: the light in a dozen bins, pump and pipe in as many points. Off by a per cent or two, and so much
//! the quicker; what is asked of it is how the water moves when one thing is another, which it tells better than that.

use super::point::{ONE_SUN_POA_W_M2, greatest_power, panel_power_holding, starting_junction_v, suns_holding, working_v};
use crate::sizing::light::sky::{MonthSky, STEP_H};
use crate::sizing::parts::circuit::Circuit;

/// Bins of light, and their width, W/m².
const BINS: usize = 16;
const BIN_W_M2: f64 = 90.0;

/// Points of pump and pipe.
const NODES: usize = 14;

/// Litres in a cubic metre a second for an hour, in m³.
const M3_PER_M3_S_H: f64 = 3600.0;

/// Light of one strength.
#[derive(Debug, Clone, Copy, Default)]
struct Bin {
    poa_w_m2: f64,
    cell_c: f64,
    /// Hours of it on the mean day.
    hours: f64,
}

/// A month's light by how bright it is.
#[derive(Debug, Clone, Copy)]
pub struct Outline {
    bins: [Bin; BINS],
    coldest_c: f64,
    hottest_c: f64,
}

impl Outline {
    /// Gathers the light of a month's ten day types.
    pub fn of(sky: &MonthSky) -> Outline {
        let mut bins = [Bin::default(); BINS];
        for light in (0..10).flat_map(|day_type| sky.day(day_type)) {
            let bin = &mut bins[((light.poa_w_m2 / BIN_W_M2) as usize).min(BINS - 1)];
            bin.poa_w_m2 += light.poa_w_m2;
            bin.cell_c += light.cell_c;
            bin.hours += 1.0;
        }
        let (mut coldest_c, mut hottest_c) = (f64::INFINITY, f64::NEG_INFINITY);
        for bin in bins.iter_mut().filter(|bin| bin.hours > 0.0) {
            bin.poa_w_m2 /= bin.hours;
            bin.cell_c /= bin.hours;
            bin.hours *= STEP_H / 10.0;
            coldest_c = coldest_c.min(bin.cell_c);
            hottest_c = hottest_c.max(bin.cell_c);
        }
        Outline { bins, coldest_c, hottest_c: hottest_c.max(coldest_c + 1.0) }
    }

    /// Water of one pump, m³ a day, with so much more or less light, held to `cap_m3_s`; pumps are asked for no more flow than
    /// `greatest_m3_s`.
    pub fn water_m3_day(&self, circuit: &Circuit, light: f64, cap_m3_s: f64, greatest_m3_s: f64) -> f64 {
        let cap_m3_s = cap_m3_s.min(circuit.greatest_flow_m3_s());
        if greatest_m3_s <= 0.0 || cap_m3_s <= 0.0 {
            return 0.0;
        }
        let lit = self.bins.iter().filter(|bin| bin.hours > 0.0);
        let volume = |bin: &Bin, flow_m3_s: f64| flow_m3_s.min(cap_m3_s) * bin.hours * M3_PER_M3_S_H;
        let flow_at = |node: usize| {
            let share = node as f64 / (NODES - 1) as f64;
            greatest_m3_s * share * share.sqrt()
        };
        let points: [_; NODES] = std::array::from_fn(|node| circuit.at_flow(flow_at(node)));
        if circuit.pump.electronics {
            let asked = points.map(|point| panel_power_holding(circuit, &point).ln());
            let speeds = points.map(|point| point.speed);
            let flows = points.map(|point| point.flow_m3_s);
            let full_m3_s = along(&speeds, &flows, 1.0);
            return lit
                .map(|bin| {
                    let diode = circuit.panel.at_temperature(bin.cell_c);
                    let suns = bin.poa_w_m2 * light / ONE_SUN_POA_W_M2;
                    let (power_w, junction_v) = greatest_power(&diode, suns, starting_junction_v(&diode));
                    let fastest = working_v(&diode, suns, junction_v) * circuit.series / circuit.pump.rated_v;
                    let held_m3_s = if fastest < 1.0 { along(&speeds, &flows, fastest) } else { full_m3_s };
                    volume(bin, along(&asked, &flows, power_w.max(f64::MIN_POSITIVE).ln()).min(held_m3_s))
                })
                .sum();
        }
        // Light that holds a point goes as an exponential of temperature, near enough.
        let (cold, hot) = (circuit.panel.at_temperature(self.coldest_c), circuit.panel.at_temperature(self.hottest_c));
        let logs =
            points.map(|point| (suns_holding(circuit, &cold, &point).ln(), suns_holding(circuit, &hot, &point).ln()));
        let flows = points.map(|point| point.flow_m3_s);
        lit.map(|bin| {
            let warm = (bin.cell_c - self.coldest_c) / (self.hottest_c - self.coldest_c);
            let logs = logs.map(|(cold, hot)| cold + (hot - cold) * warm);
            volume(bin, along(&logs, &flows, (bin.poa_w_m2 * light / ONE_SUN_POA_W_M2).ln()))
        })
        .sum()
    }
}

/// The flow at a place on a rising row, on straight lines; nothing before the first, the last beyond it.
fn along(row: &[f64; NODES], flows: &[f64; NODES], place: f64) -> f64 {
    let after = row.iter().take_while(|value| **value < place).count();
    match after {
        0 => 0.0,
        NODES => flows[NODES - 1],
        _ if row[after].is_finite() => {
            let share = (place - row[after - 1]) / (row[after] - row[after - 1]);
            flows[after - 1] + (flows[after] - flows[after - 1]) * share
        }
        _ => flows[after - 1],
    }
}
