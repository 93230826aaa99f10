//! One whole-year advice: twelve months, ten day types, quarter-hour steps, with the bore and the cable chosen.
//!
//! # What was measured
//!
//! One core of a shared AMD EPYC, release profile, the least of many short runs, old and new in turn within one run:
//!
//! | | searching tables | now |
//! |---|---|---|
//! | `advice_stated_pump` | 717 us | 189 us |
//! | `advice_with_fixes` | 14.7 ms | 3.3 ms |
//! | `advice_pump_chosen` | 6.8 ms | 1.0 ms |
//!
//! Of the 189: twelve skies 19, the set (bore, cable) 9, one flow table 14, twelve months of look-ups 41, the range 87 (four tables
//! and eight months of look-ups); noon, hours and money the rest. Against a solver of every light, over some ten thousand months
//! of random sets that lift more than 50 litres a day: half within 0.007 %, all within 0.11 %; the tables that were searched
//! were off by up to 7 % where a set hardly lifts at all.
//!
//! # What was tried and kept
//!
//! - Colebrook by a fourth-order iteration of two rounds: it is asked in every point laid out and at every step of a root.
//! - Flow at even steps of the root of light over threshold, as flow per step: read off by place, and good where flow begins.
//! - Cell temperatures evenly in 1/T: exponentials follow from one another by a product.
//! - The greatest power of an array explicit in its junction voltage, with its slope: 24 points of it a temperature.
//! - A day's look-ups in four passes over arrays, its dark ends left out: twice as fast as one light at a time.
//! - The light of a sky kept once it is worked out; the sun as a vector, so that no step asks for an angle.
//! - Hours and noon found by secants from the tabulated flow; all bores judged from one noon against a steady head.
//! - The range reads the table of the year, and lays its own out for the temperatures of its one month.
//! - The search works a candidate out once: its season first, the other months when that is enough.
//!
//! # What was tried and dropped
//!
//! - Chandrupatla's root finder for ITP: 10 to 12 evaluations where ITP takes 9.
//! - Light above the threshold, rather than light over it, as the variable: bends with temperature near open circuit.
//! - Half as many nodes, and rows 4 or 5 K apart: a tenth faster, and off by up to 0.6 % near the threshold.
//! - Thin link-time optimisation, or one codegen unit: within 2 %, for longer builds.
//!
//! # What limits it now
//!
//! The look-ups, some 7 ns each, wait for conversions to whole numbers and for roots with two lanes a register; a build for a
//! newer processor would widen them. A table is half its inversion and a third friction factors. The search tries every
//! pair; pruning it was left alone while it is fast enough.

use criterion::{Criterion, criterion_group, criterion_main};
use noonwater::sizing::advice::advise::advise_with_fixes;
use noonwater::sizing::parts::pump::PumpLabel;
use noonwater::sizing::{Climate, Market, Sheet, advise};
use std::hint::black_box;

fn whole_year(c: &mut Criterion) {
    let place = serde_json::from_str(noonwater::demo::PLACE_JSON).expect("the demo place reads");
    let climate = Climate::new(place).expect("the demo place is sound");
    let sheet = Sheet {
        lift_m: Some(5.0),
        pipe_m: Some(40.0),
        panel_count: Some(5),
        panel_w: Some(80.0),
        garden_m2: Some(1500.0),
        pump: Some(PumpLabel {
            label_v: 12.0,
            flow_l_h: 15_000.0,
            head_m: 8.0,
            amps: Some(16.0),
            electronics: false,
            displacement: false,
        }),
        ..Sheet::default()
    };
    let market = Market::default();
    let stated = sheet.fill(climate.place.lat_deg).expect("the sheet is whole");
    c.bench_function("advice_stated_pump", |b| b.iter(|| advise(black_box(&stated), &climate, &market)));

    // Twice the garden that it waters: the whole search runs.
    let short = Sheet { garden_m2: Some(9000.0), ..sheet.clone() };
    let short = short.fill(climate.place.lat_deg).expect("the sheet is whole");
    c.bench_function("advice_with_fixes", |b| b.iter(|| advise_with_fixes(black_box(&short), &climate, &market)));

    let unstated = Sheet { pump: None, ..sheet }.fill(climate.place.lat_deg).expect("the sheet is whole");
    c.bench_function("advice_pump_chosen", |b| b.iter(|| advise(black_box(&unstated), &climate, &market)));
}

criterion_group!(benches, whole_year);
criterion_main!(benches);
