//! One whole-year advice: twelve months, ten day types, quarter-hour steps, with the bore and the cable chosen.

use criterion::{Criterion, criterion_group, criterion_main};
use noonwater::sizing::advice::advise_with_fixes;
use noonwater::sizing::pump::PumpLabel;
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
        pump: Some(PumpLabel { label_v: 12.0, flow_l_h: 15_000.0, head_m: 8.0, amps: Some(16.0), electronics: false }),
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
