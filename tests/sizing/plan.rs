//! The day's plan, the days between waterings and the suction lift.

use noonwater::sizing::advice::advise::HourFlow;
use noonwater::sizing::advice::caution::Caution;
use noonwater::sizing::advice::day_plan::{clock_h, day_stances, good_hours};
use noonwater::sizing::light::stance::TURNED_TILT_CAP_DEG;
use noonwater::sizing::need::crop::{CROPS, Stage, crop_named};
use noonwater::sizing::need::soil::{SOILS, interval_days, readily_available_mm, soil_named};
use noonwater::sizing::parts::suction::greatest_suction_m;
use noonwater::sizing::weather::place::Place;
use noonwater::sizing::{Sheet, SizingError};
use proptest::prelude::*;

use crate::common::{answer, class, kito, near};

#[test]
fn readily_available_water_of_the_worked_example() {
    // FAO-56 example 36 (from memory): onion 0.4 m p 0.30, tomato 0.8 m 0.40, maize 1.2 m 0.55, in loamy sand 0.15/0.06, silt
    // 0.32/0.15, silty clay 0.35/0.23; printed to the millimetre.
    for (available, readily) in [(0.09, [11.0, 29.0, 59.0]), (0.17, [20.0, 54.0, 112.0]), (0.12, [14.0, 38.0, 79.0])] {
        for ((root_m, depletion), printed) in [(0.4, 0.30), (0.8, 0.40), (1.2, 0.55)].into_iter().zip(readily) {
            near("RAW", readily_available_mm(available, root_m, depletion).unwrap(), printed, 0.51);
        }
    }
    assert!(readily_available_mm(0.9, 0.4, 0.3).is_err());
    assert!(readily_available_mm(0.1, f64::NAN, 0.3).is_err());
}

#[test]
fn soils_hold_what_table_19_says() {
    // FAO-56 (1998) table 19, p. 144: FC - WP.
    for (name, low, high) in [("sand", 0.05, 0.11), ("sandy_loam", 0.11, 0.15), ("loam", 0.13, 0.18), ("clay", 0.12, 0.20)]
    {
        assert_eq!(soil_named(name).unwrap().available, [low, high]);
    }
    assert!(matches!(soil_named("gravel"), Err(SizingError::Unknown { .. })));
    // Every name that words exist for has its figures, and the other way round.
    assert_eq!(SOILS.map(|soil| soil.name), noonwater::terms::SOILS);
    let mut crops = (CROPS.map(|crop| crop.name), noonwater::terms::CROPS);
    crops.0.sort_unstable();
    crops.1.sort_unstable();
    assert_eq!(crops.0, crops.1);
}

#[test]
fn sand_is_watered_more_often_than_loam_and_shallow_roots_than_deep_ones() {
    let days = |crop: &str, soil: &str, eto: f64| {
        let crop = crop_named(crop).unwrap();
        let etc_mm_day = crop.coefficient(Stage::Mid) * eto;
        interval_days(crop, crop.root_m[0], soil_named(soil).unwrap(), etc_mm_day).unwrap()
    };
    assert!(days("tomato", "sand", 5.0) < days("tomato", "sandy_loam", 5.0));
    assert!(days("tomato", "sandy_loam", 5.0) < days("tomato", "loam", 5.0));
    assert!(days("lettuce", "loam", 5.0) < days("tomato", "loam", 5.0));
    assert!(days("tomato", "loam", 8.0) < days("tomato", "loam", 4.0));
    // By hand: tomato Kc 1.15, ETc 5.75, p 0.40 - 0.03, roots 0.7 m, loam 0.155: 0.37 x 108.5 / 5.75 days.
    near("tomato on loam", days("tomato", "loam", 5.0), 6.98, 0.01);
}

#[test]
fn a_pump_is_lifted_less_high_in_the_mountains() {
    // Cross-check, air pressure by FAO-56: (p - p_vapour)/(rho g) at 20 degC is 10.11, 8.96, 8.42, 7.91, 7.43 m; at 25 degC a
    // little less, and 3 m go to the inlet. Common practice: 6 to 7 m at sea level, 1.15 m less for the first 1000 m.
    for (alt_m, over_vapour_m) in [(0.0, 10.03), (1000.0, 8.88), (1500.0, 8.34), (2000.0, 7.83), (2500.0, 7.35)] {
        near("suction", greatest_suction_m(alt_m).unwrap(), over_vapour_m - 3.0, 0.04);
    }
    near("the first kilometre", greatest_suction_m(0.0).unwrap() - greatest_suction_m(1000.0).unwrap(), 1.15, 0.03);
    assert!(greatest_suction_m(9000.0).is_err());
}

