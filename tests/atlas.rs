//! From any town and any spot on the map: the atlas's own figures, spots, and talks that begin with them.

#[path = "atlas/everywhere.rs"]
mod everywhere;
#[path = "atlas/imports.rs"]
mod imports;
#[path = "atlas/talks.rs"]
mod talks;

use noonwater::atlas::nearest::{FAR_KM, distance_km, nearest_of};
use noonwater::atlas::{nearest, stations, town};
use noonwater::sizing::sun::position::{MEAN_DAY, SunDay};
use noonwater::sizing::weather::evapotranspiration::{MJ_PER_KWH, extraterrestrial};
use noonwater::sizing::weather::place::DAYS_IN_MONTH;
use noonwater::sizing::{Climate, Place};
use noonwater::spot::{Spot, SpotFault, parse, scan};

fn spot(lat_deg: f64, lon_deg: f64) -> Spot {
    Spot { lat_deg, lon_deg, alt_m: None }
}

/// Yearly radiation and Penman-Monteith totals computed by another coding of FAO-56 (Python, from the same reports,
/// without the share that is taken off for dust), in tests/data/atlas-checks.csv.
#[test]
fn the_table_is_sound_and_its_totals_are_those_of_another_coding() {
    let checks = include_str!("data/atlas-checks.csv");
    let mut rows = csv::Reader::from_reader(checks.as_bytes());
    let checks: Vec<(String, String, f64, f64)> = rows.deserialize().map(Result::unwrap).collect();
    assert_eq!(checks.len(), stations().len());
    for (station, (wmo, name, rs_kwh, eto_mm)) in stations().iter().zip(checks) {
        assert_eq!((&station.wmo, &station.town), (&wmo, &name));
        let climate = station.climate().unwrap();
        let undimmed = Climate::new(Place { months: station.months.clone(), ..station.place().unwrap() }).unwrap();
        let (mut radiation, mut eto) = (0.0, 0.0);
        for (index, (month, weather)) in station.months.iter().zip(&climate.weather).enumerate() {
            let at = format!("{name}, month {}", index + 1);
            let sky = extraterrestrial(station.lat_deg, MEAN_DAY[index]).unwrap();
            let sunshine_h = month.sunshine_h.unwrap();
            assert!(sunshine_h > 0.5 && sunshine_h <= sky.day_length_h, "{at}: {sunshine_h} h");
            assert!(month.t_min_c + 2.0 < month.t_max_c, "{at}");
            let top = SunDay::new(station.lat_deg, MEAN_DAY[index]).unwrap().extraterrestrial_kwh_m2();
            assert!(weather.h_kwh_m2_day < 0.76 * top.min(sky.ra_mj_m2_day / MJ_PER_KWH), "{at}");
            assert!((0.5..12.0).contains(&weather.eto_mm_day), "{at}: {}", weather.eto_mm_day);
            radiation += weather.h_kwh_m2_day * DAYS_IN_MONTH[index] / 365.0;
            eto += undimmed.weather[index].eto_mm_day * DAYS_IN_MONTH[index];
            assert!(weather.eto_mm_day <= undimmed.weather[index].eto_mm_day + 1e-9, "{at}");
        }
        assert!((radiation / (station.angstrom_share * rs_kwh) - 1.0).abs() < 0.005, "{name}: {radiation} {rs_kwh}");
        assert!((eto / eto_mm - 1.0).abs() < 0.005, "{name}: {eto} {eto_mm}");
        assert!((900.0..2700.0).contains(&eto), "{name}: {eto}");
        assert!(station.source.contains("Deutscher Wetterdienst") || station.source.contains("WMO"), "{name}");
        assert!(!station.period.is_empty(), "{name}");
    }
}

#[test]
fn no_two_stations_share_a_name_and_all_lie_apart() {
    let mut keys: Vec<String> = stations()
        .iter()
        .flat_map(|station| std::iter::once(&station.town).chain(&station.also))
        .map(|name| noonwater::atlas::name_key(name))
        .collect();
    let count = keys.len();
    keys.sort();
    keys.dedup();
    assert_eq!(keys.len(), count);
    for station in stations() {
        let own = nearest(spot(station.lat_deg, station.lon_deg)).unwrap();
        assert_eq!((own.station, own.distance_km), (station, 0.0));
        // At the station itself nothing is changed: Hann and the lapse act on a difference of altitude only.
        let (there, here) = (station.climate().unwrap(), Climate::new(own.place().unwrap()).unwrap());
        for (there, here) in there.weather.iter().zip(&here.weather) {
            assert!((there.eto_mm_day - here.eto_mm_day).abs() < 1e-9, "{}", station.town);
            assert!((there.h_kwh_m2_day - here.h_kwh_m2_day).abs() < 1e-9, "{}", station.town);
        }
    }
}

/// The atlas against itself: every station foretold from its neighbour within 500 km and 800 m.
#[test]
fn a_neighbour_foretells_a_station_within_the_margin_that_is_stated() {
    let (mut sun, mut need, mut count) = (0.0, 0.0, 0.0);
    for station in stations() {
        let here = Spot { alt_m: Some(station.alt_m), ..spot(station.lat_deg, station.lon_deg) };
        let others = stations().iter().filter(|other| {
            let far = distance_km((station.lat_deg, station.lon_deg), (other.lat_deg, other.lon_deg));
            *other != station && far <= 500.0 && (other.alt_m - station.alt_m).abs() <= 800.0
        });
        let Some(near) = nearest_of(here, others) else { continue };
        let (told, foretold) = (station.climate().unwrap(), Climate::new(near.place().unwrap()).unwrap());
        for (told, foretold) in told.weather.iter().zip(&foretold.weather) {
            sun += (foretold.h_kwh_m2_day / told.h_kwh_m2_day - 1.0).powi(2);
            need += (foretold.eto_mm_day / told.eto_mm_day - 1.0).powi(2);
            count += 1.0;
        }
    }
    let (sun, need) = (f64::sqrt(sun / count), f64::sqrt(need / count));
    assert!(count >= 30.0 * 12.0, "{count} months");
    assert!(sun < 0.085 && need < 0.135, "radiation {sun:.3}, evapotranspiration {need:.3}");
}

