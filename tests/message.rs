//! The grammar against messages as growers type them, and against noise.

use noonwater::language::{Command, Field, Gallon, Languages};
use noonwater::message::{
    Fact, FactValue, MOST_CHARACTERS, PumpFact, Reading, Span, TestFact, TroubleCode, limits, print, read as read_in,
};
use noonwater::terms::{CROPS, SOILS, StanceKind, TestSky, Watering};
use proptest::prelude::*;
use serde::Deserialize;
use std::sync::LazyLock;

static LANGUAGES: LazyLock<Languages> = LazyLock::new(|| Languages::shipped().expect("the shipped folders load"));

fn read(text: &str) -> Reading {
    read_in(text, &LANGUAGES, "en", None)
}
fn values(reading: &Reading) -> Vec<FactValue> {
    reading.facts.iter().map(|fact| fact.value.clone()).collect()
}

fn slice(text: &str, at: Span) -> String {
    text.chars().skip(at.start).take(at.end - at.start).collect()
}

/// One message of the corpus, with all that it must and no more.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Sample {
    text: String,
    asked: Option<Field>,
    gallon: Option<Gallon>,
    #[serde(default)]
    facts: Vec<FactValue>,
    /// `code field text`, the field `-` where there is none.
    #[serde(default)]
    troubles: Vec<String>,
    #[serde(default)]
    asks: Vec<Field>,
    #[serde(default)]
    commands: Vec<Command>,
    /// `typed > known`.
    #[serde(default)]
    assumed: Vec<String>,
    /// `typed ? known known`.
    #[serde(default)]
    near: Vec<String>,
}

#[derive(Debug, Deserialize)]
struct Corpus {
    message: Vec<Sample>,
}

/// As JSON, with numbers rounded so that a unit's last binary digit does not matter.
fn rounded(facts: &[FactValue]) -> serde_json::Value {
    fn round(value: &mut serde_json::Value) {
        match value {
            serde_json::Value::Number(number) => {
                let rounded = (number.as_f64().unwrap() * 1e6).round() / 1e6;
                *value = serde_json::json!(rounded);
            }
            serde_json::Value::Object(fields) => fields.values_mut().for_each(round),
            serde_json::Value::Array(items) => items.iter_mut().for_each(round),
            _ => {}
        }
    }
    let mut facts = serde_json::to_value(facts).unwrap();
    round(&mut facts);
    facts
}

#[test]
fn each_corpus_reads_as_a_person_would() {
    let corpora = [
        ("en", 165, include_str!("data/messages-en.toml")),
        ("fr", 95, include_str!("data/messages-fr.toml")),
        ("sw", 95, include_str!("data/messages-sw.toml")),
    ];
    let wrong: Vec<String> =
        corpora.into_iter().flat_map(|(language, least, corpus)| what_differs(language, least, corpus)).collect();
    assert!(wrong.is_empty(), "{} differences\n{}", wrong.len(), wrong.join("\n"));
}

fn what_differs(language: &str, least: usize, corpus: &str) -> Vec<String> {
    let corpus: Corpus = toml::from_str(corpus).unwrap();
    assert!(corpus.message.len() >= least, "{} messages", corpus.message.len());
    let mut wrong = Vec::new();
    for sample in &corpus.message {
        let text = &sample.text;
        let reading = read_in(text, &LANGUAGES, language, sample.asked);
        let mut differs = |what: &str, got: String, wanted: String| {
            if got != wanted {
                wrong.push(format!("{text:?}: {what}\n   got    {got}\n   wanted {wanted}"));
            }
        };
        differs("facts", rounded(&values(&reading)).to_string(), rounded(&sample.facts).to_string());
        let troubles: Vec<String> = reading
            .troubles
            .iter()
            .map(|trouble| {
                let field = trouble.field.map_or("-", Field::name);
                format!("{} {field} {}", trouble.code.code(), slice(text, trouble.at))
            })
            .collect();
        differs("troubles", format!("{troubles:?}"), format!("{:?}", sample.troubles));
        let asks: Vec<Field> = reading.asks.iter().map(|(field, _)| *field).collect();
        differs("asks", format!("{asks:?}"), format!("{:?}", sample.asks));
        let commands: Vec<Command> = reading.commands.iter().map(|(command, _)| *command).collect();
        differs("commands", format!("{commands:?}"), format!("{:?}", sample.commands));
        let assumed: Vec<String> =
            reading.assumed_words.iter().map(|guess| format!("{} > {}", slice(text, guess.at), guess.taken_for)).collect();
        differs("assumed words", format!("{assumed:?}"), format!("{:?}", sample.assumed));
        differs("gallon", format!("{:?}", reading.gallon.map(|(gallon, _)| gallon)), format!("{:?}", sample.gallon));
        let near: Vec<String> =
            reading.near.iter().map(|near| format!("{} ? {}", slice(text, near.at), near.could_be.join(" "))).collect();
        differs("near words", format!("{near:?}"), format!("{:?}", sample.near));
    }
    wrong
}

