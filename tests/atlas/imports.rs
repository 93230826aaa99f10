//! Climates brought from elsewhere, and taken out again.

use std::path::PathBuf;

use noonwater::atlas::{stations, town};
use noonwater::demo::PLACE_JSON;
use noonwater::placefile::{Given, Imported, PlaceFileError, export, import, parse};
use noonwater::sizing::{Climate, Place};

fn of_text(name: &str, text: &str, given: &Given) -> Result<Imported, PlaceFileError> {
    let folder = tempfile::tempdir().unwrap();
    let path: PathBuf = folder.path().join(name);
    std::fs::write(&path, text).unwrap();
    import(&path, given)
}

#[test]
fn what_is_exported_is_imported() {
    let kito = parse(PLACE_JSON, false).unwrap().place;
    let full = Place { low_water_month: Some(11), source: Some("the district; 2001-2020".to_owned()), ..kito.clone() };
    let bare = Place { season_months: Vec::new(), coastal: true, ..kito };
    for place in [full, bare, town("Dodoma").unwrap().place().unwrap()] {
        for (name, text) in [("a.json", export::json(&place).unwrap()), ("a.csv", export::csv(&place).unwrap())] {
            let back = of_text(name, &text, &Given::default()).unwrap_or_else(|error| panic!("{error}\n{text}"));
            assert_eq!(back.climate.place, place, "{text}");
        }
    }
}

const TABLE: &str = "# name: Kito\n# lat_deg: -8\nmonth,h_kwh_m2_day,t_min_c,t_max_c,rain_mm\n1,5.3,17,27,180\n\
    2,5.3,17,27,\n3,5.3,17,27,1\n4,5.3,17,27,1\n5,5.3,17,27,1\n6,5.3,17,27,1\n7,5.3,17,27,1\n8,5.3,17,27,1\n\
    9,5.3,17,27,1\n10,5.3,17,27,1\n11,5.3,17,27,1\n12,5.3,17,27,1\n";

#[test]
fn a_table_takes_what_it_lacks_from_beside_it() {
    let given = Given { lon_deg: Some(35.1), alt_m: Some(1200.0), ..Given::default() };
    let imported = of_text("kito.csv", &format!("\u{feff}{}", TABLE.replace('\n', "\r\n")), &given).unwrap();
    let place = imported.climate.place;
    assert_eq!((place.name.as_str(), place.lat_deg, place.utc_offset_h), ("Kito", -8.0, 2.0));
    assert_eq!((place.months[0].rain_mm, place.months[1].rain_mm), (Some(180.0), None));
    assert!(imported.taken[0].contains("utc_offset_h 2 from the longitude"), "{:?}", imported.taken);
    let renamed = Given { name: Some("Upper Kito".to_owned()), utc_offset_h: Some(3.0), ..given };
    let place = of_text("kito.csv", TABLE, &renamed).unwrap().climate.place;
    assert_eq!((place.name.as_str(), place.utc_offset_h), ("Upper Kito", 3.0));
}