#[test]
fn a_pump_too_high_over_the_water_is_warned_of_at_low_water_too() {
    let sheet = |suction_m: Option<f64>, low_m: f64| Sheet {
        lift_m: Some(5.0),
        low_m: Some(low_m),
        pipe_m: Some(40.0),
        panel_count: Some(4),
        panel_w: Some(80.0),
        pump: Some(class("large")),
        suction_m,
        ..Sheet::default()
    };
    let warns = |suction_m: Option<f64>, low_m: f64| {
        answer(&sheet(suction_m, low_m), &kito()).cautions.contains(&Caution::SuctionTooHigh)
    };
    // At 1200 m the limit is near 5.7 m.
    assert!(!warns(None, 5.0) && !warns(Some(5.0), 5.0));
    assert!(warns(Some(6.0), 5.0));
    // The river falls a metre and leaves the pump a metre higher.
    assert!(warns(Some(5.0), 6.0));
}

#[test]
fn the_clock_at_solar_noon() {
    // Reda & Andreas table A5.1 (from memory): transit 11:46:05 on 2003-10-17 at 105.1786 W, UTC-7. The mean day of October is two
    // days earlier, the simple equation of time good to half a minute.
    let place = Place { lat_deg: 39.742, lon_deg: -105.1786, utc_offset_h: -7.0, ..kito().place };
    near("transit", clock_h(&place, 10, 12.0), 11.0 + 46.0 / 60.0 + 5.0 / 3600.0, 0.02);
    // A clock that runs over midnight stays on its face.
    let far = Place { lon_deg: -179.0, utc_offset_h: 14.0, ..kito().place };
    assert!((0.0..24.0).contains(&clock_h(&far, 1, 12.0)));
}

#[test]
fn the_cart_faces_the_sun() {
    let climate = kito();
    let june = day_stances(&climate, 6, TURNED_TILT_CAP_DEG).unwrap();
    // South of the equator the June sun stands in the north: the cart goes from north-east over north to north-west.
    let [morning, noon, afternoon] = june.facings.map(|facing| facing.compass_deg);
    assert!((20.0..80.0).contains(&morning), "{morning}");
    assert!(noon.min(360.0 - noon) < 2.0, "{noon}");
    near("the afternoon mirrors the morning", afternoon, 360.0 - morning, 1e-6);
    // At noon the tilt is the sun's zenith distance: latitude less declination.
    near("noon's tilt", june.facings[1].tilt_deg, 23.1 + 8.0, 0.3);
    assert!(june.facings.iter().all(|facing| facing.tilt_deg <= TURNED_TILT_CAP_DEG));
    assert!(june.turn_at_h[0] < june.turn_at_h[1]);
    near("four hours between turns", june.turn_at_h[1] - june.turn_at_h[0], 4.0, 1e-9);
    // Common practice: turning brings 20 to 25 percent, at some places and seasons more.
    for month in 1..=12 {
        let plan = day_stances(&climate, month, TURNED_TILT_CAP_DEG).unwrap();
        assert!((10.0..55.0).contains(&plan.gain_percent), "month {month}: {}", plan.gain_percent);
    }
    // Not tilted at all is lying flat.
    near("no gain", day_stances(&climate, 6, 0.0).unwrap().gain_percent, 0.0, 1e-9);
    assert!(day_stances(&climate, 13, 45.0).is_err());
}

#[test]
fn good_hours_begin_where_half_the_flow_does() {
    let hours = |flows: &[f64]| -> Vec<HourFlow> {
        flows.iter().zip(6..).map(|(&flow_l_min, hour)| HourFlow { solar_hour: f64::from(hour), flow_l_min }).collect()
    };
    let (from, to) = good_hours(&hours(&[0.0, 20.0, 80.0, 100.0, 70.0, 0.0])).unwrap();
    near("from", from, 7.5, 1e-12);
    near("to", to, 10.0 + 20.0 / 70.0, 1e-12);
    assert_eq!(good_hours(&hours(&[0.0, 0.0])), None);
    assert_eq!(good_hours(&hours(&[50.0, 50.0])), Some((6.0, 7.0)));
}

proptest! {
    #[test]
    fn good_hours_hold_the_greatest_flow(flows in prop::collection::vec(0.0..100.0_f64, 1..16)) {
        let hours: Vec<HourFlow> =
            flows.iter().zip(5..).map(|(&flow_l_min, hour)| HourFlow { solar_hour: f64::from(hour), flow_l_min }).collect();
        if let Some((from, to)) = good_hours(&hours) {
            let best = hours.iter().max_by(|a, b| a.flow_l_min.total_cmp(&b.flow_l_min)).unwrap();
            prop_assert!(from <= best.solar_hour && best.solar_hour <= to);
        } else {
            prop_assert!(flows.iter().all(|flow| *flow == 0.0));
        }
    }
}