#[test]
fn positions_lead_back_to_what_was_typed() {
    let text = "Lïft: 5m — pïpe ٤٠ m, panel 5×80 gården 999999 zzzz";
    let reading = read(text);
    let facts: Vec<String> = reading.facts.iter().map(|fact| slice(text, fact.at)).collect();
    assert_eq!(facts, ["5m", "٤٠ m", "5×80"]);
    let troubles: Vec<String> = reading.troubles.iter().map(|trouble| slice(text, trouble.at)).collect();
    assert_eq!(troubles, ["999999", "zzzz"]);
}

#[test]
fn impossible_numbers_carry_their_range() {
    for limit in limits::LIMITS {
        let (low, high) = limit.possible;
        assert!(limit.kind.possible(low) && limit.kind.possible(high));
        let above = limit.kind.trouble(high + 1.0);
        assert_eq!(
            above,
            Some(TroubleCode::OutOfRange { low, high, value: high + 1.0, unit: limit.unit }),
            "{:?}",
            limit.kind
        );
    }
    let reading = read("lift 101");
    assert_eq!(reading.troubles[0].field, Some(Field::Lift));
    assert!(matches!(reading.troubles[0].code, TroubleCode::OutOfRange { low, high, value, .. }
        if (low, high, value) == (0.0, 100.0, 101.0)));
}

#[test]
fn every_code_is_the_one_in_json() {
    for text in ["lift 101", "lift 5w", "zzzz", "", "5", "lift 5 lift 6", "lift 6 low 4", "month 1.5", "test 5 l"] {
        for trouble in read(text).troubles {
            let json = serde_json::to_value(&trouble.code).unwrap();
            assert_eq!(json["code"], trouble.code.code(), "{text}");
        }
    }
}

#[test]
fn a_text_past_ten_parts_is_read_to_there_and_said_so() {
    let text = format!("lift 5 {}", "pipe 40 ".repeat(400));
    let reading = read(&text);
    assert_eq!(values(&reading), [FactValue::LiftM(5.0), FactValue::PipeM(40.0)]);
    let last = reading.troubles.last().unwrap();
    assert_eq!(last.code, TroubleCode::TooLong);
    assert_eq!(last.at, Span { start: MOST_CHARACTERS, end: text.chars().count() });
}

#[test]
fn a_list_that_begins_with_a_point_comes_to_an_end() {
    for text in [".0.5", ",.0.5 panel", "lift .5.5.5", ".1,.2,.3", ". .5.", ".0.5.0.5,.0.5"] {
        assert!(read(text).facts.len() < 10, "{text}");
    }
}

#[test]
fn the_language_is_the_one_whose_words_were_used() {
    assert_eq!(read("lift 5").language.as_deref(), Some("en"));
    assert_eq!(read("5 40").language, None);
    let reading = read("English");
    assert_eq!(reading.language.as_deref(), Some("en"));
    assert_eq!(reading.language_named, Some(Span { start: 0, end: 7 }));
    assert_eq!(read_in("lift 5", &LANGUAGES, "xx", None).facts.len(), 1);
}

#[test]
fn every_field_and_command_of_the_language_is_read() {
    let english = LANGUAGES.get("en").unwrap();
    for field in Field::ALL {
        let word = english.field(field).unwrap();
        assert_eq!(read(word).asks.first().map(|(field, _)| *field), Some(field), "{word}");
    }
    for command in Command::ALL {
        let word = english.command(command).unwrap();
        assert_eq!(read(word).commands.first().map(|(command, _)| *command), Some(command), "{word}");
    }
}

