//! Conversations through the pure core: message in, reply out, time as an argument.

#[path = "talks/asked_back.rs"]
mod asked_back;
#[path = "talks/phone.rs"]
mod phone;

use chrono::TimeDelta;
use noonwater::language::Languages;
use noonwater::reply::REQUIRED;
use noonwater::sizing::{Climate, Market};

use noonwater::talk::{Channel, Talk};
use noonwater::turn::{World, turn};
use proptest::prelude::*;
use std::sync::LazyLock;

use phone::{Phone, has};

static WORLD: LazyLock<World> = LazyLock::new(|| {
    let place = serde_json::from_str(noonwater::demo::PLACE_JSON).expect("the demo place reads");
    let climate = Climate::new(place).expect("the demo place is sound");
    let languages = Languages::shipped().expect("the shipped folders load");
    World::new(languages, "en".to_owned(), [climate], "Kito".to_owned(), Market::default())
});

#[test]
fn four_numbers_get_an_answer_in_one_part() {
    let turn = Phone::new().turn("lift 5 pipe 40 panel 3x100 garden 1500 pump 12v 15000 l/h 8m 16a");
    let reply = turn.reply.expect("a reply");
    has(&reply.text, &["ENOUGH", "m3", "m2", "Assumed: "]);
    assert_eq!(reply.parts, 1, "{}", reply.text);
    assert!(!turn.wants_person);
    // The same by four bare numbers, and in any order.
    let bare = Phone::new().say("5 40 300 1500");
    let mixed = Phone::new().say("garden 1500, 300w panel, 40m pipe, 5m lift");
    assert_eq!(bare, mixed);
}

#[test]
fn one_question_a_message_and_a_bare_number_answers_it() {
    let mut phone = Phone::new();
    has(&phone.say("lift 5"), &["lift 5 m", "How many panels"]);
    has(&phone.say("3x100"), &["panel 3", "pipe from the pump"]);
    has(&phone.say("40"), &["m3", "Garden"]);
    has(&phone.say("1500"), &["ENOUGH"]);
}

#[test]
fn a_correction_after_an_answer_answers_again() {
    let mut phone = Phone::new();
    let before = phone.say("lift 5 pipe 40 bore 32 panel 3x100 garden 1500 pump 12v 15000 l/h 8m 16a");
    let after = phone.say("pipe 160");
    assert_ne!(before, after);
    has(&after, &["m3", "m2"]);
    assert_eq!(phone.talk.known.sheet.lift_m, Some(5.0));
    let litres = |talk: &Talk| {
        noonwater::talk::answer_sheet(&WORLD, &talk.known, noonwater::talk::Depth::Answer).expect("an advice")
    };
    assert_eq!(litres(&phone.talk).sheet.pipe_m, 160.0);
}

#[test]
fn a_wrong_value_is_refused_with_its_range_and_the_rest_is_kept() {
    let mut phone = Phone::new();
    has(&phone.say("lift 900 pipe 40 panel 3x100"), &["lift 900", "0 to 100 m", "pipe 40"]);
    assert_eq!(phone.talk.known.sheet.pipe_m, Some(40.0));
    // The field that was refused is the one that is asked: a number alone answers it.
    has(&phone.say("5"), &["m3"]);
    has(&phone.say("garden 5 volts"), &["garden", "m2"]);
    has(&phone.say("lift x"), &["lift"]);
}

#[test]
fn an_unusual_value_is_asked_back_once() {
    let mut phone = Phone::new();
    has(&phone.say("lift 45 pipe 60 panel 4x100 pump 24v 3000 l/h 60m"), &["45", "right"]);
    has(&phone.say("yes"), &["m3"]);
    let mut phone = Phone::new();
    phone.say("lift 45 pipe 60 panel 4x100");
    has(&phone.say("no"), &["How many metres"]);
    has(&phone.say("4.5"), &["m3"]);
}

