//! A set through its season: bucket tests, the day's plan, reminders; text in, text out, time as an argument.

use std::sync::LazyLock;

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::demo::{PLACE_JSON, PRICES_TOML};
use noonwater::talk::{Channel, Depth, ReminderKind, Talk};
use noonwater::turn::{Turn, World, remind, turn};
use noonwater::{placefile, pricefile, single, world};

static WORLD: LazyLock<World> = LazyLock::new(|| {
    let climate = placefile::parse(PLACE_JSON, false).unwrap();
    let prices = pricefile::parse(PRICES_TOML, false).unwrap();
    world::build(world::languages(None).unwrap(), Some("en"), vec![climate], "Kito", prices).unwrap()
});

const SET: &str = "lift 5 pipe 40 bore 50 panel 5x80 garden 1500 pump 12v 15000 l/h 8m 16a";

/// A phone whose clock stands at half past twelve where the sun's noon is twenty to one.
struct Phone {
    talk: Talk,
    now: DateTime<Utc>,
}

impl Phone {
    fn new() -> Self {
        Phone { talk: Talk::default(), now: "2026-09-10T09:30:00Z".parse().unwrap() }
    }

    fn turn(&mut self, text: &str) -> Turn {
        let turn = turn(&WORLD, &self.talk, text, Channel::Sms, self.now);
        self.talk = turn.talk.clone();
        self.now += TimeDelta::minutes(1);
        turn
    }

    fn say(&mut self, text: &str) -> String {
        self.turn(text).reply.expect("a reply").text
    }
}

#[track_caller]
fn has(reply: &str, wanted: &[&str]) {
    for part in wanted {
        assert!(reply.contains(part), "{part:?} is not in {reply:?}");
    }
}

#[test]
fn a_test_is_judged_and_its_numbers_stand_from_then_on() {
    let mut phone = Phone::new();
    let before = phone.say(SET);
    assert!(!before.contains("wn test"), "{before}");
    has(&phone.say("test 100 l 90 s at 4"), &["fault", "wn test", "CARE"]);
    // Every reply with figures says whose they are.
    for text in ["pipe 50", "more", "change", "cost", "wire", "bore", "when"] {
        let reply = phone.say(text);
        assert!(reply.contains("wn test"), "{text}: {reply}");
    }
    // The question of an old sheet keeps the test.
    phone.now += TimeDelta::days(40);
    phone.say("garden 1600");
    has(&phone.say("yes"), &["wn test"]);
}

#[test]
fn a_test_waits_for_the_set_it_was_made_on() {
    let mut phone = Phone::new();
    has(&phone.say("test 100 l 45 s at 4"), &["lift"]);
    phone.say("5");
    phone.say("panel 5x80");
    has(&phone.say("pipe 40 bore 50"), &["label"]);
    has(&phone.say("pump 12v 15000 l/h 8m 16a garden 1500"), &["Test", "wn test"]);
}

#[test]
fn two_tests_in_one_message_and_a_wrong_one_that_is_not_used() {
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("test 100 l 40 s at 2 test 100 l 60 s at 4"), &["(2)"]);
    assert_eq!(phone.talk.known.tests.len(), 2);
    has(&phone.say("test 100 l 1000 s at 4"), &["not used"]);
    has(&phone.say("pipe 41"), &["ests (2)"]);
    assert_eq!(phone.talk.known.tests.len(), 3, "it is kept");
}

#[test]
fn clouds_and_the_night_are_not_judged() {
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("test 100 l 45 s at 4 cloudy"), &["cloud", "again"]);
    has(&phone.say("test 100 l 45 s at 4 22:30"), &["too low"]);
    // Half past one tomorrow is half past one yesterday.
    has(&phone.say("test 100 l 45 s at 4 13:30"), &["13:30"]);
    assert!(phone.talk.known.tests.iter().all(|test| test.at <= phone.now));
}

#[test]
fn another_pump_has_no_tests_and_a_changed_set_keeps_them_as_they_were() {
    let mut phone = Phone::new();
    phone.say(SET);
    phone.say("test 100 l 90 s at 4");
    // Told the same day: a correction.
    phone.say("panel 4x80");
    assert!(phone.talk.known.tests[0].set_then.is_none());
    // A week later: a change.
    phone.now += TimeDelta::days(7);
    phone.say("panel 6x80");
    let then = phone.talk.known.tests[0].set_then.clone().expect("the set as it was");
    assert_eq!(then.panel_count, Some(4));
    phone.say("pump 12v 7500 l/h 5.5m 9a");
    assert!(phone.talk.known.tests.is_empty());
}

const LABEL: &str = "pump 12v 15000 l/h 8m 16a";

