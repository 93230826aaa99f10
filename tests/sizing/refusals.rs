//! Out of range is an error, never a number and never a panic.

use noonwater::sizing::light::sky::{Light, MonthSky, skies_of};
use noonwater::sizing::light::stance::Stance;
use noonwater::sizing::need::crop::{Stage, crop_named, effective_rain_mm, need_l_m2_day};
use noonwater::sizing::operating::flow_table::FlowTable;
use noonwater::sizing::operating::plain::operating_point_plainly;
use noonwater::sizing::operating::point::{operating_point, operating_point_near};
use noonwater::sizing::operating::year::{Lifter, month_water};
use noonwater::sizing::parts::panel::Panel;
use noonwater::sizing::parts::pipe::{Pipe, friction_factor};
use noonwater::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use noonwater::sizing::parts::wire::{cable_ohm, choose_conductor, conductor};
use noonwater::sizing::sun::day_types::ClearnessDistribution;
use noonwater::sizing::sun::diffuse::{
    daily_diffuse_fraction, diffuse_hour_ratio, global_hour_ratio, hourly_diffuse_fraction,
};
use noonwater::sizing::sun::position::SunDay;
use noonwater::sizing::weather::evapotranspiration::{
    DayWeather, air_pressure_kpa, extraterrestrial, radiation_from_sunshine, radiation_from_temperatures, reference_mm_day,
    vapour_from_mean_humidity, wind_at_2_m,
};
use noonwater::sizing::weather::place::{MonthClimate, Place, PlaceProblem, Weather};
use noonwater::sizing::{Sheet, SizingError};
use noonwater::terms::PipeKind;

use crate::common::{class, kito, plain_circuit};
use noonwater::terms::{StanceKind, Watering};

const NO_NUMBERS: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

/// Every value that is no number, and these, must be refused under this name.
#[track_caller]
fn refused<T>(name: &str, values: &[f64], mut f: impl FnMut(f64) -> Result<T, SizingError>) {
    for &value in NO_NUMBERS.iter().chain(values) {
        match f(value) {
            Ok(_) => panic!("{name}={value} was taken"),
            Err(error) => assert_eq!(error.name(), name, "{value}"),
        }
    }
}

fn whole() -> Sheet {
    Sheet {
        lift_m: Some(5.0),
        pipe_m: Some(40.0),
        panel_count: Some(5),
        panel_w: Some(80.0),
        pump: Some(class("large")),
        ..Sheet::default()
    }
}

#[test]
fn sheets() {
    assert!(whole().fill(-8.0).is_ok());
    type Set = fn(&mut Sheet, f64);
    let fields: [(&str, &[f64], Set); 11] = [
        ("lift_m", &[-0.1, 151.0], |s, v| s.lift_m = Some(v)),
        ("low_m", &[-0.1, 151.0], |s, v| s.low_m = Some(v)),
        ("pipe_m", &[-1.0, 0.0, 5001.0], |s, v| s.pipe_m = Some(v)),
        ("bore_mm", &[-1.0, 0.0, 501.0], |s, v| s.bore_mm = Some(v)),
        ("panel_w", &[-1.0, 0.0, 1001.0], |s, v| s.panel_w = Some(v)),
        ("panel_total_w", &[-1.0, 0.0, 1e9], |s, v| {
            (s.panel_count, s.panel_w, s.panel_total_w) = (None, None, Some(v));
        }),
        ("well_l_h", &[-1.0, 0.0, 1e7], |s, v| s.well_l_h = Some(v)),
        ("garden_m2", &[-1.0, 0.0, 1e8], |s, v| s.garden_m2 = Some(v)),
        ("wire_m", &[-1.0, 0.0, 501.0], |s, v| s.wire_m = Some(v)),
        ("wire_mm2", &[-1.0, 0.0, 3.0, 25.0], |s, v| s.wire_mm2 = Some(v)),
        ("tilt_deg", &[-1.0, 91.0], |s, v| (s.stance, s.tilt_deg) = (Some(StanceKind::Fixed), Some(v))),
    ];
    for (name, values, set) in fields {
        refused(name, values, |value| {
            let mut sheet = whole();
            set(&mut sheet, value);
            sheet.fill(-8.0)
        });
    }
    // The whole numbers, and what is not there at all.
    let faults: [(&str, Sheet); 9] = [
        ("panel_count", Sheet { panel_count: Some(0), ..whole() }),
        ("panel_count", Sheet { panel_count: Some(u32::MAX), ..whole() }),
        ("pump_count", Sheet { pump_count: Some(0), ..whole() }),
        ("pump_count", Sheet { pump_count: Some(u32::MAX), ..whole() }),
        ("month", Sheet { month: Some(0), ..whole() }),
        ("month", Sheet { month: Some(13), ..whole() }),
        ("crop", Sheet { crop: Some("stones".to_owned()), ..whole() }),
        ("lift_m", Sheet { lift_m: None, ..whole() }),
        ("pipe_m", Sheet { pipe_m: None, ..whole() }),
    ];
    for (name, sheet) in faults {
        assert_eq!(sheet.fill(-8.0).expect_err(name).name(), name);
    }
    // A stance told without its tilt leans on the latitude.
    refused("lat_deg", &[60.1, -60.1], |lat| Sheet { stance: Some(StanceKind::Fixed), ..whole() }.fill(lat));
}

