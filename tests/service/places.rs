//! Places in and out of the database by the command line, and a service whose home is a town of the atlas.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use crate::common::{Folder, Service, number, program, run_to_end};

/// `noonwater place` with these arguments: exit status, standard output, standard error.
fn place(folder: &Folder, arguments: &[&str]) -> (Option<i32>, String, String) {
    let mut command = program();
    command.arg("place").args(arguments).current_dir(folder.path());
    let output = run_to_end(command.env("NOONWATER_DATA_DIR", folder.path()));
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code(), text(output.stdout), text(output.stderr))
}

fn write(folder: &Folder, name: &str, text: &str) {
    fs::write(folder.path().join(name), text).unwrap();
}

fn table(name: &str, h_kwh: f64) -> String {
    let months: String = (1..=12).map(|month| format!("{month},{h_kwh},16,28,60\n")).collect();
    format!(
        "# name: {name}\n# lat_deg: -8\n# lon_deg: 35\n# alt_m: 1200\n# utc_offset_h: 3\n# low_water_month: 10\n\
         # source: the valley's own\nmonth,h_kwh_m2_day,t_min_c,t_max_c,rh_percent\n{months}"
    )
}

#[test]
fn places_go_in_and_out_all_or_none() {
    let folder = Folder::new();
    write(&folder, "upper.csv", &table("Upper Kito", 5.5));
    write(&folder, "lower.csv", &table("Lower Kito", 12.9));
    let (status, out, error) = place(&folder, &["import", "upper.csv", "lower.csv"]);
    assert_eq!((status, out.as_str()), (Some(2), ""));
    for part in ["lower.csv", "Lower Kito, month ", "`h_kwh_m2_day`"] {
        assert!(error.contains(part), "{error}");
    }
    let (_, listed, _) = place(&folder, &["list"]);
    assert!(!listed.contains("Upper Kito"), "{listed}");

    write(&folder, "lower.csv", &table("Lower Kito", 5.1));
    let (status, out, error) = place(&folder, &["import", "upper.csv", "lower.csv"]);
    assert_eq!(status, Some(0), "{error}");
    assert!(out.contains("imported Upper Kito\nimported Lower Kito"), "{out}");
    let (_, listed, _) = place(&folder, &["list"]);
    assert!(listed.contains("Upper Kito\t-8.00\t35.00\t1200 m\tthe valley's own"), "{listed}");

    // What is exported is imported, and is the same.
    for file in ["out.csv", "out.json"] {
        assert_eq!(place(&folder, &["export", "upper kito", file]).0, Some(0));
        assert_eq!(place(&folder, &["import", file]).0, Some(0), "{file}");
    }
    let (_, written, _) = place(&folder, &["export", "Upper Kito"]);
    assert_eq!(written, read(folder.path(), "out.json"));
    let value: Value = serde_json::from_str(&written).unwrap();
    assert_eq!((&value["low_water_month"], &value["source"]), (&json!(10), &json!("the valley's own")));
    let (status, _, error) = place(&folder, &["import", "upper.csv", "lower.csv", "--lat", "-7"]);
    assert!(status == Some(2) && error.contains("one by one"), "{error}");
    let (status, _, error) = place(&folder, &["export", "Nowhere"]);
    assert!(status == Some(2) && error.contains("Nowhere"), "{error}");
}

fn read(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).unwrap()
}

#[test]
fn the_atlas_is_listed_with_its_sources_and_its_towns_come_out() {
    let folder = Folder::new();
    let (status, listed, _) = place(&folder, &["list", "--atlas"]);
    assert_eq!(status, Some(0));
    let dodoma = listed.lines().find(|line| line.contains("Dodoma")).unwrap();
    assert!(dodoma.contains("Deutscher Wetterdienst CLIMAT open data") && dodoma.contains("2005-2021"), "{dodoma}");
    let (status, spot, error) = place(&folder, &["export", "-8.2 35.1 1200m"]);
    assert_eq!(status, Some(0), "{error}");
    let spot: Value = serde_json::from_str(&spot).unwrap();
    assert_eq!((&spot["alt_m"], spot["months"].as_array().map(Vec::len)), (&json!(1200.0), Some(12)));
    assert!(spot["source"].as_str().unwrap().starts_with("Dodoma, 237 km: Deutscher Wetterdienst"));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_town_of_the_atlas_may_be_home() {
    let folder = Folder::new();
    let service = Service::start(&folder, "home_place = \"Dodoma\"\n");
    let asha = number(1);
    let typed = json!({ "number": asha, "text": "lift 5 pipe 40 panel 5x80" });
    let shown: Value = service.post("/handset/messages", &typed).await.json().await.unwrap();
    assert!(shown.to_string().contains(" m3"), "{shown}");
}