/// On a sphere of 6371 km a degree of a great circle is 6371 pi/180 = 111.19 km, and half of that along 60 degrees.
#[test]
fn distances_are_those_of_the_globe() {
    for (from, to, km) in [
        ((0.0, 0.0), (1.0, 0.0), 111.19),
        ((60.0, 0.0), (60.0, 1.0), 55.59),
        ((0.0, 179.5), (0.0, -179.5), 111.19),
        ((0.0, 0.0), (0.0, 180.0), 20015.1),
    ] {
        let found = distance_km(from, to);
        assert!((found - km).abs() < 0.1, "{from:?} {to:?}: {found}");
    }
}

#[test]
fn a_spot_is_read_however_it_is_typed() {
    let at = |lat_deg, lon_deg, alt_m: Option<f64>| Some(Ok(Spot { lat_deg, lon_deg, alt_m }));
    for (text, read) in [
        ("-8.2 35.1", at(-8.2, 35.1, None)),
        ("-8.2, 35.1", at(-8.2, 35.1, None)),
        ("-8.2,35.1", at(-8.2, 35.1, None)),
        ("-8,2 35,1", at(-8.2, 35.1, None)),
        ("-8,2; 35,1", at(-8.2, 35.1, None)),
        ("-8,35", at(-8.0, 35.0, None)),
        ("8.2S 35.1E 1200m", at(-8.2, 35.1, Some(1200.0))),
        ("8.2 s, 35.1 e, 1200 m", at(-8.2, 35.1, Some(1200.0))),
        ("S8.2 E35.1", at(-8.2, 35.1, None)),
        ("S 8.2 E 35.1", at(-8.2, 35.1, None)),
        ("35.1E 8.2S", at(-8.2, 35.1, None)),
        ("12.4N 1.5W", at(12.4, -1.5, None)),
        ("8°12'S 35°6'E", at(-8.2, 35.1, None)),
        ("8° 12' 30\" S 35° 6' E", at(-8.2083, 35.1, None)),
        ("8°12 s 35°6 e", at(-8.2, 35.1, None)),
        ("8 12 S 35 6 E", at(-8.2, 35.1, None)),
        ("8°S 35°E", at(-8.0, 35.0, None)),
        ("-8.2°, 35.1°", at(-8.2, 35.1, None)),
        ("\u{2212}8.2 +35.1", at(-8.2, 35.1, None)),
        ("-0.0 0", at(0.0, 0.0, None)),
        ("75.5 20", Some(Err(SpotFault))),
        ("8.2S 195E", Some(Err(SpotFault))),
        ("8°75'S 35°6'E", Some(Err(SpotFault))),
        ("8.2S 35.1E 9000m", Some(Err(SpotFault))),
        // Two latitudes, one number, a name, a number with a unit.
        ("8.2S 35.1N", None),
        ("-8.2", None),
        ("Kito", None),
        ("east", None),
        ("8.2 35.1kg", None),
        ("", None),
    ] {
        assert_eq!(parse(text), read, "{text}");
    }
    let scanned = scan("8.2S 35.1E 1200m lift 5").unwrap();
    assert_eq!((scanned.end, scanned.degrees_end), (16, Some(10)));
    assert_eq!(scan("-8.2 35.1 lift 5").unwrap().end, 9);
    assert_eq!(scan("8.2S 35.1 5 40").unwrap().end, 9);
}

/// Hand-worked: 6.5 K a kilometre, Hann's tenth over 6300 m, clearness kept.
#[test]
fn a_climate_is_brought_to_the_altitude() {
    let dodoma = town("Dodoma").unwrap();
    let higher = Spot { alt_m: Some(dodoma.alt_m + 400.0), ..spot(dodoma.lat_deg, dodoma.lon_deg) };
    let place = nearest(higher).unwrap().place().unwrap();
    for (index, (here, there)) in place.months.iter().zip(&dodoma.months).enumerate() {
        assert!((there.t_min_c - here.t_min_c - 2.6).abs() < 1e-9);
        assert!((there.t_max_c - here.t_max_c - 2.6).abs() < 1e-9);
        assert_eq!(here.rain_mm, there.rain_mm);
        // Over the usual lapse Hann's vapour leaves the relative humidity nearly as it was.
        let (here_rh, there_rh) = (here.rh_percent.unwrap(), there.rh_percent.unwrap());
        assert!((here_rh / there_rh - 1.0).abs() < 0.03, "month {}: {here_rh} {there_rh}", index + 1);
    }
    // Above 800 m of difference, and beyond 300 km, it is rough.
    let at = |alt_m: f64, lat_deg: f64| {
        let near = nearest(Spot { lat_deg, lon_deg: dodoma.lon_deg, alt_m: Some(alt_m) }).unwrap();
        (near.station.town.clone(), near.is_rough())
    };
    assert_eq!(at(dodoma.alt_m + 750.0, dodoma.lat_deg), ("Dodoma".to_owned(), false));
    assert!(at(dodoma.alt_m + 3500.0, dodoma.lat_deg).1);
    let away = nearest(spot(-35.0, 100.0)).unwrap();
    assert!(away.is_rough() && away.distance_km > FAR_KM);
}
