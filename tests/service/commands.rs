//! The commands that need no service: `answer` and the checks of `place import`.

use std::process::Output;

use serde_json::Value;

use crate::common::{Folder, program, run_to_end};

fn answer(arguments: &[&str]) -> Output {
    run_to_end(program().arg("answer").args(arguments))
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("not JSON: {output:?}"))
}

const GOOD: &str = "lift 4-6 pipe 40m 2in panel 5x80 pump 12v 15000 l/h 8m 16a garden 1500 tomato";

#[test]
fn the_reply_is_printed_or_the_whole_advice_as_json() {
    let output = answer(&[GOOD]);
    assert!(output.status.success());
    assert!(String::from_utf8_lossy(&output.stdout).contains("ENOUGH"));

    let output = answer(&[GOOD, "--json"]);
    assert!(output.status.success());
    let advice = json(&output);
    let sheet = &advice["sheet"];
    assert_eq!((sheet["lift_m"].as_f64(), sheet["low_m"].as_f64()), (Some(4.0), Some(6.0)));
    assert_eq!(sheet["bore_mm"].as_f64().map(|bore| (bore * 10.0).round() / 10.0), Some(50.8));
    assert_eq!(sheet["pump"]["flow_l_h"], 15000.0);
    assert_eq!(sheet["crop"], "tomato");
    assert_eq!(advice["months"].as_array().map(Vec::len), Some(12));
    for key in [
        "month",
        "sun_kwh_m2_day",
        "panel_kwh_m2_day",
        "water_m3_day",
        "poor_day_m3",
        "pumping_hours",
        "eto_mm_day",
        "need_l_m2_day",
        "area_m2",
    ] {
        assert!(!advice["months"][8][key].is_null(), "months[].{key}");
    }
    for key in ["flow_l_min", "head_m", "pipe_loss_m", "pump_v", "pump_a", "speed"] {
        assert!(advice["bright_noon"][key].is_number(), "bright_noon.{key}");
    }
    let noon = advice["hours"].as_array().and_then(|hours| hours.iter().find(|hour| hour["solar_hour"] == 12.0));
    assert_eq!(noon.map(|noon| &noon["flow_l_min"]), Some(&advice["bright_noon"]["flow_l_min"]));
    let assumed: Vec<&str> = advice["assumed"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
    assert!(assumed.contains(&"stance") && !assumed.contains(&"bore_mm"), "{assumed:?}");
    assert_eq!(advice["verdict"], "enough");
    assert_eq!(advice["troubles"], serde_json::json!([]));
}

#[test]
fn what_is_not_understood_is_told_with_its_position() {
    let advice = json(&answer(&[&format!("{GOOD} qwertz"), "--json"]));
    assert_eq!(advice["troubles"][0]["code"], "not_understood");
    assert_eq!(advice["troubles"][0]["at"], GOOD.len() + 1);
}

#[test]
fn a_wrong_input_ends_with_2_and_names_its_field() {
    for (arguments, code, field) in [
        (&["lift 900 pipe 40 panel 5x80", "--json"][..], "out_of_range", "lift"),
        (&["lift 5 pipe 40 panel 5x80 garden 5 volts", "--json"][..], "wrong_unit", "garden"),
        (&["pipe 40 panel 5x80", "--json"][..], "missing", "lift_m"),
        (&["lift 5 pipe 40 panel 5x80 place nowhere", "--json"][..], "unknown", "place"),
        (&["lift 5 pipe 40 panel 5x80", "--json", "--lang", "qq"][..], "unknown", "lang"),
        (&["lift 5 pipe 40 panel 5x80", "--json", "--place", "/no/such/file.json"][..], "unreadable", "place"),
    ] {
        let output = answer(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let error = &json(&output)["error"];
        assert_eq!((error["code"].as_str(), error["field"].as_str()), (Some(code), Some(field)), "{arguments:?}");
        assert!(error["message"].as_str().is_some_and(|message| message.len() > 10), "{arguments:?}");
        assert_eq!(String::from_utf8_lossy(&output.stderr).lines().count(), 1, "{output:?}");
    }
}

#[test]
fn a_wrong_place_file_is_named_with_its_place_month_and_key() {
    let folder = Folder::new();
    let good: Value = serde_json::from_str(noonwater::demo::PLACE_JSON).expect("JSON");
    let broken = |change: &dyn Fn(&mut Value)| {
        let mut place = good.clone();
        change(&mut place);
        place
    };
    for (case, place, wanted) in [
        ("eleven months", broken(&|p| drop(p["months"].as_array_mut().map(Vec::pop))), vec!["Kito", "months", "twelve"]),
        ("unknown key", broken(&|p| p["months"][2]["sun"] = 5.into()), vec!["Kito", "month 3", "sun"]),
        ("unknown key above", broken(&|p| p["colour"] = 5.into()), vec!["Kito", "colour"]),
        ("minimum above maximum", broken(&|p| p["months"][3]["t_min_c"] = 40.into()), vec!["Kito", "month 4", "t_min_c"]),
        ("too much sun", broken(&|p| p["months"][5]["h_kwh_m2_day"] = 9.9.into()), vec!["month 6", "h_kwh_m2_day"]),
        ("far north", broken(&|p| p["lat_deg"] = 65.into()), vec!["Kito", "lat_deg", "-60", "60"]),
        (
            "missing key",
            broken(&|p| drop(p["months"][0].as_object_mut().map(|m| m.remove("t_max_c")))),
            vec!["month 1", "t_max_c"],
        ),
    ] {
        let file = folder.path().join("place.json");
        std::fs::write(&file, place.to_string()).expect("a file");
        let mut import = program();
        import.args(["place", "import"]).arg(&file).env("NOONWATER_DATA_DIR", folder.path().join("data"));
        let output = run_to_end(&mut import);
        let sentence = String::from_utf8(output.stderr).expect("text");
        assert_eq!(output.status.code(), Some(2), "{case}: {sentence}");
        for word in wanted {
            assert!(sentence.contains(word), "{case}: {word:?} is not in {sentence:?}");
        }
        // Refused before the database is even started.
        assert!(!folder.path().join("data").exists(), "{case}");
    }
}

#[test]
fn a_place_file_may_be_toml_and_changes_the_answer() {
    let folder = Folder::new();
    let mut place: toml::Table = serde_json::from_str(noonwater::demo::PLACE_JSON).expect("JSON");
    place.insert("name".to_owned(), "Dry Kito".into());
    for month in place["months"].as_array_mut().expect("months") {
        month.as_table_mut().expect("a month").insert("rh_percent".to_owned(), 20.into());
    }
    let file = folder.path().join("dry.toml");
    std::fs::write(&file, toml::to_string(&place).expect("TOML")).expect("a file");
    let dry = json(&answer(&[GOOD, "--json", "--place", file.to_str().expect("a path")]));
    let home = json(&answer(&[GOOD, "--json"]));
    assert_eq!(dry["sheet"]["place"], "Dry Kito");
    let need = |advice: &Value| advice["months"][8]["need_l_m2_day"].as_f64().expect("a need");
    assert!(need(&dry) > need(&home));
}

#[test]
fn a_bucket_test_is_judged_at_the_time_and_under_the_sky_that_are_given() {
    let judged = |more: &[&str]| -> serde_json::Value {
        let text = "lift 5 pipe 40 bore 50 panel 5x80 pump 12v 15000 l/h 8m 16a garden 1500 test 100 l 60 s at 4";
        let mut command = program();
        command.args(["answer", text, "--json"]).args(more);
        let output = run_to_end(&mut command);
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let advice: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        advice["tested"]["findings"][0].clone()
    };
    let clear = judged(&["--at", "2026-09-10T12:30"]);
    let hazy = judged(&["--at", "2026-09-10T12:30", "--sky", "hazy"]);
    assert_eq!(clear["finding"], "judged");
    assert!(hazy["expected_l_min"].as_f64() < clear["expected_l_min"].as_f64(), "{hazy}");
    assert_eq!(judged(&["--at", "2026-09-10T12:30", "--sky", "cloudy"])["finding"], "cloudy");
    assert_eq!(judged(&["--at", "2026-09-10T23:30"])["finding"], "low_sun");
    let mut wrong = program();
    wrong.args(["answer", "help", "--at", "noon"]);
    assert_eq!(run_to_end(&mut wrong).status.code(), Some(2));
}