fn pick<T: Clone + std::fmt::Debug + 'static>(all: &[T]) -> impl Strategy<Value = T> + use<T> {
    prop::sample::select(all.to_vec())
}

/// A number with at most three decimals, as it would be typed.
fn number(low: f64, high: f64) -> impl Strategy<Value = f64> {
    (low..=high, 0..4i32).prop_map(move |(value, decimals)| {
        let scale = 10f64.powi(decimals);
        ((value * scale).round() / scale).clamp(low, high)
    })
}

fn any_pump() -> impl Strategy<Value = FactValue> {
    let part = |low, high| prop::option::of(number(low, high));
    let class = prop::option::of(pick(&["tiny", "small", "middle", "large", "large_24", "high", "higher"]));
    let electronics = prop::option::of(any::<bool>());
    let count = prop::option::of(1..=10u32);
    (part(6.0, 400.0), part(100.0, 1e5), part(1.0, 200.0), part(0.2, 100.0), electronics, count, class)
        .prop_map(|(label_v, flow_l_h, head_m, amps, electronics, count, class)| PumpFact {
            label_v,
            flow_l_h,
            head_m,
            amps,
            electronics,
            displacement: None,
            count,
            class: class.map(str::to_owned),
        })
        .prop_filter("a pump of which nothing is told", |pump| *pump != PumpFact::default())
        .prop_map(FactValue::Pump)
}

fn any_test() -> impl Strategy<Value = FactValue> {
    let clock = prop::option::of((0..24u8, 0..60u8));
    let sky = prop::option::of(pick(&TestSky::ALL));
    (number(0.1, 1e4), number(0.5, 36_000.0), prop::option::of(number(0.0, 100.0)), clock, sky).prop_map(
        |(litres, seconds, outlet_m, clock, sky)| FactValue::Test(TestFact { litres, seconds, outlet_m, clock, sky }),
    )
}

fn any_panel() -> impl Strategy<Value = FactValue> {
    let panel = |count, each_w, total_w| FactValue::Panel { count, each_w, total_w };
    prop_oneof![
        (1..=20u32, number(5.0, 1000.0)).prop_map(move |(count, each)| panel(Some(count), Some(each), None)),
        (1..=200u32).prop_map(move |count| panel(Some(count), None, None)),
        number(5.0, 20_000.0).prop_map(move |total| panel(None, None, Some(total))),
    ]
}

/// At most one fact of each field, in any order.
fn any_facts() -> impl Strategy<Value = Vec<FactValue>> {
    let lift_and_low = (number(0.0, 50.0), number(50.0, 100.0));
    let stance = (pick(&StanceKind::ALL), prop::option::of(number(0.0, 90.0)));
    let plain = vec![
        number(1.0, 2000.0).prop_map(FactValue::PipeM).boxed(),
        number(10.0, 200.0).prop_map(FactValue::BoreMm).boxed(),
        any_panel().boxed(),
        stance.prop_map(|(code, tilt_deg)| FactValue::Stance { code, tilt_deg }).boxed(),
        any_pump().boxed(),
        number(0.0, 10.0).prop_map(FactValue::SuctionM).boxed(),
        number(50.0, 2e5).prop_map(FactValue::WellLH).boxed(),
        number(1.0, 1e5).prop_map(FactValue::GardenM2).boxed(),
        pick(&CROPS).prop_map(|crop| FactValue::Crop(crop.to_owned())).boxed(),
        pick(&SOILS).prop_map(|soil| FactValue::Soil(soil.to_owned())).boxed(),
        (1..=12u8).prop_map(FactValue::Month).boxed(),
        pick(&Watering::ALL).prop_map(FactValue::Watering).boxed(),
        number(0.5, 200.0).prop_map(FactValue::WireM).boxed(),
        number(0.5, 50.0).prop_map(FactValue::WireMm2).boxed(),
        pick(&["Kito", "Upper Kito bridge", "-8.2 35.1"]).prop_map(|name| FactValue::Place(name.to_owned())).boxed(),
        any_test().boxed(),
    ];
    (lift_and_low, plain, any::<[bool; 18]>()).prop_flat_map(|((lift, low), plain, kept)| {
        let all = [FactValue::LiftM(lift), FactValue::LowM(low)].into_iter().chain(plain);
        let facts: Vec<FactValue> = all.zip(kept).filter(|(_, kept)| *kept).map(|(fact, _)| fact).collect();
        Just(facts).prop_shuffle()
    })
}

