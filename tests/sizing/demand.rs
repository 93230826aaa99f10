//! What grass and crops drink.
//!
//! FAO-56 is Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56, first edition; pages are printed ones.

use noonwater::sizing::need::crop::{Stage, crop_named, effective_rain_mm, need_l_m2_day};
use noonwater::sizing::weather::evapotranspiration::{
    DayWeather, Extraterrestrial, air_pressure_kpa, clear_sky_radiation, extraterrestrial, mean_saturation_kpa,
    net_longwave_mj, psychrometric_kpa_k, radiation_from_sunshine, radiation_from_temperatures, reference_mm_day,
    saturation_kpa, saturation_slope_kpa_k, vapour_from_mean_humidity, wind_at_2_m,
};

use crate::common::near;
use noonwater::sizing::weather::place::Weather;
use noonwater::terms::Watering;

fn sky(lat_deg: f64, day_of_year: u16) -> Extraterrestrial {
    extraterrestrial(lat_deg, day_of_year).expect("in range")
}

fn dms(degrees: f64, minutes: f64) -> f64 {
    degrees + minutes / 60.0
}

#[test]
fn air_and_vapour_of_fao_56() {
    // Example 2, p. 32: 1800 m: 81.8 kPa, 0.054 kPa/K.
    let pressure = air_pressure_kpa(1800.0).expect("in range");
    near("pressure", pressure, 81.8, 0.05);
    near("psychrometric constant", psychrometric_kpa_k(pressure), 0.054, 5e-4);
    // Example 3, p. 36: 24.5 and 15 degC: 3.075, 1.705, mean 2.39 kPa.
    near("e(24.5)", saturation_kpa(24.5), 3.075, 1e-3);
    near("e(15)", saturation_kpa(15.0), 1.705, 1e-3);
    near("es", mean_saturation_kpa(15.0, 24.5), 2.39, 5e-3);
    // Example 5, p. 39: 25/18 degC with 54/82 %: 1.70 kPa by eq. 17.
    let ea = (saturation_kpa(18.0) * 0.82 + saturation_kpa(25.0) * 0.54) / 2.0;
    near("ea, example 5", ea, 1.70, 5e-3);
    // Eq. 19 with the mean humidity of that example, 68 %: 1.78 kPa (FAO-56 p. 39, the alternative below the example).
    near("ea by eq. 19", vapour_from_mean_humidity(68.0, 18.0, 25.0).expect("in range"), 1.78, 0.01);
    // Eqs. 11 and 13 worked at round temperatures (annex 2, tables 2.3 and 2.4, one digit more).
    let rows = [
        (10.0, 1.228, 0.0823),
        (15.0, 1.7053, 0.1098),
        (20.0, 2.3383, 0.1447),
        (25.0, 3.1678, 0.1887),
        (30.0, 4.2431, 0.2434),
        (35.0, 5.6227, 0.3108),
        (40.0, 7.3756, 0.3931),
    ];
    for (t, e, slope) in rows {
        near("saturation", saturation_kpa(t), e, 6e-4);
        near("slope", saturation_slope_kpa_k(t), slope, 1e-4);
    }
    // Eq. 7 worked at round altitudes (annex 2, tables 2.1 and 2.2, one digit more).
    let rows = [
        (0.0, 101.30, 0.0674),
        (500.0, 95.53, 0.0635),
        (1000.0, 90.02, 0.0599),
        (1500.0, 84.78, 0.0564),
        (2000.0, 79.79, 0.0531),
        (2500.0, 75.04, 0.0499),
    ];
    for (z, p, gamma) in rows {
        let pressure = air_pressure_kpa(z).expect("in range");
        near("pressure", pressure, p, 5e-3);
        near("gamma", psychrometric_kpa_k(pressure), gamma, 5e-5);
    }
}

#[test]
fn wind_brought_to_two_metres() {
    // Example 14, p. 56: 3.2 m/s at 10 m is 2.4 m/s at 2 m.
    near("wind", wind_at_2_m(3.2, 10.0).expect("in range"), 2.4, 0.05);
    // Eq. 47's factors (annex 2, table 2.9).
    for (z, factor) in [(1.0, 1.178), (2.0, 1.000), (3.0, 0.921), (4.0, 0.872), (5.0, 0.838), (10.0, 0.748)] {
        near("factor", wind_at_2_m(1.0, z).expect("in range"), factor, 6e-4);
    }
}