#[test]
fn a_new_pump_of_the_same_label_has_no_tests() {
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("test 100 l 90 s at 4"), &["wn test"]);
    let reply = phone.say("new pump");
    has(&reply, &["ew pump", "ENOUGH"]);
    assert!(!reply.contains("wn test"), "{reply}");
    assert!(phone.talk.known.tests.is_empty());
    assert_eq!(phone.talk.known.sheet.garden_m2, Some(1500.0), "the rest of the sheet stands");
    // With its label in the same message.
    phone.say("test 100 l 90 s at 4");
    phone.say(&format!("new {LABEL}"));
    assert!(phone.talk.known.tests.is_empty());
    assert_eq!(phone.talk.known.pump.flow_l_h, Some(15_000.0));
    // A question about one is none.
    phone.say("test 100 l 90 s at 4");
    phone.say("which new pump is good");
    assert_eq!(phone.talk.known.tests.len(), 1);
}

#[test]
fn a_label_sent_again_long_after_its_test_is_asked_about() {
    let tested = || {
        let mut phone = Phone::new();
        phone.say(SET);
        phone.say("test 100 l 90 s at 4");
        phone
    };
    // The same day it is the same pump.
    let mut phone = tested();
    has(&phone.say(LABEL), &["wn test"]);
    phone.now += TimeDelta::days(20);
    has(&phone.say(LABEL), &["new pump", "yes"]);
    has(&phone.say("no"), &["wn test"]);
    has(&phone.say(LABEL), &["new pump", "yes"]);
    let reply = phone.say("yes");
    assert!(!reply.contains("wn test"), "{reply}");
    assert!(phone.talk.known.tests.is_empty());
    // Nothing is asked of a pump that was never tested.
    let mut phone = Phone::new();
    phone.say(SET);
    phone.now += TimeDelta::days(20);
    has(&phone.say(LABEL), &["ENOUGH"]);
}

#[test]
fn brushes_of_a_new_pump_are_counted_anew() {
    let mut phone = Phone::new();
    phone.say(SET);
    phone.say("remind pump");
    let due = phone.talk.reminders[0].due_at;
    phone.now += TimeDelta::days(25);
    phone.say("new pump");
    assert_eq!(phone.talk.reminders.len(), 1);
    assert!(phone.talk.reminders[0].due_at > due, "{:?}", phone.talk.reminders);
}

#[test]
fn a_test_is_taken_back_by_a_word_of_its_own() {
    for (word, set) in [
        ("untest", SET),
        ("drop the test", SET),
        ("retirer essai", "hauteur 5 tuyau 40 panneau 5x80 jardin 1500 pompe 12v 15000 l/h 8m 16a"),
        ("futa jaribio", "kimo 5 bomba 40 paneli 5x80 bustani 1500 pampu 12v 15000 l/h 8m 16a"),
    ] {
        let mut phone = Phone::new();
        phone.say(set);
        phone.say("test 100 l 90 s at 4");
        assert_eq!(phone.talk.known.tests.len(), 1, "{word}");
        let reply = phone.turn(word);
        assert!(phone.talk.known.tests.is_empty(), "{word}: {reply:?}");
        assert_eq!(phone.talk.known.sheet.garden_m2, Some(1500.0), "{word}");
        phone.say(word);
        assert_eq!(phone.talk.known.sheet.garden_m2, Some(1500.0), "{word}: with no test left");
    }
}

#[test]
fn more_buckets_are_asked_for_where_a_second_decides() {
    let mut phone = Phone::new();
    phone.say(SET);
    // What was taken for a fault is one, however short; it does not stand in for the label.
    let reply = phone.say("test 20 l 18 s at 4");
    has(&reply, &["fault", "5 buckets"]);
    assert!(!reply.contains("wn test"), "{reply}");
}

#[test]
fn a_talk_with_a_test_is_stored_and_read_back() {
    let mut phone = Phone::new();
    phone.say(SET);
    phone.say("test 100 l 90 s at 4");
    phone.say("remind");
    let stored = serde_json::to_string(&phone.talk).unwrap();
    assert_eq!(serde_json::from_str::<Talk>(&stored).unwrap(), phone.talk);
}

#[test]
fn the_whole_advice_holds_what_the_test_came_to() {
    let now = "2026-09-10T09:30:00Z".parse().unwrap();
    let text = format!("{SET} test 100 l 90 s at 4");
    let answer = single::answer(&WORLD, &text, None, None, Depth::Answer, now).unwrap();
    let json = answer.advice.unwrap_or_else(|refused| panic!("{refused:?}")).json().unwrap();
    assert_eq!(json["tested"]["findings"][0]["health"], "fault");
    assert!(json["tested"]["own"]["flow"].as_f64().unwrap() < 0.85);
    let night = "2026-09-10T19:30:00Z".parse().unwrap();
    let answer = single::answer(&WORLD, &text, None, None, Depth::Answer, night).unwrap();
    let json = answer.advice.unwrap_or_else(|refused| panic!("{refused:?}")).json().unwrap();
    assert_eq!(json["tested"]["findings"][0]["finding"], "low_sun");
}

