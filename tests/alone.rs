//! Messages by themselves, in a list or from a machine: the reply and the advice beside it are one and the same, and
//! what lives in a talk says so.

use std::sync::LazyLock;

use chrono::{DateTime, Utc};
use noonwater::single::{self, Single};
use noonwater::talk::{Channel, Depth, Known, Talk};
use noonwater::turn::{World, of_sheet, turn};
use noonwater::{placefile, pricefile, world};

static WORLD: LazyLock<World> = LazyLock::new(|| {
    let climate = placefile::parse(noonwater::demo::PLACE_JSON, false).expect("the demo place");
    let prices = pricefile::parse(noonwater::demo::PRICES_TOML, false).expect("the demo prices");
    world::build(world::languages(None).expect("the folders"), Some("en"), vec![climate], "Kito", prices).expect("a world")
});

/// About noon in the valley of the Kito, in its dry season.
fn noon() -> DateTime<Utc> {
    "2027-09-10T09:40:00Z".parse().expect("a time")
}

fn answer(text: &str) -> Single {
    single::answer(&WORLD, text, None, None, Depth::Answer, noon()).expect("an answer")
}

fn code(single: &Single) -> &str {
    single.advice.as_ref().err().map_or("", |refused| refused.code.as_str())
}

#[test]
fn a_word_that_lives_in_a_talk_says_so_and_sizes_nothing() {
    for word in ["stop", "person", "forget", "remind", "start"] {
        let alone = answer(word);
        assert_eq!(code(&alone), "only_in_talk", "{word}: {}", alone.text());
        assert!(alone.text().contains(&word.to_uppercase()), "{}", alone.text());
        assert_eq!(alone.turn.gist.verdict, None, "{}", alone.text());
        for promise in ["no more messages", "will read this", "Delete all", "will remind"] {
            assert!(!alone.text().contains(promise), "{}", alone.text());
        }
    }
}

#[test]
fn an_unusual_value_is_answered_and_named_and_nothing_is_asked_of_nobody() {
    let alone = answer("lift 40 pipe 30 panel 3x100 garden 900");
    assert!(!alone.text().contains("Is it right"), "{}", alone.text());
    assert!(alone.text().contains("40 m is unusual"), "{}", alone.text());
    assert!(alone.advice.is_ok(), "{}", alone.text());
}

/// Whatever is sent, the verdict beside a reply is the one that it says, and the advice beside it is of the sheet that it
/// tells.
#[test]
fn the_advice_is_the_one_that_was_said() {
    let mut advised = 0;
    for text in [
        "lift 3 pipe 30 panel 3x100 garden 900",
        "lift 3 pipe 30 panel 3x100 garden 9000",
        "lift 3 pipe 30 panel 3x100",
        "lift 40 pipe 30 panel 3x100 garden 900",
        "lift 900 pipe 30 panel 3x100 garden 900",
        "lift 3 pipe 30 panel 3x100 garden 900 help",
        "lift 3 pipe 30 panel 3x100 garden 900 more",
        "lift 3 pipe 30 panel 3x100 garden 900 change",
        "lift 3 pipe 30 panel 3x100 garden 900 sun",
        "lift 3 pipe 30 panel 3x100 pump 12v 9000 l/h 6m 10a test 75 l 40 s at 3",
        "lift 3 pipe 30 garden 900",
        "lift 3 pipe 30",
        "lfit 3 pipe 30 panel 3x100 gardne 900",
        "help",
        "place nowhere at all lift 3 pipe 30 panel 3x100 garden 900",
        "",
    ] {
        let alone = answer(text);
        if let Some(said) = alone.turn.gist.verdict {
            let advice = alone.advice.as_ref().unwrap_or_else(|refused| panic!("{text}: {refused:?}: {}", alone.text()));
            assert_eq!(advice.advice.verdict, Some(said), "{text}: {}", alone.text());
            assert_eq!(advice.advice.sheet.garden_m2, alone.turn.talk.known.sheet.garden_m2, "{text}");
            advised += 1;
        }
        if alone.text().contains("yes") {
            assert!(alone.advice.is_err(), "{text} is asked back beside an advice: {}", alone.text());
        }
    }
    assert!(advised >= 5, "{advised} were advised");
}

#[test]
fn facts_beside_a_guide_are_kept() {
    let mut talk = Talk::default();
    for word in ["help", "setup", "care"] {
        let turn = turn(&WORLD, &Talk::default(), &format!("lift 3 pipe 30 {word}"), Channel::Sms, noon());
        assert_eq!(turn.talk.known.sheet.lift_m, Some(3.0), "{:?}", turn.reply);
        talk = turn.talk;
    }
    assert_eq!(talk.known.sheet.pipe_m, Some(30.0));
}

/// What staff send ready-made is worked out from what is known, its bucket tests too, with no text between.
#[test]
fn what_is_said_to_a_sheet_goes_by_its_bucket_tests() {
    let sheet = "lift 3 pipe 30 panel 3x100 garden 900 pump 12v 9000 l/h 6m 10a";
    let told = turn(&WORLD, &Talk::default(), sheet, Channel::Sms, noon());
    let tested = turn(&WORLD, &told.talk, "test 75 l 60 s at 3", Channel::Sms, noon());
    let untested = of_sheet(&WORLD, &told.talk, noon()).reply.expect("a reply").text;
    let own = of_sheet(&WORLD, &tested.talk, noon());
    let text = own.reply.expect("a reply").text;
    assert_ne!(text, untested);
    assert!(text.to_lowercase().contains("own test"), "{text}");
    let advice = own.taken.advice.expect("an advice");
    let known = noonwater::talk::answer_sheet(&WORLD, &tested.talk.known, Depth::Answer).expect("an advice");
    assert_eq!(advice.design().water.water_m3_day, known.design().water.water_m3_day);
    assert_eq!(of_sheet(&WORLD, &Talk { known: Known::default(), ..Talk::default() }, noon()).taken.advice, None);
}

/// No sentence is made from a value that is not there.
#[test]
fn a_breaker_that_nobody_makes_is_not_sold() {
    for garden in [5_000, 10_000, 20_000, 40_000, 100_000] {
        for language in ["en", "fr", "sw"] {
            let text = format!("lift 3 pipe 30 garden {garden}");
            let alone = single::answer(&WORLD, &text, Some(language), None, Depth::Answer, noon()).expect("an answer");
            let said = alone.text();
            assert!(!said.contains("x0 A") && !said.contains(" 0 A"), "{text}: {said}");
        }
    }
}

#[test]
fn one_of_a_thing_is_said_as_one() {
    use noonwater::reply::{Room, render};
    use noonwater::sizing::advice::changes::Change;
    use noonwater::talk::Say;
    let english = WORLD.languages.get("en").expect("English");
    let fix = |count| Say::Fix {
        place: 1,
        changes: vec![Change::PanelCount(count)],
        area_m2: 900.0,
        added_cost: None,
        currency: String::new(),
    };
    let said = |say: Say| render(english, &[say], Room::Parts(1)).text;
    assert!(said(fix(1)).contains("1 panel:"), "{}", said(fix(1)));
    assert!(said(fix(2)).contains("2 panels:"), "{}", said(fix(2)));
    assert!(!said(Say::OwnNumbers { tests: 1 }).contains("tests"));
    assert!(said(Say::OwnNumbers { tests: 3 }).contains("3 tests"));
}
