//! Panels and their temperature.

use noonwater::sizing::light::sky::faiman_c;
use noonwater::sizing::parts::array::Array;
use noonwater::sizing::parts::panel::{
    Diode, Panel, cells_of_open_circuit_volts, cells_of_volts, cells_when_not_stated, de_soto,
};

use crate::common::{near, near_share};

#[test]
fn single_diode_of_the_pvlib_suite() {
    // pvlib's own test suite (test_pvsystem, singlediode): IL 7, I0 6e-7, Rs 0.1, Rsh 20, nNsVth 0.5.
    let curve = Diode { light_a: 7.0, saturation_a: 6e-7, series_ohm: 0.1, shunt_ohm: 20.0, ideality_v: 0.5 };
    near("i_sc", curve.current_a(0.0), 6.965172322, 1e-6);
    near("v_oc", curve.open_circuit_v(), 8.106300147, 1e-6);
    let peak = curve.greatest_power();
    near("p_mp", peak.power_w, 38.19421055, 1e-6);
    near("v_mp", peak.voltage_v, 6.224339375, 1e-4);
    near("i_mp", peak.current_a, 6.136267360, 1e-4);
    // Cross-check, pvlib i_from_v.
    for (volts, amps) in [(4.0, 6.759292), (6.0, 6.322563), (8.0, 0.593457)] {
        near("current", curve.current_a(volts), amps, 1e-6);
    }
}

#[test]
fn other_light_and_warmth_of_the_pvlib_suite() {
    // pvlib's own test suite (test_pvsystem, calcparams_desoto): alpha 0.003, a 0.473, IL 7.545, I0 1.94e-9, Rsh 15.72, Rs 0.094;
    // at 800 W/m², 25 degC: IL 6.036, Rsh 19.65, a 0.473; then i_sc 6.00726, v_oc 10.29603, p_mp 44.4902 to 0.01.
    let reference = Diode { light_a: 7.545, saturation_a: 1.94e-9, series_ohm: 0.094, shunt_ohm: 15.72, ideality_v: 0.473 };
    let same = de_soto(&reference, 0.003, 25.0);
    near("a", same.ideality_v, 0.473, 1e-12);
    near_share("I0 at the reference temperature", same.saturation_a, 1.94e-9, 1e-9);
    // Irradiance scales light current and shunt conductance: De Soto, Klein & Beckman 2006, eqs. 10 and 12.
    let dimmer = Diode { light_a: 0.8 * same.light_a, shunt_ohm: same.shunt_ohm / 0.8, ..same };
    near("IL", dimmer.light_a, 6.036, 1e-3);
    near("Rsh", dimmer.shunt_ohm, 19.65, 1e-2);
    near("i_sc", dimmer.current_a(0.0), 6.00726, 1e-2);
    near("v_oc", dimmer.open_circuit_v(), 10.29603, 1e-2);
    near("p_mp", dimmer.greatest_power().power_w, 44.4902, 1e-2);
}

#[test]
fn a_label_comes_back_from_its_own_panel() {
    // The label's watts at 1000 W/m² and 25 degC; open circuit and short circuit as the generic cell has them (typical, from
    // memory). A datasheet's 36-cell 100 W reads 22.0 V and 5.95 A, its 60-cell 300 W 39.9 V and 9.77 A (common practice): 10 %.
    for (watts, cells, voc_v, isc_a) in [(80.0, 36, 21.9, 4.90), (100.0, 36, 22.0, 5.95), (300.0, 60, 39.9, 9.77)] {
        let panel = Panel::new(watts, cells).expect("in range");
        let curve = panel.at(1000.0, 25.0).expect("in range");
        near_share("watts", curve.greatest_power().power_w, watts, 0.01);
        near_share("Voc", curve.open_circuit_v(), voc_v, 0.10);
        near_share("Isc", curve.current_a(0.0), isc_a, 0.12);
        near_share("Isc of the label", curve.current_a(0.0), panel.isc_a(), 1e-9);
        near_share("Voc of the label", curve.open_circuit_v(), 0.615 * f64::from(cells), 1e-9);
    }
}