#[test]
fn what_is_wrong_is_named_with_file_place_month_and_key() {
    let given = Given { lon_deg: Some(35.1), alt_m: Some(1200.0), ..Given::default() };
    for (from, to, named) in [
        ("3,5.3,17", "3,5.3,many", &["place Kito, month 3", "`t_min_c`", "many"][..]),
        ("3,5.3,17", "3,5.3,37", &["place Kito, month 3", "`t_min_c`", "above t_max_c"]),
        ("3,5.3,17", "3,12.9,17", &["place Kito, month 3", "`h_kwh_m2_day`", "top of the air"]),
        ("12,5.3,17", "11,5.3,17", &["place Kito, month 11", "`month`", "twice"]),
        ("12,5.3,17,27,1\n", "", &["place Kito, month 12", "`month`", "twelve lines"]),
        ("12,5.3,17", "13,5.3,17", &["place Kito", "`month`", "1 to 12"]),
        ("month,h_kwh", "moon,h_kwh", &["place Kito", "`month`", "no such column"]),
        ("h_kwh_m2_day", "h_kwh", &["place Kito, month 1", "h_kwh"]),
        ("# lat_deg: -8\n", "", &["place Kito", "lat_deg"]),
        ("# lat_deg: -8", "# lat_deg: south", &["place Kito"]),
        ("# lat_deg: -8", "# lat_deg: -8\n# low_water_month: 13", &["place Kito", "`low_water_month`", "1 to 12"]),
    ] {
        let error = of_text("kito.csv", &TABLE.replacen(from, to, 1), &given).unwrap_err().to_string();
        for part in named.iter().chain(&["kito.csv"]) {
            assert!(error.contains(part), "{to:?}: {error:?} lacks {part:?}");
        }
    }
    let error = of_text("kito.json", PLACE_JSON, &given).unwrap_err().to_string();
    assert!(error.contains("leave the options out"), "{error}");
}

/// A file in the form that POWER gives, with invented figures.
fn power(rows: &[(&str, f64)]) -> String {
    let mut text = "-BEGIN HEADER-\nNASA/POWER CERES/MERRA2 Native Resolution Climatology Climatologies \n\
        20-year Meteorological and Solar Monthly & Annual Climatologies (January 2001 - December 2020) \n\
        Location: Latitude  -8.2   Longitude 35.1 \n\
        Elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 1234.5 meters\n\
        The value for missing source data is: -999 \nParameter(s): \n\
        ALLSKY_SFC_SW_DWN     CERES All Sky Surface Shortwave Downward Irradiance (kW-hr/m^2/day) \n-END HEADER-\n\
        PARAMETER,JAN,FEB,MAR,APR,MAY,JUN,JUL,AUG,SEP,OCT,NOV,DEC,ANN\n"
        .to_owned();
    for (key, value) in rows {
        text += &format!("{key},{}{value}\n", format!("{value},").repeat(12));
    }
    text
}

fn named() -> Given {
    Given { name: Some("Lower Kito".to_owned()), ..Given::default() }
}

const ROWS: [(&str, f64); 8] = [
    ("ALLSKY_SFC_SW_DWN", 5.4),
    ("T2M", 22.0),
    ("T2M_MIN", 12.0),
    ("T2M_MAX", 34.0),
    ("T2M_RANGE", 22.0),
    ("RH2M", 61.0),
    ("WS2M", 1.8),
    ("PRECTOTCORR", 2.0),
];

#[test]
fn a_climatology_is_taken_and_it_is_said_how() {
    let imported = of_text("power.csv", &power(&ROWS), &named()).unwrap();
    let place = imported.climate.place;
    assert_eq!((place.lat_deg, place.lon_deg, place.alt_m, place.utc_offset_h), (-8.2, 35.1, 1234.5, 2.0));
    assert_eq!(place.source.as_deref(), Some("NASA POWER; January 2001 - December 2020"));
    let february = place.months[1];
    assert_eq!((february.h_kwh_m2_day, february.rain_mm), (Some(5.4), Some(56.0)));
    // 0.6 of 22 K around 22 degrees, since a range as wide as the month's extremes is not a day's.
    assert!((february.t_min_c - 15.4).abs() < 1e-9 && (february.t_max_c - 28.6).abs() < 1e-9);
    let said = imported.taken.join("\n");
    assert!(said.contains("0.6") && said.contains("extremes of the month") && said.contains("PRECTOTCORR"), "{said}");
    for (more, min, max) in
        [(&[("T2M_RANGE_AVG", 11.0)][..], 16.5, 27.5), (&[("T2M_MIN_AVG", 16.0), ("T2M_MAX_AVG", 28.0)], 16.0, 28.0)]
    {
        let rows: Vec<_> = ROWS.into_iter().chain(more.iter().copied()).collect();
        let month = of_text("power.csv", &power(&rows), &named()).unwrap().climate.place.months[0];
        assert_eq!((month.t_min_c, month.t_max_c), (min, max), "{more:?}");
    }
    let daily: Vec<_> = ROWS.into_iter().map(|(key, v)| (key, if key == "T2M_RANGE" { 12.0 } else { v })).collect();
    let month = of_text("power.csv", &power(&daily), &named()).unwrap().climate.place.months[0];
    assert_eq!((month.t_min_c, month.t_max_c), (16.0, 28.0));
    let mj = power(&ROWS).replace("(kW-hr/m^2/day)", "(MJ/m^2/day)").replace("5.4,", "18,").replace("5.4\n", "18\n");
    let month = of_text("power.csv", &mj, &named()).unwrap().climate.place.months[0];
    assert_eq!(month.h_kwh_m2_day, Some(5.0));
}