#[test]
fn a_near_miss_is_taken_with_a_number_and_asked_without() {
    let mut phone = Phone::new();
    has(&phone.say("lift 5 pipw 40"), &["pipe", "panels"]);
    assert_eq!(phone.talk.known.sheet.pipe_m, Some(40.0));
    let mut phone = Phone::new();
    let asked = phone.say("tomatto");
    has(&asked, &["tomato", "yes"]);
    phone.say("yes");
    assert_eq!(phone.talk.known.sheet.crop.as_deref(), Some("tomato"));
}

#[test]
fn stop_is_confirmed_once_and_then_nothing_until_start() {
    let mut phone = Phone::new();
    phone.say("lift 5");
    has(&phone.say("STOP"), &["no more"]);
    assert_eq!(phone.turn("lift 6 pipe 40").reply, None);
    assert_eq!(phone.turn("help").reply, None);
    has(&phone.say("start"), &["Welcome"]);
    has(&phone.say("pipe 40"), &["lift 5", "panels"]);
}

#[test]
fn two_misunderstandings_in_a_row_go_to_a_human() {
    let mut phone = Phone::new();
    let first = phone.turn("mvua inakuja qwerty");
    assert!(!first.wants_person);
    assert!(first.reply.is_some());
    let second = phone.turn("asdf ghjk");
    assert!(second.wants_person);
    has(&second.reply.expect("a reply").text, &["person"]);
    // A message that is understood starts the count anew.
    phone.say("lift 5");
    assert!(!phone.turn("zxcv bnmm").wants_person);
}

#[test]
fn odd_messages_get_a_short_helpful_answer() {
    for odd in ["", "   ", "\u{200f}\u{202e}", "🌱🌱🌱", "\u{0}\u{1}\u{7f}", "?", "...", "\n\n"] {
        let reply = Phone::new().turn(odd).reply.unwrap_or_else(|| panic!("silence after {odd:?}"));
        assert!(!reply.text.is_empty() && reply.parts <= 2, "{odd:?}: {}", reply.text);
    }
    let long = "lift 5 pipe 40 panel 3x100 garden 1500 and much more to tell you about my garden ".repeat(30);
    has(&Phone::new().say(&long), &["m3"]);
}

#[test]
fn an_old_sheet_is_asked_about_and_an_unknown_place_is_named() {
    let mut phone = Phone::new();
    phone.say("lift 5 pipe 40 panel 3x100 garden 1500");
    phone.now += TimeDelta::days(31);
    has(&phone.say("garden 2000"), &["same garden"]);
    has(&phone.say("yes"), &["m3"]);
    assert_eq!(phone.talk.known.sheet.garden_m2, Some(2000.0));
    assert_eq!(phone.talk.known.sheet.lift_m, Some(5.0));
    phone.now += TimeDelta::days(31);
    phone.say("garden 900");
    has(&phone.say("no"), &["How many metres"]);
    assert_eq!(phone.talk.known.sheet.lift_m, None);
    assert_eq!(phone.talk.known.sheet.garden_m2, Some(900.0));
    has(&phone.say("place nowhere"), &["nowhere", "Kito"]);
}

#[test]
fn help_names_the_words_and_defers_to_local_codes() {
    let reply = Phone::new().turn("help").reply.expect("a reply");
    has(&reply.text, &["lift 3", "local codes", "licensed"]);
    assert_eq!(reply.parts, 1);
}

#[test]
fn every_advice_carries_a_safety_line_and_all_take_turns() {
    let mut phone = Phone::new();
    let mut seen = std::collections::BTreeSet::new();
    let english = WORLD.languages.get("en").expect("English");
    for (lift, _) in (0_u8..).zip(noonwater::talk::Safety::ALL) {
        let reply = phone.say(&format!("lift {} pipe 40 panel 3x100 garden 1500", 4.0 + f64::from(lift) / 10.0));
        let line = noonwater::talk::Safety::ALL
            .iter()
            .find(|line| {
                let words = english.replies.wordings("safety", &[("line", line.code().into())]).expect("its words");
                words.iter().any(|text| reply.contains(text.as_str()))
            })
            .unwrap_or_else(|| panic!("no safety line in {reply:?}"));
        seen.insert(*line);
    }
    assert_eq!(seen.len(), noonwater::talk::Safety::ALL.len());
}

