//! Pumps, their motors, and what they meet.

use noonwater::sizing::Sheet;
use noonwater::sizing::advice::caution::Caution;
use noonwater::sizing::light::sky::Light;
use noonwater::sizing::operating::point::operating_point;
use noonwater::sizing::parts::circuit::Circuit;
use noonwater::sizing::parts::panel::Panel;
use noonwater::sizing::parts::pipe::{Pipe, WATER_KG_M3};
use noonwater::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use noonwater::sizing::set::verdict::Verdict;
use noonwater::terms::PipeKind;
use noonwater::units::{GRAVITY_M_S2, m3_s_from_l_h};

use crate::common::{answer, class, kito, near, near_share};

fn as_labelled() -> LabelShare {
    LabelShare { flow: 1.0, head: 1.0 }
}

#[test]
fn affinity_laws() {
    // Crane TP-410M example 7.33: 400 gpm at 126 ft and 3500 rpm is 194.3 gpm at 29.7 ft and 1700 rpm. Our curve through any
    // point of it must slow down to the same point: flow as speed, head as its square.
    let pump = Pump::from_label(&class("large"), as_labelled()).expect("in range");
    let (fast_flow, slow) = (0.4 * pump.free_flow_m3_s, 1700.0 / 3500.0);
    let fast_head = pump.head_m(1.0, fast_flow);
    near("flow, gpm", 400.0 * slow, 194.3, 0.05);
    near("head, ft", 126.0 * pump.head_m(slow, slow * fast_flow) / fast_head, 29.7, 0.05);
    // And the speed is found back from flow and head.
    near("speed", pump.speed_for(slow * fast_flow, pump.head_m(slow, slow * fast_flow)), slow, 1e-12);
}

#[test]
fn a_label_s_ends() {
    // What a label means: no head at the printed flow, no flow at the printed head, printed amps at label speed there.
    let label = class("large");
    let pump = Pump::from_label(&label, as_labelled()).expect("in range");
    near("at full flow", pump.head_m(1.0, m3_s_from_l_h(label.flow_l_h)), 0.0, 1e-12);
    near("at no flow", pump.head_m(1.0, 0.0), label.head_m, 1e-12);
    near("amps", pump.current_a(1.0, m3_s_from_l_h(label.flow_l_h), 0.0), 15.0, 1e-12);
    near("volts", pump.voltage_v(1.0, 15.0), 13.6, 1e-12);
    // A new label overstates (common practice): 0.85 of both flow and head are counted on, and of neither volts nor amps.
    let believed = Pump::from_label(&label, LabelShare::default()).expect("in range");
    near("flow counted on", believed.free_flow_m3_s / pump.free_flow_m3_s, 0.85, 1e-12);
    near("head counted on", believed.shut_off_m / pump.shut_off_m, 0.85, 1e-12);
    assert_eq!((believed.rated_a, believed.rated_v, believed.winding_ohm), (pump.rated_a, pump.rated_v, pump.winding_ohm));
}

#[test]
fn hydraulic_power() {
    // P = rho g Q H by its definition: 10 m³/h at 6 m is 163.5 W and 8 m³/h at 5 m is 109.0 W (rho 1000, g 9.81).
    let watts = |m3_h: f64, head_m: f64| WATER_KG_M3 * GRAVITY_M_S2 * m3_h / 3600.0 * head_m;
    near_share("10 m³/h at 6 m", watts(10.0, 6.0), 163.5, 0.004);
    near_share("8 m³/h at 5 m", watts(8.0, 5.0), 109.0, 0.004);

    // Amps that a label does not print: greatest hydraulic power of its own curve over the rated volts and an efficiency that
    // grows with power up to 0.45 (from memory).
    // The greatest is sought here by trying every flow.
    let label = PumpLabel { amps: None, ..class("large") };
    let pump = Pump::from_label(&label, LabelShare::default()).expect("in range");
    let whole = Pump::from_label(&label, as_labelled()).expect("in range");
    let most = (0..10_000)
        .map(|i| whole.free_flow_m3_s * f64::from(i) / 10_000.0)
        .map(|q| WATER_KG_M3 * GRAVITY_M_S2 * q * whole.head_m(1.0, q))
        .fold(0.0, f64::max);
    near_share("amps", pump.rated_a, most / ((0.42 * (most / 92.0).powf(0.40)).min(0.45) * 13.6), 1e-6);
    // Overall efficiency of a whole small set: no published number confirmed; a small brushed pump at its best point lies
    // between 0.2 and 0.5 (common practice), and so must the printed classes.
    for name in ["tiny", "small", "middle", "large", "large_24", "high", "higher"] {
        let printed = class(name);
        let pump = Pump::from_label(&printed, as_labelled()).expect("in range");
        let best = (1..1000)
            .map(|i| pump.free_flow_m3_s * f64::from(i) / 1000.0)
            .map(|q| {
                WATER_KG_M3 * GRAVITY_M_S2 * q * pump.head_m(1.0, q)
                    / (pump.rated_v * pump.current_a(1.0, q, pump.head_m(1.0, q)))
            })
            .fold(0.0, f64::max);
        assert!((0.1..0.6).contains(&best), "{name}: {best}");
    }
}

