//! Somebody in danger is heard before anything else, in whatever words, and is answered at once.

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::demo::PLACE_JSON;
use noonwater::language::{DangerKind, DangerWords, Languages};
use noonwater::placefile;
use noonwater::sizing::Market;
use noonwater::talk::{Channel, Talk};
use noonwater::turn::{Turn, World, turn};

fn world() -> World {
    let languages = Languages::shipped().unwrap();
    let climate = placefile::parse(PLACE_JSON, false).unwrap();
    let name = climate.place.name.clone();
    let mut world = World::new(languages, "en".to_owned(), [climate], name, Market::default());
    world.emergency = Some("112".to_owned());
    world
}

fn noon() -> DateTime<Utc> {
    "2026-09-09T12:00:00Z".parse().unwrap()
}

fn sms(world: &World, talk: &Talk, text: &str, minutes: i64) -> Turn {
    turn(world, talk, text, Channel::Sms, noon() + TimeDelta::minutes(minutes))
}

fn text(turn: &Turn) -> &str {
    turn.reply.as_ref().map(|reply| reply.text.as_str()).unwrap_or_default()
}

#[test]
fn nearly_every_example_of_every_folder_is_heard_and_nearly_none_that_only_sounds_so() {
    let world = world();
    for language in world.languages.iter() {
        let of_all = |pick: fn(&DangerWords) -> &Vec<String>| -> Vec<&String> {
            language.danger.kinds.values().flat_map(pick).collect()
        };
        let (examples, others) = (of_all(|words| &words.examples), of_all(|words| &words.not));
        let missed: Vec<_> = examples.iter().filter(|text| world.ears.hear(text, None).is_none()).collect();
        let false_alarms: Vec<_> = others.iter().filter(|text| world.ears.hear(text, None).is_some()).collect();
        assert!(missed.len() * 50 <= examples.len(), "{}: missed {missed:#?}", language.code);
        assert!(false_alarms.len() * 40 <= others.len(), "{}: false alarms {false_alarms:#?}", language.code);
    }
}

#[test]
fn a_danger_is_heard_in_ten_parts_of_noise() {
    let world = world();
    let noise = "the men came by and we spoke of many things that day so i tell you now ".repeat(20);
    for (at, kind) in [(0, "he is not breathing"), (700, "my brother got electric shock"), (1300, "child fell in the well")]
    {
        let (before, after) = noise.split_at(at);
        assert!(world.ears.hear(&format!("{before} {kind} {after}"), None).is_some(), "{kind} at {at}");
    }
    assert_eq!(world.ears.hear(&noise, None), None);
}

#[test]
fn one_letter_of_the_telling_word_may_be_wrong() {
    let world = world();
    for text in [
        "he is elecrtocuted",
        "my brother got electric shok",
        "she is drowninng in the river",
        "he is uncoscious",
        "my hand is bleding a lot",
        "he is not breethin",
        "i want to kill mysef",
        "il est electrocuet",
        "elle se noye dans la riviere",
        "mtoto anazaama mtoni",
    ] {
        assert!(world.ears.hear(text, None).is_some(), "{text}");
    }
}

#[test]
fn the_line_says_what_to_do_whom_to_call_and_that_a_person_was_told() {
    let world = world();
    let turn = sms(&world, &Talk::default(), "my brother got electric shock from the pump he is not moving", 0);
    assert_eq!(turn.danger, Some(DangerKind::Shock));
    assert!(turn.wants_person);
    let reply = text(&turn);
    assert!(reply.starts_with("Do not touch"), "{reply}");
    assert!(reply.contains("112") && reply.contains("told"), "{reply}");
    // The second danger of the message has its line too.
    assert!(reply.contains("middle of the chest"), "{reply}");
    assert!(turn.talk.known.is_empty(), "nothing is taken for a value");
}

#[test]
fn without_a_number_the_line_says_to_call_for_help() {
    let mut world = world();
    world.emergency = None;
    let turn = sms(&world, &Talk::default(), "he fell in the water", 0);
    assert!(text(&turn).contains("Call for help now"), "{}", text(&turn));
}

#[test]
fn a_number_that_opted_out_is_answered_in_danger_and_in_the_hour_after() {
    let world = world();
    let stopped = sms(&world, &Talk::default(), "stop", 0).talk;
    assert!(stopped.stopped);
    assert_eq!(sms(&world, &stopped, "lift 3", 1).reply, None);
    let turn = sms(&world, &stopped, "he fell in the well help", 2);
    assert_eq!(turn.danger, Some(DangerKind::InWater));
    assert!(turn.reply.is_some() && turn.talk.stopped, "answered, and still opted out of all else");
    assert!(sms(&world, &turn.talk, "is it safe now", 3).reply.is_some());
}

#[test]
fn it_is_heard_on_a_screen_too_and_goes_out_as_a_message() {
    let world = world();
    let turn = turn(&world, &Talk::default(), "my son got shock from the wire", Channel::Ussd, noon());
    assert_eq!(turn.danger, Some(DangerKind::Shock));
    assert!(turn.by_sms.is_some());
    assert!(turn.reply.is_some_and(|reply| reply.fits_screen()));
}

#[test]
fn for_an_hour_the_talk_stays_with_it_and_asks_nothing_of_its_own() {
    let world = world();
    let first = sms(&world, &Talk::default(), "he fell in the river", 0);
    let safe = sms(&world, &first.talk, "is it safe now", 5);
    let help = sms(&world, &safe.talk, "help", 6);
    let over = sms(&world, &help.talk, "ok he is out now thanks", 7);
    let replies = [&first, &safe, &help, &over].map(text);
    for (at, reply) in replies.iter().enumerate() {
        assert!(!replies[..at].contains(reply), "said again: {reply}");
        assert!(reply.contains("112"), "{reply}");
    }
    assert!([&safe, &help, &over].iter().all(|turn| turn.wants_person));
    // A sheet is answered, without a question.
    let sheet = sms(&world, &over.talk, "lift 3 pipe 30", 10);
    assert!(sheet.wants_person && sheet.talk.asked.is_none());
    assert!(!text(&sheet).contains('?'), "{}", text(&sheet));
    // After the hour it is a talk like any other.
    let later = sms(&world, &over.talk, "lift 3 pipe 30", 120);
    assert!(text(&later).contains('?') && !later.wants_person);
}

#[test]
fn the_same_line_never_comes_three_times_running() {
    let world = world();
    let mut talk = Talk::default();
    let mut replies: Vec<String> = Vec::new();
    for minute in 0..6 {
        let turn = sms(&world, &talk, "he is not breathing", minute);
        replies.push(text(&turn).to_owned());
        talk = turn.talk;
    }
    assert!(replies.windows(2).all(|two| two[0] != two[1]), "{replies:?}");
}

#[test]
fn a_danger_in_any_language_is_answered_in_that_language() {
    let world = world();
    let talk = Talk { language: Some("en".to_owned()), ..Talk::default() };
    let turn = sms(&world, &talk, "mon frere est electrocute", 0);
    assert_eq!(turn.talk.language.as_deref(), Some("fr"));
    assert!(text(&turn).contains("112"));
}