#[test]
fn pumps_pipes_panels_and_cables() {
    let label = class("large");
    let from = |label: PumpLabel| Pump::from_label(&label, LabelShare::default());
    refused("pump_v", &[-12.0, 0.0, 401.0], |v| from(PumpLabel { label_v: v, ..label }));
    refused("pump_l_h", &[-1.0, 0.0, 1e6], |v| from(PumpLabel { flow_l_h: v, ..label }));
    refused("pump_head_m", &[-1.0, 0.0, 301.0], |v| from(PumpLabel { head_m: v, ..label }));
    refused("pump_a", &[-1.0, 0.0, 201.0], |v| from(PumpLabel { amps: Some(v), ..label }));
    refused("label_share_flow", &[-1.0, 0.0, 3.0], |v| Pump::from_label(&label, LabelShare { flow: v, head: 0.85 }));
    refused("label_share_head", &[-1.0, 0.0, 3.0], |v| Pump::from_label(&label, LabelShare { flow: 0.85, head: v }));
    refused("pipe_m", &[-1.0, 0.0, 5001.0], |v| Pipe::new(v, 50.0, PipeKind::default()));
    refused("bore_mm", &[-1.0, 0.0, 501.0], |v| Pipe::new(50.0, v, PipeKind::default()));
    refused("reynolds", &[-1.0, 0.0, 1e9], |v| friction_factor(v, 0.001));
    refused("relative_roughness", &[-0.1, 0.06], |v| friction_factor(1e5, v));
    refused("panel_w", &[-1.0, 0.0, 1001.0], |v| Panel::new(v, 36));
    for cells in [0, 181, u32::MAX] {
        assert_eq!(Panel::new(80.0, cells).expect_err("cells").name(), "cells");
    }
    let panel = Panel::new(80.0, 36).expect("in range");
    refused("irradiance_w_m2", &[-1.0, 1501.0], |v| panel.at(v, 25.0));
    refused("cell_c", &[-41.0, 121.0], |v| panel.open_circuit_v(v));
    refused("cell_c", &[-41.0, 121.0], |v| panel.at(800.0, v));
    refused("wire_m", &[-1.0, 0.0, 501.0], |v| cable_ohm(&conductor(4.0)?, v));
    refused("wire_m", &[-1.0, 0.0, 501.0], |v| choose_conductor(v, 10.0, 14.0, 12.0, 12.0));
    refused("wire_mm2", &[-1.0, 0.0, 3.0], conductor);
}

#[test]
fn the_sky() {
    refused("lat_deg", &[-60.1, 60.1], |v| SunDay::new(v, 100));
    refused("lat_deg", &[-60.1, 60.1], |v| extraterrestrial(v, 100));
    for day in [0, 367, u16::MAX] {
        assert_eq!(SunDay::new(0.0, day).expect_err("day").name(), "day_of_year");
        assert_eq!(extraterrestrial(0.0, day).expect_err("day").name(), "day_of_year");
    }
    for month in [0, 13, u8::MAX] {
        assert_eq!(SunDay::of_month(0.0, month).expect_err("month").name(), "month");
    }
    refused("monthly_clearness", &[-0.1, 1.1], ClearnessDistribution::new);
    let days = ClearnessDistribution::new(0.5).expect("in range");
    refused("probability", &[-0.1, 1.1], |v| days.clearness_at(v));
    refused("daily_clearness", &[-0.1, 1.1], |v| daily_diffuse_fraction(v, 1.5));
    refused("hourly_clearness", &[-0.1, 1.3], hourly_diffuse_fraction);
    refused("sunset_rad", &[-1.0, 0.0, 3.2], |v| global_hour_ratio(0.0, v));
    refused("sunset_rad", &[-1.0, 0.0, 3.2], |v| diffuse_hour_ratio(0.0, v));
    refused("hour_angle_rad", &[-3.2, 3.2], |v| global_hour_ratio(v, 1.5));
    refused("hour_angle_rad", &[-3.2, 3.2], |v| diffuse_hour_ratio(v, 1.5));
    refused("tilt_deg", &[-1.0, 91.0], Stance::fixed);
    refused("tilt_deg", &[-1.0, 91.0], Stance::turned);
    let weather = Weather {
        month: 6,
        h_kwh_m2_day: 5.0,
        t_min_c: 12.0,
        t_max_c: 26.0,
        u2_m_s: 2.0,
        rain_mm: 0.0,
        rh_min_percent: 45.0,
        eto_mm_day: 4.0,
    };
    refused("lat_deg", &[-60.1, 60.1], |v| MonthSky::new(v, &weather, Stance::FLAT));
    refused("t_min_c", &[-41.0, 46.0], |v| MonthSky::new(0.0, &Weather { t_min_c: v, ..weather }, Stance::FLAT));
    refused("t_max_c", &[-41.0, 56.0], |v| MonthSky::new(0.0, &Weather { t_max_c: v, ..weather }, Stance::FLAT));
    refused("u2_m_s", &[-0.1, 21.0], |v| MonthSky::new(0.0, &Weather { u2_m_s: v, ..weather }, Stance::FLAT));
    refused("monthly_clearness", &[-1.0, 20.0], |v| {
        MonthSky::new(0.0, &Weather { h_kwh_m2_day: v, ..weather }, Stance::FLAT)
    });
    refused("month", &[], |v| {
        if v.is_nan() {
            MonthSky::new(0.0, &Weather { month: 0, ..weather }, Stance::FLAT)
        } else {
            MonthSky::new(0.0, &Weather { month: 13, ..weather }, Stance::FLAT)
        }
    });
}