#[test]
fn radiation_of_fao_56() {
    // Examples 8 and 9, pp. 47 and 49: 3 September at 20 S: Ra 32.2 MJ/m², N 11.7 h.
    let september = sky(-20.0, 246);
    near("Ra, example 8", september.ra_mj_m2_day, 32.2, 0.05);
    near("N, example 9", september.day_length_h, 11.7, 0.05);
    // Example 10, p. 50: Rio de Janeiro in May, 220 h of sun in 31 days: Ra 25.1, N 10.9, Rs 14.5.
    let rio = sky(-22.9, 135);
    near("Ra, example 10", rio.ra_mj_m2_day, 25.1, 0.05);
    near("N, example 10", rio.day_length_h, 10.9, 0.05);
    let rs = radiation_from_sunshine(220.0 / 31.0, rio).expect("in range");
    near("Rs, example 10", rs, 14.5, 0.05);
    near("Rso, example 11", clear_sky_radiation(0.0, rio), 18.8, 0.05);
    // Examples 11 and 12, pp. 52-53: there, ea 2.1 kPa, 25.1/19.1 degC: Rnl 3.5, Rn 7.6.
    let longwave = net_longwave_mj(19.1, 25.1, 2.1, 14.5, 18.8);
    near("Rnl, example 11", longwave, 3.5, 0.05);
    near("Rn, example 12", 0.77 * 14.5 - longwave, 7.6, 0.05);
}

#[test]
fn bangkok_in_april() {
    // Example 17, p. 70: 13 deg 44' N, 2 m, 34.8/25.6 degC, ea 2.85 kPa, 2 m/s, 8.5 h of sun, mean 30.2 with 29.2 before.
    let april = sky(dms(13.0, 44.0), 105);
    near("Ra", april.ra_mj_m2_day, 38.06, 0.02);
    near("N", april.day_length_h, 12.31, 0.01);
    let rs = radiation_from_sunshine(8.5, april).expect("in range");
    near("Rs", rs, 22.65, 0.02);
    near("Rso", clear_sky_radiation(2.0, april), 28.54, 0.02);
    near("Rnl", net_longwave_mj(25.6, 34.8, 2.85, rs, clear_sky_radiation(2.0, april)), 3.11, 0.01);
    let day = DayWeather {
        t_min_c: 25.6,
        t_max_c: 34.8,
        t_mean_c: 30.2,
        vapour_kpa: 2.85,
        wind_2m_m_s: 2.0,
        radiation_mj_m2: rs,
        soil_heat_mj_m2: 0.14 * (30.2 - 29.2),
        altitude_m: 2.0,
    };
    near("ETo", reference_mm_day(&day, april).expect("in range"), 5.72, 0.01);
}

#[test]
fn uccle_on_the_sixth_of_july() {
    // Example 18, p. 72: 50 deg 48' N, 100 m, 21.5/12.3 degC, 84/63 %, 10 km/h at 10 m, 9.25 h of sun.
    let july = sky(dms(50.0, 48.0), 187);
    near("Ra", july.ra_mj_m2_day, 41.09, 0.02);
    let wind = wind_at_2_m(10.0 / 3.6, 10.0).expect("in range");
    near("u2", wind, 2.078, 1e-3);
    let vapour_kpa = (saturation_kpa(12.3) * 0.84 + saturation_kpa(21.5) * 0.63) / 2.0;
    near("ea", vapour_kpa, 1.409, 1e-3);
    near("es", mean_saturation_kpa(12.3, 21.5), 1.997, 1e-3);
    let rs = radiation_from_sunshine(9.25, july).expect("in range");
    near("Rs", rs, 22.07, 0.02);
    let longwave = net_longwave_mj(12.3, 21.5, vapour_kpa, rs, clear_sky_radiation(100.0, july));
    near("Rnl", longwave, 3.71, 0.01);
    near("Rn", 0.77 * rs - longwave, 13.28, 0.02);
    let day = DayWeather {
        t_min_c: 12.3,
        t_max_c: 21.5,
        t_mean_c: 16.9,
        vapour_kpa,
        wind_2m_m_s: wind,
        radiation_mj_m2: rs,
        soil_heat_mj_m2: 0.0,
        altitude_m: 100.0,
    };
    near("ETo", reference_mm_day(&day, july).expect("in range"), 3.88, 0.005);
}