#[test]
fn what_is_missing_from_a_climatology_is_named() {
    let error = |text: &str, given: &Given| of_text("power.csv", text, given).unwrap_err().to_string();
    let text = power(&ROWS);
    assert!(error(&text, &Given::default()).contains("--name"));
    let gap = text.replace("T2M_MAX,34,34", "T2M_MAX,34,-999");
    let named_gap = error(&gap, &named());
    assert!(named_gap.contains("place Lower Kito, month 2: `T2M_MAX`"), "{named_gap}");
    let word = error(&text.replace("RH2M,61,61", "RH2M,61,wet"), &named());
    assert!(word.contains("place Lower Kito, month 2: `RH2M`"), "{word}");
    let above = error(&text.replace("ALLSKY_SFC_SW_DWN,5.4", "ALLSKY_SFC_SW_DWN,12.5"), &named());
    assert!(above.contains("month 1: `h_kwh_m2_day`"), "{above}");
    // Humidity that is missing in one month falls back there; wind that is not in the file is said.
    let rows: Vec<_> = ROWS.into_iter().filter(|(key, _)| *key != "WS2M").collect();
    let imported = of_text("power.csv", &power(&rows).replace("RH2M,61", "RH2M,-999"), &named()).unwrap();
    assert_eq!(imported.climate.place.months[0].rh_percent, None);
    assert_eq!(imported.climate.place.months[1].rh_percent, Some(61.0));
    assert!(imported.taken.iter().any(|line| line.contains("WS2M is not in the file")), "{:?}", imported.taken);
}

/// How far the share of 0.6 can mislead: the months of every station, their extremes put 2.04 standard deviations
/// (the mean of the highest of thirty normal values, Tippett 1925) of 1.5, 2 and 2.5 K beyond the mean minimum and
/// maximum, and brought back by the share. The yearly need of water must stay within a tenth of the station's own on
/// the middle supposition, and within a sixth on all.
#[test]
fn extremes_brought_back_to_a_mean_day_serve_the_stations() {
    for (deviation_k, within) in [(1.5, 0.16), (2.0, 0.10), (2.5, 0.16)] {
        let out_k = 2.04 * deviation_k;
        let mut mean = 0.0;
        for station in stations() {
            let place = station.place().unwrap();
            let own = Climate::new(place.clone()).unwrap();
            let mut brought = place;
            for month in &mut brought.months {
                let (low, high) = (month.t_min_c - out_k, month.t_max_c + out_k);
                let half = 0.6 * (high - low) / 2.0;
                let middle = (low + high) / 2.0;
                (month.t_min_c, month.t_max_c) = (middle - half, middle + half);
            }
            let brought = Climate::new(brought).unwrap();
            let year = |climate: &Climate| climate.weather.iter().map(|w| w.eto_mm_day).sum::<f64>();
            let ratio = year(&brought) / year(&own) - 1.0;
            assert!(ratio.abs() < within, "{}: {ratio:.3} at {deviation_k} K", station.town);
            mean += ratio / stations().len() as f64;
        }
        assert!(mean.abs() < 0.06, "{mean:.3} at {deviation_k} K");
    }
}