#[test]
fn permanent_magnet_motor_of_a_textbook() {
    // Fitzgerald, Kingsley & Umans, Electric Machinery 6th ed., example 7.9 (from memory): armature 1.03 ohm; unloaded 50 V,
    // 1.25 A at 2120 rpm; on 48 V at 1700 rpm it draws 8.6 A. Our motor with those constants and without brushes: speed 1 is
    // 2120 rpm, so the back-EMF there is 50 - 1.25 x 1.03.
    let some = Pump::from_label(&class("large"), as_labelled()).expect("in range");
    let motor = Pump { winding_ohm: 1.03, back_emf_v: 50.0 - 1.25 * 1.03, brush_v: 0.0, ..some };
    near_share("volts at 8.6 A and 1700 rpm", motor.voltage_v(1700.0 / 2120.0, 8.6), 48.0, 0.02);
    near("unloaded volts", motor.voltage_v(1.0, 1.25), 50.0, 1e-12);
    // Modelica Standard Library, DC_PermanentMagnet defaults: 100 V, 100 A, 0.05 ohm, 1425 rpm; unloaded 1500 rpm.
    let motor = Pump { winding_ohm: 0.05, back_emf_v: 100.0 - 100.0 * 0.05, brush_v: 0.0, ..some };
    near("rpm without load", 1425.0 * 100.0 / motor.back_emf_v, 1500.0, 1e-9);
    near("rated volts", motor.voltage_v(1.0, 100.0), 100.0, 1e-12);
}

#[test]
fn a_stalled_or_dark_pump_gives_nothing() {
    let circuit = Circuit {
        panel: Panel::new(80.0, 36).expect("in range"),
        series: 1.0,
        parallel: 5.0,
        pump: Pump::from_label(&class("large"), LabelShare::default()).expect("in range"),
        pipe: Pipe::new(40.0, 63.0, PipeKind::default()).expect("in range"),
        static_head_m: 5.0,
        cable_ohm: 0.05,
    };
    let dark = operating_point(&circuit, Light { poa_w_m2: 0.0, cell_c: 15.0 }).expect("in range");
    assert_eq!((dark.speed, dark.flow_m3_s), (0.0, 0.0));
    // Friction takes 0.08 of 15 A before the shaft moves (the engine's own motor); an array whose short circuit current is
    // less leaves it at rest: 1.2 A of 24.1 A is 50 W/m² on the cells, 55 before dust.
    for (poa, turns) in [(52.0, false), (60.0, true)] {
        let point = operating_point(&circuit, Light { poa_w_m2: poa, cell_c: 15.0 }).expect("in range");
        assert_eq!(point.speed > 0.0, turns, "{poa}");
        assert_eq!(point.flow_m3_s, 0.0);
    }
    // Above the pump's reach the motor turns and nothing comes.
    let high = Circuit { static_head_m: 40.0, ..circuit };
    let point = operating_point(&high, Light { poa_w_m2: 1000.0, cell_c: 50.0 }).expect("in range");
    assert!(point.speed > 0.5 && point.flow_m3_s == 0.0);
}