#[test]
fn lyon_with_temperatures_alone() {
    // Example 20, p. 77: 45 deg 43' N, 200 m, 26.6/14.8 degC, wind unknown (2 m/s), kRs 0.16: Ra 40.55, Rs 22.29, ETo 4.56.
    let july = sky(dms(45.0, 43.0), 196);
    near("Ra", july.ra_mj_m2_day, 40.55, 0.02);
    let rs = radiation_from_temperatures(14.8, 26.6, false, 200.0, july).expect("in range");
    near("Rs", rs, 22.29, 0.02);
    let day = DayWeather {
        t_min_c: 14.8,
        t_max_c: 26.6,
        t_mean_c: 20.7,
        vapour_kpa: saturation_kpa(14.8),
        wind_2m_m_s: 2.0,
        radiation_mj_m2: rs,
        soil_heat_mj_m2: 0.0,
        altitude_m: 200.0,
    };
    near("ETo", reference_mm_day(&day, july).expect("in range"), 4.56, 0.005);
    // Eq. 50: on the coast 0.19 in place of 0.16.
    let coast = radiation_from_temperatures(20.0, 28.0, true, 0.0, july).expect("in range");
    let inland = radiation_from_temperatures(20.0, 28.0, false, 0.0, july).expect("in range");
    near("coast over inland", coast / inland, 0.19 / 0.16, 1e-12);
    // Eq. 50 is bounded by the clear sky (p. 60).
    let wide = radiation_from_temperatures(0.0, 36.0, false, 0.0, july).expect("in range");
    near("bounded", wide, clear_sky_radiation(0.0, july), 1e-12);
}

#[test]
fn crops_of_the_tables() {
    // Table 12, pp. 110-112: Kc at the start, in mid-season, at the end (midpoints of ranges). Table 22, pp. 163-165: rooting
    // depth, m, and depletion.
    let table = [
        ("tomato", [0.60, 1.15, 0.80], [0.7, 1.5], 0.40),
        ("onion", [0.70, 1.05, 0.75], [0.3, 0.6], 0.30),
        ("green_onion", [0.70, 1.00, 1.00], [0.3, 0.6], 0.30),
        ("cabbage", [0.70, 1.05, 0.95], [0.5, 0.8], 0.45),
        ("carrot", [0.70, 1.05, 0.95], [0.5, 1.0], 0.35),
        ("pepper", [0.60, 1.05, 0.90], [0.5, 1.0], 0.30),
        ("eggplant", [0.60, 1.05, 0.90], [0.7, 1.2], 0.45),
        ("lettuce", [0.70, 1.00, 0.95], [0.3, 0.5], 0.30),
        ("spinach", [0.70, 1.00, 0.95], [0.3, 0.5], 0.20),
        ("cucumber", [0.60, 1.00, 0.75], [0.7, 1.2], 0.50),
        ("watermelon", [0.40, 1.00, 0.75], [0.8, 1.5], 0.40),
        ("squash", [0.50, 0.95, 0.75], [0.6, 1.0], 0.50),
        ("green_bean", [0.50, 1.05, 0.90], [0.5, 0.7], 0.45),
        ("groundnut", [0.40, 1.15, 0.60], [0.5, 1.0], 0.50),
        ("maize", [0.30, 1.20, 0.60], [1.0, 1.7], 0.55),
        ("sweet_maize", [0.30, 1.15, 1.05], [0.8, 1.2], 0.50),
        ("potato", [0.50, 1.15, 0.75], [0.4, 0.6], 0.35),
        ("sweet_potato", [0.50, 1.15, 0.65], [1.0, 1.5], 0.65),
        ("cassava", [0.30, 0.80, 0.30], [0.5, 0.8], 0.35),
        ("banana", [0.50, 1.10, 1.00], [0.5, 0.9], 0.35),
    ];
    for (name, kc, root_m, depletion) in table {
        let crop = crop_named(name).expect(name);
        assert_eq!((crop.kc, crop.root_m, crop.depletion), (kc, root_m, depletion), "{name}");
    }
    // Table 12's group line of small vegetables, mid-season.
    assert_eq!(crop_named("mixed_vegetables").expect("the default").coefficient(Stage::default()), 1.05);
}