#[test]
fn warmth_costs_what_datasheets_say() {
    // Crystalline silicon: medians and the middle eight in ten of the CEC table (tests/reference/modules.json, read from the
    // pvlib package): Voc -0.33 (-0.37..-0.30), power -0.45 (-0.50..-0.42) % a kelvin; Isc +0.04..+0.06 is common practice.
    for (watts, cells) in [(80.0, 36), (300.0, 60), (380.0, 72)] {
        let panel = Panel::new(watts, cells).expect("in range");
        let (cool, warm) = (panel.at(1000.0, 25.0).expect("in range"), panel.at(1000.0, 65.0).expect("in range"));
        let percent_a_kelvin = |hot: f64, cold: f64| 100.0 * (hot / cold - 1.0) / 40.0;
        let isc = percent_a_kelvin(warm.current_a(0.0), cool.current_a(0.0));
        let voc = percent_a_kelvin(warm.open_circuit_v(), cool.open_circuit_v());
        let power = percent_a_kelvin(warm.greatest_power().power_w, cool.greatest_power().power_w);
        assert!((0.04..=0.06).contains(&isc), "Isc {isc}");
        assert!((-0.37..=-0.30).contains(&voc), "Voc {voc}");
        assert!((-0.50..=-0.42).contains(&power), "Pmp {power}");
    }
}

#[test]
fn cells_of_a_size() {
    // Common practice, no source.
    for (watts, cells) in [
        (50.0, 36),
        (220.0, 36),
        (221.0, 60),
        (330.0, 60),
        (331.0, 72),
        (400.0, 72),
        (401.0, 54),
        (440.0, 54),
        (441.0, 60),
        (501.0, 72),
    ] {
        assert_eq!(cells_when_not_stated(watts), cells);
    }
}

#[test]
fn cells_warm_as_faiman_measured() {
    // pvlib's own test suite (test_temperature, faiman): 900 W/m², 20 degC, 5 m/s: 35.203.
    near("cells", faiman_c(900.0, 20.0, 5.0), 35.203, 1e-3);
    // Cross-check, pvlib.temperature.faiman.
    near("cells", faiman_c(1000.0, 35.0, 1.0), 66.407, 1e-3);
    near("cells", faiman_c(800.0, 30.0, 2.0), 50.683, 1e-3);
}

#[test]
fn cells_of_told_volts() {
    // The trade's nominal volts, and 0.492 V and 0.615 V a cell of any others.
    for (volts, cells) in [(12.0, 36), (24.0, 72), (48.0, 144), (31.0, 63), (29.5, 60), (26.6, 54)] {
        assert_eq!(cells_of_volts(volts), Ok(cells));
    }
    for (volts, cells) in [(22.1, 36), (37.0, 60), (44.3, 72)] {
        assert_eq!(cells_of_open_circuit_volts(volts), Ok(cells));
    }
    assert!(cells_of_volts(400.0).is_err() && cells_of_open_circuit_volts(f64::NAN).is_err());
}

#[test]
fn panels_of_one_pump_in_rows() {
    // By hand: the series count whose 17.7 V a panel lie nearest to 1.4 times the label, 16.8 and 33.6 V, whole divisor or not.
    let joined = |panels, cells, label_v| {
        let array = Array::of(panels, cells, label_v);
        (array.series, array.parallel, array.unused)
    };
    assert_eq!(joined(7, 36, 24.0), (2, 3, 1));
    assert_eq!(joined(6, 36, 24.0), (2, 3, 0));
    assert_eq!(joined(5, 36, 12.0), (1, 5, 0));
    assert_eq!(joined(1, 36, 24.0), (1, 1, 0));
    assert_eq!(joined(5, 36, 48.0), (4, 1, 1));
    // 24 V panels on a 12 V pump work at 35 V; a 12 V panel on a 24 V pump below its label.
    assert!(Array::of(2, 72, 12.0).is_mismatched(12.0) && Array::of(1, 36, 24.0).is_mismatched(24.0));
    assert!(!Array::of(2, 36, 12.0).is_mismatched(12.0) && !Array::of(7, 36, 24.0).is_mismatched(24.0));
}
