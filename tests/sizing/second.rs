//! The whole engine against a second, independent one.
//!
//! `tests/reference/engine.py` computes the same seasons with pvlib, pyet, fluids and scipy; `engine.json` is what it wrote.

use serde::Deserialize;

use noonwater::sizing::set::verdict::Verdict;
use noonwater::sizing::{Climate, Market, Place, Sheet, advise};

use crate::common::{near, near_share};

/// How closely the two must agree: water and flow one percent is asked, and 0.2 % is held.
const WATER: f64 = 0.002;
const NOON: f64 = 0.0005;
const ETO: f64 = 0.0005;
const LIGHT: f64 = 1e-5;

#[derive(Deserialize)]
struct Reference {
    places: Vec<Place>,
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    place: String,
    sheet: Sheet,
    answer: Answer,
}

#[derive(Deserialize)]
struct Answer {
    bore_mm: f64,
    design_month: u8,
    verdict: Option<Verdict>,
    over_driven: bool,
    wire: Wire,
    bright_noon: Noon,
    months: Vec<Month>,
}

#[derive(Deserialize)]
struct Wire {
    size_mm2: f64,
    drop_percent: f64,
    breaker_a: Option<f64>,
}

#[derive(Deserialize)]
struct Noon {
    flow_l_min: f64,
    head_m: f64,
    pipe_loss_m: f64,
    pump_v: f64,
    pump_a: f64,
    speed: f64,
}

#[derive(Deserialize)]
struct Month {
    month: u8,
    sun_kwh_m2_day: f64,
    panel_kwh_m2_day: f64,
    water_m3_day: f64,
    poor_day_m3: f64,
    pumping_hours: f64,
    eto_mm_day: f64,
    need_l_m2_day: f64,
    area_m2: Option<f64>,
}

#[test]
fn seasons_agree() {
    let reference: Reference = serde_json::from_str(include_str!("../reference/engine.json")).expect("engine.json reads");
    assert!(reference.cases.len() >= 20);
    for case in &reference.cases {
        let place = reference.places.iter().find(|place| place.name == case.place).expect("the place of a case");
        let climate = Climate::new(place.clone()).expect("a sound place");
        let filled = case.sheet.fill(place.lat_deg).expect("a sheet in range");
        let ours = advise(&filled, &climate, &Market::default()).expect("an answer");
        let theirs = &case.answer;
        let name = |what: &str| format!("{}: {what}", case.name);

        assert_eq!(ours.sheet.bore_mm, theirs.bore_mm, "{}", name("bore"));
        assert_eq!(ours.wire.size_mm2, theirs.wire.size_mm2, "{}", name("cable"));
        assert_eq!(ours.wire.breaker_a, theirs.wire.breaker_a, "{}", name("breaker"));
        assert_eq!(ours.design_month, theirs.design_month, "{}", name("design month"));
        // The rule of the mean day, and on top of it the rule that the low end must do too.
        let area_m2 = ours.design().area_m2.unwrap_or(f64::INFINITY);
        let by_the_mean_day = case.sheet.garden_m2.map(|garden| Verdict::of(area_m2, garden));
        assert_eq!(by_the_mean_day, theirs.verdict, "{}", name("verdict"));
        if ours.verdict != theirs.verdict {
            let low_m2 = area_m2 * ours.water_low_m3_day / ours.design().water.water_m3_day;
            assert_eq!(
                (theirs.verdict, ours.verdict),
                (Some(Verdict::Enough), Some(Verdict::Tight)),
                "{}",
                name("verdict")
            );
            assert!(low_m2 < 0.9 * case.sheet.garden_m2.unwrap_or_default(), "{}", name("low end"));
        }
        assert_eq!(ours.over_driven, theirs.over_driven, "{}", name("over-driven"));

        let (noon, other) = (&ours.bright_noon, &theirs.bright_noon);
        near_share(&name("noon flow"), noon.flow_l_min, other.flow_l_min, NOON);
        near_share(&name("noon head"), noon.head_m, other.head_m, NOON);
        near(&name("noon pipe loss"), noon.pipe_loss_m, other.pipe_loss_m, 1e-4);
        near_share(&name("noon volts"), noon.pump_v, other.pump_v, NOON);
        near_share(&name("noon amps"), noon.pump_a, other.pump_a, NOON);
        near_share(&name("noon speed"), noon.speed, other.speed, NOON);
        near_share(&name("cable drop"), ours.wire.drop_percent, theirs.wire.drop_percent, NOON);

        for (ours, theirs) in ours.months.iter().zip(&theirs.months) {
            let name = |what: &str| format!("{}, month {}: {what}", case.name, theirs.month);
            assert_eq!(ours.month, theirs.month);
            near_share(&name("sun"), ours.sun_kwh_m2_day, theirs.sun_kwh_m2_day, LIGHT);
            near_share(&name("on the panels"), ours.water.panel_kwh_m2_day, theirs.panel_kwh_m2_day, LIGHT);
            near_share(&name("ETo"), ours.eto_mm_day, theirs.eto_mm_day, ETO);
            near(&name("need"), ours.need_l_m2_day, theirs.need_l_m2_day, 0.002 * theirs.need_l_m2_day.max(1.0));
            near_share(&name("water"), ours.water.water_m3_day, theirs.water_m3_day, WATER);
            near_share(&name("poor day"), ours.water.poor_day_m3, theirs.poor_day_m3, WATER);
            near(&name("hours"), ours.water.pumping_hours, theirs.pumping_hours, 0.051);
            assert_eq!(ours.area_m2.is_some(), theirs.area_m2.is_some(), "{}", name("area"));
            if let (Some(ours), Some(theirs)) = (ours.area_m2, theirs.area_m2) {
                near_share(&name("area"), ours, theirs, 2.0 * WATER);
            }
        }
    }
}
