//! Anywhere within 60 degrees the numbers are finite and ordered.

use noonwater::atlas::nearest;
use noonwater::spot::Spot;

use noonwater::sizing::weather::place::MonthClimate;
use noonwater::sizing::{Climate, Market, Place, Sheet, advise};
use proptest::prelude::*;

fn sheet() -> Sheet {
    Sheet {
        lift_m: Some(5.0),
        pipe_m: Some(40.0),
        panel_count: Some(5),
        panel_w: Some(80.0),
        garden_m2: Some(1500.0),
        ..Sheet::default()
    }
}

fn is_ordered(climate: &Climate) {
    let filled = sheet().fill(climate.place.lat_deg).unwrap();
    let advice = advise(&filled, climate, &Market::default()).unwrap();
    assert_eq!(advice.months.len(), 12);
    for (month, weather) in advice.months.iter().zip(&climate.weather) {
        let water = &month.water;
        for value in [water.water_m3_day, water.poor_day_m3, water.pumping_hours, month.eto_mm_day, month.need_l_m2_day] {
            assert!(value.is_finite() && value >= 0.0, "{month:?}");
        }
        assert!(month.area_m2.is_none_or(|area| area.is_finite() && area >= 0.0), "{month:?}");
        assert!(water.poor_day_m3 <= water.water_m3_day + 1e-9, "{month:?}");
        assert!(water.pumping_hours <= 24.0 && weather.eto_mm_day < 25.0, "{month:?}");
    }
    assert!((1..=12).contains(&advice.low_water_month) && (1..=12).contains(&advice.design_month));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any latitude within 60 degrees, any plausible climate: finite, ordered numbers.
    #[test]
    fn any_climate_gives_finite_ordered_numbers(
        lat_deg in -60.0..60.0,
        alt_m in -400.0..4500.0,
        sun in 0.0_f64..1.0,
        months in prop::collection::vec((-9.9..30.0, 0.0..22.0, 5.0..100.0, 0.0..6.0, 0.0..600.0), 12),
    ) {
        let months = months.into_iter().map(|(t_min_c, range, rh, wind, rain)| MonthClimate {
            h_kwh_m2_day: None,
            // Days are no shorter than 5.5 hours up to 60 degrees.
            sunshine_h: Some(sun * 5.5),
            t_min_c,
            t_max_c: t_min_c + range,
            rh_percent: Some(rh),
            u2_m_s: Some(wind),
            rain_mm: Some(rain),
        });
        let place = Place {
            name: "anywhere".to_owned(),
            lat_deg,
            lon_deg: 0.0,
            alt_m,
            utc_offset_h: 0.0,
            coastal: false,
            season_months: Vec::new(),
            low_water_month: None,
            source: None,
            months: months.collect(),
        };
        is_ordered(&Climate::new(place).unwrap());
    }

    /// Any spot within 60 degrees, up to 3500 m: above that the lapse from a far lowland station can pass the coldest air
        /// that evapotranspiration is worked out for, which is an error and no number.
    #[test]
    fn any_spot_gives_finite_ordered_numbers(
        lat_deg in -60.0..60.0,
        lon_deg in -180.0..180.0,
        alt_m in prop::option::of(-400.0..3500.0),
    ) {
        let near = nearest(Spot { lat_deg, lon_deg, alt_m }).unwrap();
        is_ordered(&Climate::new(near.place().unwrap()).unwrap());
    }
}
