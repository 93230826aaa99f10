//! The generic panel against the table of modules of the California Energy Commission.

use noonwater::sizing::parts::panel::{Panel, WORKING_PER_CELL_V};
use serde::Deserialize;

/// Median and the middle eight in ten of one quantity.
#[derive(Deserialize)]
struct Spread {
    median: f64,
    p10: f64,
    p90: f64,
}

/// What `tests/reference/modules.py` read from the table that the pvlib package ships.
#[derive(Deserialize)]
struct Modules {
    modules: u32,
    working_v_per_cell: Spread,
    open_circuit_v_per_cell: Spread,
    watts_per_cell_amp: Spread,
    ideality: Spread,
    series_share: Spread,
    voc_percent_per_k: Spread,
    power_percent_per_k: Spread,
}

#[test]
fn the_generic_cell_is_one_of_twenty_thousand() {
    let table: Modules = serde_json::from_str(include_str!("../reference/modules.json")).expect("modules.json reads");
    assert!(table.modules > 20_000);
    let panel = Panel::new(100.0, 36).expect("in range");
    let (cool, warm) = (panel.at(1000.0, 25.0).expect("in range"), panel.at(1000.0, 45.0).expect("in range"));
    let (peak, warm_peak) = (cool.greatest_power(), warm.greatest_power());
    let (isc_a, voc_v) = (cool.current_a(0.0), cool.open_circuit_v());
    let percent_a_kelvin = |warm: f64, cool: f64| 100.0 * (warm / cool - 1.0) / 20.0;
    let thermal_v = 1.380_649e-23 * 298.15 / 1.602_176_634e-19;
    for (what, ours, theirs, near) in [
        ("working volts a cell", peak.voltage_v / 36.0, &table.working_v_per_cell, 0.04),
        ("told as", WORKING_PER_CELL_V, &table.working_v_per_cell, 0.04),
        ("open-circuit volts a cell", voc_v / 36.0, &table.open_circuit_v_per_cell, 0.03),
        ("watts a cell and amp", peak.power_w / (36.0 * isc_a), &table.watts_per_cell_amp, 0.04),
        ("ideality", cool.ideality_v / (36.0 * thermal_v), &table.ideality, 0.06),
        ("series resistance", cool.series_ohm * isc_a / voc_v, &table.series_share, 0.25),
        ("volts by warmth", percent_a_kelvin(warm.open_circuit_v(), voc_v), &table.voc_percent_per_k, 0.05),
        ("power by warmth", percent_a_kelvin(warm_peak.power_w, peak.power_w), &table.power_percent_per_k, 0.05),
    ] {
        assert!((theirs.p10..=theirs.p90).contains(&ours), "{what}: {ours} outside {}..{}", theirs.p10, theirs.p90);
        assert!((ours / theirs.median - 1.0).abs() <= near, "{what}: {ours}, median {}", theirs.median);
    }
}