#[test]
fn every_required_reply_has_words_in_every_language() {
    for language in WORLD.languages.iter() {
        let troubles = language.replies.check(REQUIRED);
        assert!(troubles.is_empty(), "{}: {troubles:?}", language.code);
    }
}

#[test]
fn which_gallons_is_answered_by_their_name_alone() {
    // US and imperial gallons: NIST SP 811, appendix B.9 (3.785 412 l and 4.546 09 l).
    for (language, first, answer, flow_l_h) in [
        ("en", "pump 12v 8m 2000 gph", "us", 2000.0 * 3.785_412),
        ("en", "pump 12v 8m 2000 gph", "imperial pls", 2000.0 * 4.546_09),
        ("en", "pump 12v 8m 2000 gph", "imperial gallons", 2000.0 * 4.546_09),
        ("en", "pump 12v 8m 2000 gph", "7500", 7500.0),
        ("fr", "pompe 12v 8m 2000 gallons", "gallons us", 2000.0 * 3.785_412),
        ("fr", "pompe 12v 8m 2000 gallons", "anglais", 2000.0 * 4.546_09),
        ("sw", "pampu 12v 8m galoni 2000", "za marekani", 2000.0 * 3.785_412),
        ("sw", "pampu 12v 8m galoni 2000", "uingereza", 2000.0 * 4.546_09),
    ] {
        let mut phone = Phone::new();
        phone.talk.language = Some(language.to_owned());
        has(
            &phone.say(first),
            &["US", "7571", "9092"].map(|part| if language == "sw" && part == "US" { "M" } else { part }),
        );
        phone.say(answer);
        let told = phone.talk.known.pump.flow_l_h.unwrap_or_else(|| panic!("{language} {answer}"));
        assert!((told - flow_l_h).abs() < 0.01, "{language} {answer}: {told}");
        assert_eq!((phone.talk.known.pump.label_v, phone.talk.known.pump.head_m), (Some(12.0), Some(8.0)));
    }
    // Help between the question and its answer loses neither.
    let mut phone = Phone::new();
    phone.say("well 500 gallons");
    phone.say("help");
    phone.say("us");
    assert_eq!(phone.talk.known.sheet.well_l_h.map(f64::round), Some(1893.0));
}

/// Rows as an older version wrote them, before a question had a kind of its own for gallons.
#[test]
fn a_talk_stored_before_still_reads() {
    for stored in [
        r#"{"asked":{"question":"field","field":"pump"}}"#,
        r#"{"asked":{"question":"still_same","facts":[]}}"#,
        r#"{"ussd":{"waits":{"choice":"home"},"text":"1 Answer"},"misread":1}"#,
        r#"{"ussd":{"waits":"more","text":"1 More"}}"#,
    ] {
        serde_json::from_str::<Talk>(stored).unwrap_or_else(|trouble| panic!("{stored}: {trouble}"));
    }
}

#[test]
fn a_sentence_about_a_pump_opts_nobody_out_and_a_new_hose_begins_no_new_sheet() {
    let mut phone = Phone::new();
    phone.say("lift 5 pipe 40 panel 3x100 garden 1500");
    for text in ["my pump stop working", "the pump stops at noon", "arrêter la pompe à midi", "pampu acha kazi"] {
        phone.turn(text);
        assert!(!phone.talk.stopped, "{text}");
    }
    for text in ["i have a new hose 50 m", "j'ai un nouveau tuyau de 50 m", "bomba mpya mita 50", "my new garden is 1600"] {
        phone.turn(text);
        assert_eq!(phone.talk.known.sheet.lift_m, Some(5.0), "{text}");
    }
    assert_eq!(phone.talk.known.sheet.pipe_m, Some(50.0));
    for text in ["stop", "STOP.", "Stop sending me this", "arrêtez svp", "acha tafadhali", "hello. stop", "i want to stop"]
    {
        let mut phone = Phone::new();
        phone.turn(text);
        assert!(phone.talk.stopped, "{text}");
    }
}

