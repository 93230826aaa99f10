//! What can burn or break is told, in the answer, in `wire` and in `change`; text in, text out.

use std::sync::LazyLock;

use chrono::{DateTime, Utc};
use noonwater::demo::{PLACE_JSON, PRICES_TOML};
use noonwater::talk::{Channel, Depth, Talk};
use noonwater::turn::{World, turn};
use noonwater::{placefile, pricefile, single, world};

static WORLD: LazyLock<World> = LazyLock::new(|| {
    let climate = placefile::parse(PLACE_JSON, false).unwrap();
    let prices = pricefile::parse(PRICES_TOML, false).unwrap();
    world::build(world::languages(None).unwrap(), Some("en"), vec![climate], "Kito", prices).unwrap()
});

fn at() -> DateTime<Utc> {
    "2026-09-10T09:30:00Z".parse().unwrap()
}

/// The replies to several messages of one talk.
fn said<const N: usize>(texts: [&str; N]) -> [String; N] {
    let mut talk = Talk::default();
    texts.map(|text| {
        let turn = turn(&WORLD, &talk, text, Channel::Sms, at());
        talk = turn.talk.clone();
        turn.reply.expect("a reply").text
    })
}

fn json(text: &str) -> serde_json::Value {
    let answer = single::answer(&WORLD, text, None, None, Depth::Answer, at()).unwrap();
    answer.advice.unwrap_or_else(|refused| panic!("{text}: {refused:?}")).json().unwrap()
}

#[test]
fn a_wire_that_can_burn_is_named_at_once_and_changed() {
    // 4 x 100 W push 24 A through 1.5 mm2, which bears 15.
    let sheet = "lift 3 pipe 30 garden 900 panel 4x100 pump 12v 14000 l/h 7.5m 15a wire 20 1.5mm2";
    let [answer, wire, change] = said([sheet, "wire", "change"]);
    for reply in [&answer, &wire] {
        assert!(reply.contains("can burn: take"), "{reply}");
    }
    let verdict_ends = answer.find("m2.").expect("an area");
    assert!(answer[verdict_ends..].trim_start_matches("m2.").trim_start().starts_with("Wire 1.5"), "{answer}");
    assert!(change.contains("wire 6 mm2"), "{change}");
    let json = json(sheet);
    assert_eq!(json["cautions"][0], "cable_too_thin");
    assert!(json["wire"]["take_mm2"].as_f64().unwrap() == 6.0);
}

#[test]
fn too_much_voltage_is_unfit_whatever_the_water() {
    for sheet in [
        "lift 5 pipe 40 panel 6x250 garden 2000 pump 12v 14000 l/h 7.5m 15a",
        "lift 3 pipe 20 panel 1x400 garden 100 pump 12v 4500 l/h 4.5m 6a",
    ] {
        let [answer] = said([sheet]);
        assert!(answer.contains("UNFIT"), "{sheet}: {answer}");
        assert_eq!(json(sheet)["verdict"], "unfit");
    }
}

#[test]
fn a_cure_says_what_it_does_to_the_verdict() {
    // Whatever is advised to spare a pump leaves the set enough, or says how little is left.
    for panels in 2..=8 {
        for (pump, garden_m2) in [("pump 12v 4500 l/h 4.5m 6a", 300), ("pump 12v 7500 l/h 5.5m 9a", 900)] {
            let sheet =
                |panels: u64| format!("lift 2 pipe 20 bore 50 wire 10 6mm2 panel {panels}x80 garden {garden_m2} {pump}");
            let [answer] = said([sheet(panels).as_str()]);
            let told = json(&sheet(panels));
            let Some(fewer) = told["over_driven_cure_panels"].as_u64() else { continue };
            let again = json(&sheet(fewer));
            assert_eq!(again["over_driven"], false);
            if answer.contains("only 3") || answer.contains(&format!("Use only {fewer}")) {
                assert_eq!(again["verdict"], "enough", "{answer}");
            }
        }
    }
}

#[test]
fn how_panels_are_joined_is_told() {
    let sheet = "lift 5 pipe 80 panel 7x80 garden 3000 pump 24v 14000 l/h 7.5m 7.5a";
    let [_, wire, more] = said([sheet, "wire", "more"]);
    for reply in [&wire, &more] {
        assert!(reply.contains("2 in a row"), "{reply}");
        assert!(reply.contains("3 rows"), "{reply}");
    }
    let json = json(sheet);
    assert_eq!((json["array"]["series"].as_u64(), json["array"]["parallel"].as_u64()), (Some(2), Some(3)));
    assert_eq!((json["array"]["unused"].as_u64(), json["array"]["cells"].as_u64()), (Some(1), Some(36)));
    // One panel more than a whole divisor is no reason for no water.
    let six = self::json(&sheet.replace("7x80", "6x80"));
    let water = |json: &serde_json::Value| json["months"][9]["water_m3_day"].as_f64().unwrap();
    assert!((water(&json) / water(&six) - 1.0).abs() < 0.01);
}

#[test]
fn a_pump_that_cannot_draw_so_high_gives_nothing() {
    let sheet = "lift 5 pipe 40 panel 4x100 garden 900 pump 12v 14000 l/h 7.5m 15a suction 7";
    let [answer] = said([sheet]);
    assert!(answer.contains("oo high"), "{answer}");
    assert!(!answer.contains("ENOUGH"), "{answer}");
    let json = json(sheet);
    assert_eq!((json["verdict"].as_str(), json["bright_noon"]["flow_l_min"].as_f64()), (Some("short"), Some(0.0)));
    assert!(json["cautions"].as_array().unwrap().contains(&"suction_too_high".into()));
}