#[test]
fn meeting_points() {
    let circuit = plain_circuit();
    let light = Light { poa_w_m2: 800.0, cell_c: 45.0 };
    refused("poa_w_m2", &[-1.0, 2000.0], |v| operating_point(&circuit, Light { poa_w_m2: v, ..light }));
    refused("cell_c", &[-41.0, 121.0], |v| operating_point(&circuit, Light { cell_c: v, ..light }));
    refused("irradiance_w_m2", &[-1.0, 2000.0], |v| operating_point_plainly(&circuit, v, 45.0));
    refused("cell_c", &[-41.0, 121.0], |v| operating_point_plainly(&circuit, 800.0, v));
    refused("cell_c", &[-41.0, 111.0], |v| FlowTable::new(&circuit, v, 60.0));
    refused("cell_c", &[9.0, 111.0], |v| FlowTable::new(&circuit, 10.0, v));
    for near_m3_s in [0.0, 1e-3, f64::NAN] {
        refused("poa_w_m2", &[-1.0, 2000.0], |v| operating_point_near(&circuit, Light { poa_w_m2: v, ..light }, near_m3_s));
        refused("cell_c", &[-41.0, 121.0], |v| operating_point_near(&circuit, Light { cell_c: v, ..light }, near_m3_s));
    }
    let table = FlowTable::new(&circuit, 10.0, 60.0).expect("in range");
    refused("poa_w_m2", &[-1.0, 2000.0], |v| table.flow_m3_s(Light { poa_w_m2: v, ..light }));
    refused("cell_c", &[-41.0, 121.0], |v| table.flow_m3_s(Light { cell_c: v, ..light }));
    let sky = &skies_of(&kito(), Stance::FLAT).expect("in range")[6];
    refused("pump_count", &[-1.0, 1e6], |v| month_water(sky, &table, v, 1.0));
    // A well without end is a well; one of no number, or that takes water, is none.
    for cap_m3_s in [f64::NAN, f64::NEG_INFINITY, -1e-3] {
        assert_eq!(month_water(sky, &table, 1.0, cap_m3_s).expect_err("a well").name(), "well_m3_s");
    }
}