#[test]
fn rain_that_counts() {
    // The simplified USDA-SCS formula in its published form (FAO Irrigation and Drainage Paper 46 lineage), worked by hand.
    for (rain, effective) in [(10.0, 9.84), (50.0, 46.0), (100.0, 84.0), (200.0, 136.0), (250.0, 150.0), (300.0, 155.0)] {
        near("effective rain", effective_rain_mm(rain).expect("in range"), effective, 1e-9);
    }
}

/// A month as windy and as dry as the tables of crop coefficients take for granted.
fn month(month: u8, eto_mm_day: f64, rain_mm: f64) -> Weather {
    let (h_kwh_m2_day, t_min_c, t_max_c, u2_m_s, rh_min_percent) = (5.0, 12.0, 26.0, 2.0, 45.0);
    Weather { month, h_kwh_m2_day, t_min_c, t_max_c, u2_m_s, rain_mm, rh_min_percent, eto_mm_day }
}

#[test]
fn crop_coefficients_in_wind_and_dryness() {
    // FAO-56 example 27, p. 125: maize of 2 m, Kc mid 1.20: 1.07 in a wind of 1.3 m/s at RHmin 75 %, 1.30 in 4.6 m/s at 44 %.
    let maize = crop_named("maize").expect("known");
    near("humid and still", maize.coefficient_in(Stage::Mid, 1.3, 75.0), 1.07, 0.005);
    near("dry and windy", maize.coefficient_in(Stage::Mid, 4.6, 44.0), 1.30, 0.005);
    // Outside of the equation's own ranges, wind 1..6 m/s and humidity 20..80 %, the nearest end.
    let onion = crop_named("onion").expect("known");
    assert_eq!(onion.coefficient_in(Stage::Mid, 0.1, 95.0), onion.coefficient_in(Stage::Mid, 1.0, 80.0));
    assert_eq!(onion.coefficient_in(Stage::Mid, 9.0, 5.0), onion.coefficient_in(Stage::Mid, 6.0, 20.0));
}

#[test]
fn need_of_a_crop() {
    // FAO Irrigation Water Management Training Manual 4 (Brouwer, Prins & Heibloem 1989), annex I table 8: surface 60 %,
    // sprinkler 75 %, drip 90 %. The hose's 70 % is common practice, no source.
    let shares = [
        (Watering::Furrow, 0.60),
        (Watering::Sprinkler, 0.75),
        (Watering::Drip, 0.90),
        (Watering::Tape, 0.90),
        (Watering::Hose, 0.70),
    ];
    let onion = crop_named("onion").expect("known");
    for (watering, share) in shares {
        // By hand: Kc 1.05 x 6 mm less 50 mm of rain that counts as 46 mm over a June of 30 days.
        let need = need_l_m2_day(onion, Stage::Mid, watering, &month(6, 6.0, 50.0)).expect("in range");
        near(watering.name(), need, (1.05 * 6.0 - 46.0 / 30.0) / share, 1e-12);
    }
    // February has 28 days; rain beyond the crop's want leaves a need of nothing.
    let february = need_l_m2_day(onion, Stage::Early, Watering::Furrow, &month(2, 5.0, 10.0)).expect("in range");
    near("February", february, (0.7 * 5.0 - 9.84 / 28.0) / 0.6, 1e-12);
    assert_eq!(need_l_m2_day(onion, Stage::Mid, Watering::Furrow, &month(1, 3.0, 200.0)).expect("in range"), 0.0);
}