#[test]
fn a_stray_number_is_asked_about_and_a_hedged_one_is_taken() {
    let asked = || {
        let mut phone = Phone::new();
        phone.say("lift 5 pipe 40 panel 3x100");
        phone
    };
    for stray in ["MMS: image/jpeg 320 kB", "320 kB", "your code for the bank today is 482100"] {
        let mut phone = asked();
        phone.turn(stray);
        assert_eq!(phone.talk.known.sheet.garden_m2, None, "{stray}");
    }
    for hedged in ["its about 1500 i think", "maybe 1500", "je crois 1500 environ", "nadhani 1500 hivi", "1500"] {
        let mut phone = asked();
        phone.turn(hedged);
        assert_eq!(phone.talk.known.sheet.garden_m2, Some(1500.0), "{hedged}");
    }
}

#[test]
fn after_an_answer_a_screen_offers_more_what_to_change_and_what_it_costs() {
    let mut phone = Phone::new();
    let mut key = |keyed: &str| {
        let turn = turn(&WORLD, &phone.talk, keyed, Channel::Ussd, phone.now);
        phone.talk = turn.talk.clone();
        let text = turn.reply.clone().expect("a screen").text;
        assert!(text.lines().count() <= 6, "{text}");
        (turn, text)
    };
    for keyed in ["", "1", "5", "3x100", "40"] {
        key(keyed);
    }
    let (turn, answer) = key("9000");
    assert!(turn.more && turn.by_sms.is_some());
    has(&answer, &["TOO LITTLE", "\n1 More\n2 ", "\n3 ", "\n0 Back"]);
    // A session that drops shows the same screen again.
    assert_eq!(key("").1, answer);
    has(&key("2").1, &["\n0 Back"]);
    has(&key("0").1, &["Your answer", "1 More"]);
    has(&key("3").1, &["prices"]);
    has(&key("0").1, &["Your answer"]);
    has(&key("1").1, &["poor day"]);
    has(&key("0").1, &["Your answer"]);
    has(&key("7").1, &["Key a number", "1 More"]);
    has(&key("0").1, &["1 Will it water"]);
    // And a message goes on where the screen was left.
    has(&phone.say("garden 300"), &["ENOUGH"]);
}

/// Things a phone may send, sense and nonsense.
fn message() -> impl Strategy<Value = String> {
    let words = [
        "lift 5",
        "lift 900",
        "pipe 40",
        "panel 3x100",
        "garden 1500",
        "pump 12v 15000 l/h 8m",
        "yes",
        "no",
        "help",
        "more",
        "new",
        "stop",
        "start",
        "person",
        "forget",
        "tomatto",
        "place nowhere",
        "place kito",
        "zzz",
        "5",
        "40",
        "",
        "drip",
        "turned",
        "september",
        "low 6",
        "well 900",
        "lift 45",
        "wire",
        "pump 15000 l/h",
        "cost",
        "change",
        "sun",
        "5x80",
    ];
    prop_oneof![
        4 => prop::sample::select(words.to_vec()).prop_map(str::to_owned),
        1 => "\\PC{0,40}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_sequence_of_messages_wedges_a_talk(messages in prop::collection::vec(message(), 1..12)) {
        let mut phone = Phone::new();
        for text in &messages {
            let turn = phone.turn(text);
            if let Some(reply) = &turn.reply {
                prop_assert!(!reply.text.is_empty(), "{messages:?}");
                prop_assert!(reply.parts <= 2, "{messages:?}: {}", reply.text);
            } else {
                prop_assert!(phone.talk.stopped, "silence after {text:?} in {messages:?}");
            }
            // Whatever happened, the talk is stored and read back as it is.
            let stored = serde_json::to_value(&phone.talk).expect("a value");
            prop_assert_eq!(&serde_json::from_value::<Talk>(stored).expect("a talk"), &phone.talk);
        }
        // There is always a way on.
        phone.turn("start");
        phone.turn("new");
        let reply = phone.say("lift 5 pipe 40 panel 3x100 pump 12v 9000 l/h 6m 10a garden 1500");
        // In whichever language the first word showed, the answer names its cubic metres and keeps the garden.
        prop_assert!(reply.contains("m3"), "{messages:?}: {reply}");
        prop_assert_eq!(phone.talk.known.sheet.garden_m2, Some(1500.0));
    }
}