#[test]
fn the_garden_s_weather() {
    let sky = extraterrestrial(-8.0, 162).expect("in range");
    refused("sunshine_h", &[-0.1, 13.0], |v| radiation_from_sunshine(v, sky));
    refused("t_max_c", &[5.0, 60.0], |v| radiation_from_temperatures(10.0, v, false, 0.0, sky));
    refused("alt_m", &[-500.0, 6001.0], air_pressure_kpa);
    refused("wind_m_s", &[-0.1, 61.0], |v| wind_at_2_m(v, 10.0));
    refused("wind_height_m", &[-1.0, 0.0, 101.0], |v| wind_at_2_m(3.0, v));
    refused("rh_percent", &[-1.0, 0.0, 101.0], |v| vapour_from_mean_humidity(v, 10.0, 20.0));
    refused("rain_mm", &[-0.1, 3001.0], effective_rain_mm);
    let onion = crop_named("onion").expect("known");
    let june = Weather {
        month: 6,
        h_kwh_m2_day: 5.0,
        t_min_c: 12.0,
        t_max_c: 26.0,
        u2_m_s: 2.0,
        rain_mm: 0.0,
        rh_min_percent: 45.0,
        eto_mm_day: 5.0,
    };
    let need = |weather: Weather| need_l_m2_day(onion, Stage::Mid, Watering::Furrow, &weather);
    refused("rain_mm", &[-0.1, 3001.0], |v| need(Weather { rain_mm: v, ..june }));
    refused("eto_mm_day", &[-0.1, 50.0], |v| need(Weather { eto_mm_day: v, ..june }));
    for month in [0, 13] {
        assert_eq!(need(Weather { month, ..june }).expect_err("month").name(), "month");
    }
    let day = DayWeather {
        t_min_c: 12.0,
        t_max_c: 26.0,
        t_mean_c: 19.0,
        vapour_kpa: 1.2,
        wind_2m_m_s: 2.0,
        radiation_mj_m2: 18.0,
        soil_heat_mj_m2: 0.0,
        altitude_m: 100.0,
    };
    refused("t_mean_c", &[-60.0, 60.0], |v| reference_mm_day(&DayWeather { t_mean_c: v, ..day }, sky));
    refused("u2_m_s", &[-0.1, 21.0], |v| reference_mm_day(&DayWeather { wind_2m_m_s: v, ..day }, sky));
    refused("radiation_mj_m2", &[-0.1, 46.0], |v| reference_mm_day(&DayWeather { radiation_mj_m2: v, ..day }, sky));
    refused("alt_m", &[-500.0, 6001.0], |v| reference_mm_day(&DayWeather { altitude_m: v, ..day }, sky));
    refused("vapour_kpa", &[-0.1, 20.0], |v| reference_mm_day(&DayWeather { vapour_kpa: v, ..day }, sky));
    refused("t_min_c", &[-90.0, 90.0], |v| reference_mm_day(&DayWeather { t_min_c: v, ..day }, sky));
    refused("t_max_c", &[-90.0, 90.0], |v| reference_mm_day(&DayWeather { t_max_c: v, ..day }, sky));
    refused("soil_heat_mj_m2", &[-90.0, 90.0], |v| reference_mm_day(&DayWeather { soil_heat_mj_m2: v, ..day }, sky));
}

#[test]
fn places() {
    let place = kito().place;
    type Set = fn(&mut Place, f64);
    let of_place: [(&str, &[f64], Set); 4] = [
        ("lat_deg", &[-60.1, 60.1], |p, v| p.lat_deg = v),
        ("lon_deg", &[-181.0, 181.0], |p, v| p.lon_deg = v),
        ("alt_m", &[-500.0, 6001.0], |p, v| p.alt_m = v),
        ("utc_offset_h", &[-13.0, 15.0], |p, v| p.utc_offset_h = v),
    ];
    for (key, values, set) in of_place {
        for &value in NO_NUMBERS.iter().chain(values) {
            let mut wrong = place.clone();
            set(&mut wrong, value);
            let error = wrong.weather().expect_err(key);
            assert_eq!((error.key, error.month), (key, None), "{value}");
        }
    }
    type SetMonth = fn(&mut MonthClimate, f64);
    let of_month: [(&str, &[f64], SetMonth); 7] = [
        ("h_kwh_m2_day", &[-1.0, 0.0, 11.5, 14.0], |m, v| m.h_kwh_m2_day = Some(v)),
        ("sunshine_h", &[-1.0, 15.0], |m, v| (m.h_kwh_m2_day, m.sunshine_h) = (None, Some(v))),
        ("t_min_c", &[-41.0, 30.5, 46.0], |m, v| m.t_min_c = v),
        ("t_max_c", &[56.0], |m, v| m.t_max_c = v),
        ("rh_percent", &[-1.0, 0.0, 101.0], |m, v| m.rh_percent = Some(v)),
        ("u2_m_s", &[-0.1, 21.0], |m, v| m.u2_m_s = Some(v)),
        ("rain_mm", &[-0.1, 3001.0], |m, v| m.rain_mm = Some(v)),
    ];
    for (key, values, set) in of_month {
        for &value in NO_NUMBERS.iter().chain(values) {
            let mut wrong = place.clone();
            set(&mut wrong.months[6], value);
            let error = wrong.weather().expect_err(key);
            assert_eq!((error.key, error.month), (key, Some(7)), "{value}");
        }
    }
    let few = Place { months: place.months[..11].to_vec(), ..place.clone() };
    assert!(matches!(few.weather().expect_err("months").problem, PlaceProblem::MonthCount(11)));
    for month in [0, 13] {
        let wrong = Place { season_months: vec![month], ..place.clone() };
        assert_eq!(wrong.weather().expect_err("season").key, "season_months");
    }
}