#[test]
fn a_pump_that_has_worn_is_known_by_its_latest_test() {
    let mut phone = Phone::new();
    phone.say(SET);
    phone.say("test 100 l 40 s at 4");
    phone.now += TimeDelta::days(60);
    phone.say("test 100 l 100 s at 4 12:30");
    has(&phone.say("yes"), &["fault", "own test"]);
    // Kept, all the same.
    assert_eq!(phone.talk.known.tests.len(), 2);
}

#[test]
fn the_stances_need_nothing_but_the_place() {
    let mut phone = Phone::new();
    has(&phone.say("sun june"), &["Jun", "north-east", "north-west", "more light"]);
    // The place's calendar, where no month is told.
    has(&Phone::new().say("sun"), &["Sep"]);
    has(&Phone::new().say("jua"), &["Sep"]);
}

#[test]
fn good_hours_and_days_between_waterings() {
    let mut phone = Phone::new();
    has(&phone.say("when"), &["lift"]);
    phone.say(SET);
    let reply = phone.say("when");
    has(&reply, &["September", "every"]);
    assert_eq!(phone.talk.known.sheet.month, None, "this month was asked of, not told");
    let sandy = phone.say("when soil sand");
    assert_ne!(reply, sandy);
}

#[test]
fn reminders_are_asked_for_and_taken_back() {
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("remind"), &["brushes", "low water", "remind no"]);
    let kinds = |talk: &Talk| talk.reminders.iter().map(|reminder| reminder.kind).collect::<Vec<_>>();
    assert_eq!(kinds(&phone.talk), [ReminderKind::LowWater, ReminderKind::Brushes]);
    // Asked again, the count of hours goes on.
    let brushes = phone.talk.reminders[1];
    phone.now += TimeDelta::days(20);
    phone.say("remind pump");
    assert!(phone.talk.reminders.contains(&brushes));
    phone.say("remind no low");
    assert_eq!(kinds(&phone.talk), [ReminderKind::Brushes]);
    // Nobody is asked about an old garden for taking one back.
    phone.now += TimeDelta::days(100);
    has(&phone.say("remind no pump"), &["No more reminders"]);
    phone.say("remind");
    phone.say("yes");
    assert_eq!(phone.talk.reminders.len(), 2);
    phone.say("remind no");
    assert!(phone.talk.reminders.is_empty());
    phone.say("remind");
    phone.say("stop");
    assert!(phone.talk.reminders.is_empty());
}

#[test]
fn a_reminder_comes_when_it_falls_due_and_low_water_again_next_year() {
    let mut phone = Phone::new();
    phone.say(SET);
    phone.say("remind");
    for kind in ReminderKind::ALL {
        let due_at = phone.talk.reminders.iter().find(|reminder| reminder.kind == kind).unwrap().due_at;
        let early = remind(&WORLD, &phone.talk, kind, due_at - TimeDelta::seconds(1));
        assert!(early.reply.is_none() && early.talk == phone.talk);
        let due = remind(&WORLD, &phone.talk, kind, due_at);
        let reply = due.reply.expect("a reminder");
        assert_eq!(reply.parts, 1, "{}", reply.text);
        let again = due.talk.reminders.iter().find(|reminder| reminder.kind == kind).map(|reminder| reminder.due_at);
        match kind {
            ReminderKind::Brushes => assert_eq!(again, None),
            ReminderKind::LowWater => assert_eq!((again.unwrap() - due_at).num_days(), 365),
        }
    }
    // Seven in the morning at the place.
    assert!(phone.talk.reminders.iter().all(|reminder| reminder.due_at.to_rfc3339().contains("T04:00:00")));
}

#[test]
fn a_pump_with_electronics_has_no_brushes_to_remind_of() {
    let mut phone = Phone::new();
    phone.say("lift 12 pipe 40 panel 4x250 garden 500 pump 24v 3000 l/h 25m brushless");
    has(&phone.say("remind pump"), &["no brushes"]);
    assert!(phone.talk.reminders.is_empty());
}

#[test]
fn a_pump_too_high_is_told_so() {
    has(&Phone::new().say(&format!("{SET} suction 7")), &["too high"]);
}

#[test]
fn a_mistyped_word_does_what_was_meant_on_yes() {
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("stpo"), &["stop"]);
    has(&phone.say("yes"), &["no more messages"]);
    assert!(phone.talk.stopped);
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("chnge"), &["change"]);
    has(&phone.say("yes"), &["enough"]);
}

#[test]
fn a_mistyped_test_is_asked_about_and_not_refused() {
    let mut phone = Phone::new();
    phone.say(SET);
    has(&phone.say("tset 20 l 12 s at 4 12.30"), &["test"]);
    has(&phone.say("yes"), &["Test"]);
    assert_eq!(phone.talk.known.tests[0].at.to_rfc3339(), "2026-09-10T09:30:00+00:00");
}
