//! Talks that begin in a town or at a spot.

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::demo::PLACE_JSON;
use noonwater::message::FactValue;
use noonwater::message::read;
use noonwater::sizing::money::costs::PriceList;
use noonwater::talk::Channel;
use noonwater::turn::{Turn, World, turn};
use noonwater::{placefile, world};

fn kito() -> World {
    let climate = placefile::parse(PLACE_JSON, false).unwrap();
    world::build(world::languages(None).unwrap(), Some("en"), vec![climate], "Kito", PriceList::default()).unwrap()
}

/// Plays a talk: what is sent, and what the reply must hold; gives the last turn.
fn play(lines: &[(&str, &[&str])]) -> Turn {
    let world = kito();
    let mut now: DateTime<Utc> = "2027-08-01T07:00:00Z".parse().unwrap();
    let mut last = Turn::default();
    for (sent, held) in lines {
        last = turn(&world, &last.talk, sent, Channel::Sms, now);
        let reply = last.reply.as_ref().map(|reply| reply.text.as_str()).unwrap_or_default();
        for part in *held {
            assert!(reply.contains(part), "{sent:?} -> {reply:?} lacks {part:?}");
        }
        assert!(last.reply.as_ref().is_some_and(|reply| reply.parts <= 2), "{reply}");
        now += TimeDelta::minutes(2);
    }
    last
}

#[test]
fn a_town_of_the_atlas() {
    let last = play(&[
        ("lift 5 pipe 40 panel 5x80 garden 1500", &["ENOUGH", "m3"]),
        ("place DODOMA", &["m3", "Climate of Dodoma"]),
        ("garden 9000", &["TOO LITTLE", "place Dodoma"]),
    ]);
    assert!(!last.wants_person);
    assert_eq!(last.talk.known.place.as_deref(), Some("Dodoma"));
}

#[test]
fn a_spot_by_coordinates() {
    let last = play(&[
        ("place 8.2S 35.1E 1200m lift 5", &["lift 5", "place -8.2 35.1 1200m", "Dodoma", "237 km", "1200 m"]),
        ("pipe 40 panel 5x80 garden 1500", &["ENOUGH", "m3"]),
    ]);
    assert!(!last.wants_person);
    let last = play(&[("place -8.2 35.1", &["237 km", "1120 m"])]);
    assert_eq!(last.talk.known.place.as_deref(), Some("-8.2 35.1"));
}

#[test]
fn a_wrong_name_is_asked_about_and_taken_on_yes() {
    let last = play(&[
        ("lift 5 pipe 40 panel 5x80 garden 1500 place Dodma", &["Did you mean Dodoma where you wrote Dodma?"]),
        ("yes", &["m3", "Climate of Dodoma"]),
    ]);
    assert_eq!(last.talk.known.place.as_deref(), Some("Dodoma"));
    let last = play(&[
        ("lift 5 pipe 40 place Kitto", &["Did you mean Kito"]),
        ("no", &["Which place"]),
        ("-8.2, 35.1", &["place -8.2 35.1", "237 km"]),
    ]);
    assert_eq!(last.talk.known.sheet.pipe_m, Some(40.0));
    play(&[("place Zzyzx", &["I do not know Zzyzx", "Kito"]), ("Mwanza", &["place Mwanza"])]);
    // Thousands of metres above the nearest station: told, and not believed.
    play(&[("place 28 85 5500m", &["ROUGH"])]);
    play(&[("place 75 20", &["-60 to 60"]), ("-8.2 35.1", &["place -8.2 35.1"])]);
}

#[test]
fn a_far_spot_is_rough_and_goes_to_a_person() {
    let far: &[&str] = &["ROUGH", "km", "A person"];
    let last = play(&[("lift 5 pipe 40 panel 5x80 garden 1500 place -33 22", far)]);
    assert!(last.wants_person);
    // It stays rough; one person is enough.
    let last = play(&[("place -33 22", far), ("lift 5 pipe 40 panel 5x80 garden 1500", far)]);
    assert!(!last.wants_person);
    // Dodoma is near enough and 1900 m too low.
    assert!(play(&[("place -8.2 35.1 3000m", far)]).wants_person);
}

#[test]
fn metres_behind_the_degrees_are_the_altitude_unless_they_are_wanted_elsewhere() {
    let world = kito();
    for (text, place, facts) in [
        ("place 8.2S 35.1E 1200m lift 5 pipe 40", "8.2S 35.1E 1200m", 3),
        ("place -8.2 35.1 5m lift 40m pipe", "-8.2 35.1", 3),
        ("place -8.2 35.1 40m pipe", "-8.2 35.1", 2),
        ("lift 5 place 8°12'S 35°6'E pipe 40", "8°12'S 35°6'E", 3),
        ("place -8.2 35.1 tomato", "-8.2 35.1", 2),
        ("village: -8,2 35,1; lift 5", "-8,2 35,1", 2),
    ] {
        let reading = read(text, &world.languages, "en", None);
        let found = reading.facts.iter().find_map(|fact| match &fact.value {
            FactValue::Place(place) => Some(place.as_str()),
            _ => None,
        });
        assert_eq!((found, reading.facts.len()), (Some(place), facts), "{text}: {reading:?}");
        assert!(reading.troubles.is_empty(), "{text}: {:?}", reading.troubles);
    }
}

#[test]
fn clocks_are_those_of_the_place() {
    let world = kito();
    let now: DateTime<Utc> = "2027-08-31T22:00:00Z".parse().unwrap();
    for (place, local) in [
        (None, "2027-09-01T01:00:00+03:00"),
        (Some("Kathmandu"), "2027-09-01T03:45:00+05:45"),
        (Some("12.4 -1.5"), "2027-08-31T22:00:00+00:00"),
        // Far from any station the longitude tells.
        (Some("-33 150"), "2027-09-01T08:00:00+10:00"),
        (Some("nowhere"), "2027-09-01T01:00:00+03:00"),
    ] {
        assert_eq!(world.local_time(place, now).to_rfc3339(), local, "{place:?}");
    }
}

/// Metres behind degrees are an altitude by whatever way the words come.
#[test]
fn a_spot_with_its_altitude_is_read_on_a_screen_as_in_a_message() {
    let world = kito();
    let now: DateTime<Utc> = "2027-08-01T07:00:00Z".parse().unwrap();
    let dialled = turn(&world, &Turn::default().talk, "", Channel::Ussd, now);
    let spot = turn(&world, &dialled.talk, "place -8.2 35.1 1200m", Channel::Ussd, now);
    assert_eq!(spot.talk.known.place.as_deref(), Some("-8.2 35.1 1200m"), "{:?}", spot.reply);
    assert!(!spot.reply.unwrap().text.contains("1200?"));
}