fn spans(reading: &Reading) -> Vec<Span> {
    let facts = reading.facts.iter().map(|fact| fact.at);
    let troubles = reading.troubles.iter().map(|trouble| trouble.at);
    let commands = reading.commands.iter().map(|(_, at)| *at);
    let asks = reading.asks.iter().map(|(_, at)| *at);
    let assumed = reading.assumed_words.iter().map(|guess| guess.at);
    let near = reading.near.iter().map(|near| near.at);
    facts.chain(troubles).chain(commands).chain(asks).chain(assumed).chain(near).chain(reading.language_named).collect()
}

/// Scraps that messages are made of, so that random ones go deep into the grammar.
const SCRAPS: [&str; 48] = [
    "lift",
    "low",
    "pipe",
    "panel",
    "pump",
    "garden",
    "wire",
    "test",
    "place",
    "hose",
    "fixed",
    "tilt",
    "month",
    "5",
    "80",
    "1/2",
    "½",
    "1 500",
    "15,000",
    "0.5",
    "999999999999999999999",
    "x",
    "*",
    "-",
    "to",
    "m",
    "ft",
    "'",
    "\"",
    "mm2",
    "w",
    "l/h",
    "gal",
    "v",
    "a",
    "in",
    ",",
    ".",
    "\n",
    " ",
    "=",
    "tomato",
    "drip",
    "10:30",
    "\u{200f}",
    "é",
    "zzzz",
    "lfit",
];

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read_without_panic_and_positions_lie_within(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let text = String::from_utf8_lossy(&bytes);
        let length = text.chars().count();
        for at in spans(&read(&text)) {
            prop_assert!(at.start <= at.end && at.end <= length, "{at:?} of {length}");
        }
    }

    #[test]
    fn any_text_is_read_without_panic_and_positions_lie_within(text in "\\PC{0,120}", asked in prop::option::of(pick(&Field::ALL))) {
        let length = text.chars().count();
        for at in spans(&read_in(&text, &LANGUAGES, "en", asked)) {
            prop_assert!(at.start <= at.end && at.end <= length, "{at:?} of {length}");
        }
    }

    #[test]
    fn any_scraps_are_read_within_limits(
        scraps in prop::collection::vec((pick(&SCRAPS), any::<bool>()), 0..60),
        asked in prop::option::of(pick(&Field::ALL)),
    ) {
        let text: String = scraps.iter().map(|(scrap, space)| format!("{scrap}{}", if *space { " " } else { "" })).collect();
        let length = text.chars().count();
        let reading = read_in(&text, &LANGUAGES, "en", asked);
        for at in spans(&reading) {
            prop_assert!(at.start <= at.end && at.end <= length, "{at:?} of {length} in {text:?}");
        }
        // Whatever was taken is possible, so it survives being written and stored.
        let json = serde_json::to_string(&reading).unwrap();
        prop_assert_eq!(serde_json::from_str::<Reading>(&json).unwrap(), reading);
    }

    #[test]
    fn what_is_printed_is_read_back(facts in any_facts()) {
        let at = Span { start: 0, end: 0 };
        let told: Vec<Fact> = facts.iter().map(|value| Fact { value: value.clone(), at }).collect();
        for language in LANGUAGES.iter() {
            let text = print(&told, language);
            prop_assert_eq!(values(&read_in(&text, &LANGUAGES, &language.code, None)), facts.clone(), "{}", text);
        }
    }

    #[test]
    fn words_of_noise_around_lose_nothing(
        facts in any_facts(),
        before in prop::collection::vec("[bdfgjkqvxz]{2,7}", 0..1),
        after in prop::collection::vec("[bdfgjkqvxz]{2,7}", 0..1),
    ) {
        let at = Span { start: 0, end: 0 };
        let told: Vec<Fact> = facts.iter().map(|value| Fact { value: value.clone(), at }).collect();
        for language in LANGUAGES.iter() {
            let text = print(&told, language);
            let noisy = format!("{} {text}\n{}", before.join(" "), after.join(" "));
            prop_assert_eq!(values(&read_in(&noisy, &LANGUAGES, &language.code, None)), facts.clone(), "{}", noisy);
        }
    }
}