#[test]
fn heat_can_cost_an_oversized_array_more_than_light_gives() {
    // Known of directly coupled sets and a cross-check made with general libraries on another motor: an array far larger than its
    // pump drives it slower at 1000 W/m² and 60 degC than at 800 W/m² and 50 degC.
    let circuit = Circuit {
        panel: Panel::new(100.0, 36).expect("in range"),
        series: 1.0,
        parallel: 4.0,
        pump: Pump::from_label(&class("small"), LabelShare::default()).expect("in range"),
        pipe: Pipe::new(20.0, 50.0, PipeKind::default()).expect("in range"),
        static_head_m: 2.0,
        cable_ohm: 0.02,
    };
    let at = |poa_w_m2, cell_c| operating_point(&circuit, Light { poa_w_m2, cell_c }).expect("in range").speed;
    assert!(at(1000.0, 60.0) < at(800.0, 50.0));
    assert!(at(1000.0, 50.0) > at(800.0, 50.0));
}

#[test]
fn a_panel_far_too_small_gives_no_water_and_no_garden() {
    // By hand: at 5 m the 48 V pump wants 0.38 of its speed before anything comes: 2.1 A at 17.0 V, 36 W. A panel of 20
    // W never gives that.
    let sheet = Sheet {
        lift_m: Some(5.0),
        pipe_m: Some(20.0),
        panel_count: Some(1),
        panel_w: Some(20.0),
        garden_m2: Some(500.0),
        pump: Some(class("higher")),
        ..Sheet::default()
    };
    let advice = answer(&sheet, &kito());
    assert!(advice.months.iter().all(|month| month.water.water_m3_day == 0.0 && month.water.poor_day_m3 == 0.0));
    assert_eq!(advice.verdict, Some(Verdict::Short));
    assert!(advice.cautions.contains(&Caution::NoWater));
}

#[test]
fn a_guessed_current_is_near_the_printed_ones() {
    // Generic classes (invented, typical): the guess from flow and head alone lies within a quarter of what they print.
    for name in ["tiny", "small", "middle", "large", "large_24"] {
        let printed = class(name);
        let guessed = Pump::from_label(&PumpLabel { amps: None, ..printed }, LabelShare::default()).expect("in range");
        let over = guessed.rated_a / printed.amps.expect("printed");
        assert!((0.75..=1.25).contains(&over), "{name}: {over}");
    }
}

#[test]
fn a_displacement_pump_by_hand() {
    // By hand: 300 l/h, 30 m, 12 V, 4 A; 10 m is a third of its head: x = n (1 - 0.1/3), and 0.15 + 0.85/3 of the amps.
    let label =
        PumpLabel { label_v: 12.0, flow_l_h: 300.0, head_m: 30.0, amps: Some(4.0), electronics: false, displacement: true };
    let pump = Pump::from_label(&label, LabelShare::default()).expect("in range");
    let flow = m3_s_from_l_h(0.85 * 300.0 * (1.0 - 0.1 / 3.0));
    near("speed", pump.speed_for(flow, 10.0), 1.0, 1e-12);
    near("amps", pump.current_a(1.0, flow, 10.0), 4.0 * (0.15 + 0.85 / 3.0), 1e-12);
    // Amps not printed: rho g 0.9 q0 h0/(0.40 Vr).
    let unprinted = Pump::from_label(&PumpLabel { amps: None, ..label }, LabelShare::default()).expect("in range");
    let hydraulic_w = WATER_KG_M3 * GRAVITY_M_S2 * 0.9 * m3_s_from_l_h(300.0) * 30.0;
    near("guessed amps", unprinted.rated_a, hydraulic_w / (0.40 * 13.6), 1e-9);
}

#[test]
fn mains_pumps_are_refused() {
    for label_v in [100.0, 220.0] {
        let refused = Pump::from_label(&PumpLabel { label_v, ..class("large") }, LabelShare::default());
        assert_eq!(refused, Err(noonwater::sizing::SizingError::MainsPump));
    }
}
