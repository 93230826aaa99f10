//! Cable, breaker, fuses.

use noonwater::sizing::parts::panel::Panel;
use noonwater::sizing::parts::wire::{
    CONDUCTORS, Conductor, ELECTRICIAN_ABOVE_V, breaker_a, cable_ohm, choose_conductor, conductor, string_fuse_a,
    wants_string_fuses,
};

use crate::common::{near, near_share};

#[test]
fn conductors_of_the_standard() {
    // IEC 60228 class 2, plain copper, ohm/km at 20 degC. The ampacities are from memory.
    let table = [(1.5, 12.1), (2.5, 7.41), (4.0, 4.61), (6.0, 3.08), (10.0, 1.83), (16.0, 1.15)];
    assert_eq!(CONDUCTORS.map(|c| (c.size_mm2, c.ohm_per_km)), table);
    // IEC 60228's own temperature form for copper, (234.5 + T)/254.5, and out and back.
    for (size, ohm_per_km) in table {
        let ohm = cable_ohm(&conductor(size).expect("made"), 10.0).expect("in range");
        near_share("10 m at 50 degC", ohm, ohm_per_km / 1000.0 * 20.0 * (234.5 + 50.0) / 254.5, 5e-4);
    }
}

#[test]
fn drop_of_a_cable_worked() {
    // Worked from published resistances: IEC 60228 class 5, plain copper, 13.3 7.98 4.95 3.30 1.91 1.21 ohm/km at 20 degC; 20 A over
    // 10 m one way, 20 m of conductor. The engine's own cables are class 2; the formula is the same.
    let worked = [
        (1.5, 13.3, 5.320, 5.947),
        (2.5, 7.98, 3.192, 3.568),
        (4.0, 4.95, 1.980, 2.213),
        (6.0, 3.30, 1.320, 1.476),
        (10.0, 1.91, 0.764, 0.854),
        (16.0, 1.21, 0.484, 0.541),
    ];
    for (size_mm2, ohm_per_km, at_20_v, at_50_v) in worked {
        let class_5 = Conductor { ohm_per_km, ..conductor(size_mm2).expect("made") };
        let drop_v = 20.0 * cable_ohm(&class_5, 10.0).expect("in range");
        near("20 A at 50 degC", drop_v, at_50_v, 5e-4);
        // Copper gains 0.393 % a kelvin on its resistance at 20 degC.
        near("20 A at 20 degC", drop_v / (1.0 + 0.003_93 * 30.0), at_20_v, 5e-4);
    }
}

#[test]
fn the_smallest_cable_that_serves() {
    // By hand from the class 2 table at 50 degC: 20 A over 10 m loses 5.41, 3.31, 2.06, 1.38, 0.82, 0.51 V in the six sizes. Five
    // percent of 16 V is 0.80 V, of 17 V 0.85; three percent of 34 V is 1.02.
    let size =
        |current, pump_v, label_v, isc| choose_conductor(10.0, current, pump_v, label_v, isc).expect("in range").size_mm2;
    assert_eq!(size(20.0, 16.0, 12.0, 23.8), 16.0);
    assert_eq!(size(20.0, 17.0, 12.0, 23.8), 10.0);
    assert_eq!(size(20.0, 34.0, 24.0, 23.8), 10.0);
    assert_eq!(size(20.0, 28.0, 24.0, 23.8), 10.0);
    // Ampacity rules where the drop does not: 30 A of short circuit wants 37.5 A, more than 6 mm² carries (36 A).
    assert_eq!(size(1.0, 16.0, 12.0, 28.0), 6.0);
    assert_eq!(size(1.0, 16.0, 12.0, 30.0), 10.0);
    // Nothing serves: the largest there is.
    assert_eq!(size(60.0, 12.0, 12.0, 80.0), 16.0);
}

#[test]
fn breakers_in_the_standard_steps() {
    // IEC 60898 sizes (from memory); 1.25 Isc as NEC 690.8(A) has the continuous current of an array.
    for (isc, size) in
        [(4.90, 10.0), (5.95, 10.0), (9.25, 13.0), (9.77, 13.0), (4.8, 6.0), (12.8, 16.0), (23.8, 32.0), (50.4, 63.0)]
    {
        assert_eq!(breaker_a(isc), Some(size), "{isc}");
    }
    assert_eq!(breaker_a(50.5), None);
    // Worked: 1.25 times 4.90, 5.95, 9.25 and 9.77 A. The breaker is the first of the series that is not below.
    for (isc, at_least) in [(4.90, 6.125), (5.95, 7.4375), (9.25, 11.5625), (9.77, 12.2125)] {
        let next = [6.0, 10.0, 13.0, 16.0].into_iter().find(|size| *size >= at_least);
        assert_eq!(breaker_a(isc), next, "{isc}");
        // And it turns where that product passes a size.
        near("continuous", 1.25 * isc, at_least, 1e-12);
    }
    assert_eq!((breaker_a(13.0 / 1.25), breaker_a(13.0 / 1.25 + 1e-9)), (Some(13.0), Some(16.0)));
}

#[test]
fn string_fuses_of_the_standard() {
    // IEC 62548, a worked example: 4 strings of 12.28 A on panels that bear 20 A: 36.84 A passes 20, so 18.42 < In < 29.47: 20 A. The
    // engine's panels bear 15 A where they state nothing, which the example passes as well.
    assert_eq!(string_fuse_a(4.0, 12.28), Some(20.0));
    // One or two strings cannot hurt each other while the panel bears its own current.
    assert_eq!(string_fuse_a(1.0, 12.28), None);
    assert_eq!(string_fuse_a(2.0, 9.77), None);
    // Any fuse given lies in the window, and one is given wherever it is wanted.
    for strings in 2..=40_u32 {
        for tenth in 9..=260 {
            let isc = f64::from(tenth) / 10.0;
            let wanted = f64::from(strings - 1) * isc > 15.0;
            let fuse = string_fuse_a(f64::from(strings), isc);
            assert_eq!(wants_string_fuses(f64::from(strings), isc), wanted, "{strings} strings of {isc} A");
            assert_eq!(fuse.is_some(), wanted, "{strings} strings of {isc} A");
            assert!(fuse.is_none_or(|size| size >= 1.5 * isc && size <= 2.4 * isc), "{strings} strings of {isc} A");
        }
    }
}

#[test]
fn voltage_that_calls_for_an_electrician() {
    // Cold open circuit: a 36-cell panel reads 23.75 V at 0 degC, two 60-cell in series 85.8 V (cross-check on typical
    // datasheets): far below and far above 60 V d.c. (IEC 60364-4-41, dry; from memory). The engine's cell gains more in the
    // cold than those, which errs on the careful side here.
    let small = Panel::new(100.0, 36).expect("in range").open_circuit_v(0.0).expect("in range");
    let large = 2.0 * Panel::new(300.0, 60).expect("in range").open_circuit_v(0.0).expect("in range");
    near_share("one of 36 cells", small, 23.75, 0.05);
    near_share("two of 60 cells", large, 85.8, 0.10);
    assert!(small < ELECTRICIAN_ABOVE_V && large > ELECTRICIAN_ABOVE_V);
    near("the bound", ELECTRICIAN_ABOVE_V, 60.0, 0.0);
}
