//! Talks as a whole: random events never wedge one, every screen and message fits, every caution comes round, and a
//! language that no program knew is held from its folder alone.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::demo::PLACE_JSON;
use noonwater::language::{Command, Field, Gallon, Languages, shipped};
use noonwater::message::FactValue;
use noonwater::placefile;
use noonwater::talk::{Channel, Safety, Talk};
use noonwater::turn::{Turn, World, remind, turn};
use noonwater::world;
use proptest::prelude::*;

static WORLD: LazyLock<World> = LazyLock::new(|| world_of(world::languages(None).unwrap(), "en"));

fn world_of(languages: Languages, home: &str) -> World {
    let climate = placefile::parse(PLACE_JSON, false).unwrap();
    let place = climate.place.name.clone();
    world::build(
        languages,
        Some(home),
        vec![climate],
        &place,
        noonwater::pricefile::parse(noonwater::demo::PRICES_TOML, false).unwrap(),
    )
    .unwrap()
}

fn morning() -> DateTime<Utc> {
    DateTime::parse_from_rfc3339("2026-08-10T06:30:00Z").unwrap().to_utc()
}

fn say(world: &World, talk: &mut Talk, text: &str, now: DateTime<Utc>) -> Turn {
    let turn = turn(world, talk, text, Channel::Sms, now);
    *talk = turn.talk.clone();
    turn
}

/// Things that growers send, in all languages and both channels, good and bad.
const SENT: [&str; 75] = [
    "",
    "0",
    "1",
    "2",
    "3",
    "4",
    "5",
    "9",
    "40",
    "1500",
    "5x80",
    "-1",
    "999999",
    "lift 5",
    "pipe 40",
    "panel 5x80",
    "garden 1500",
    "lift 5 pipe 40 panel 5x80 garden 1500",
    "low 3",
    "lift 40",
    "pump 12v 4500 l/h",
    "pump large",
    "well 500",
    "place Nowhere",
    "place Kito",
    "crop quinoa",
    "tomatto",
    "lfit",
    "pipe",
    "wire",
    "bore",
    "stance",
    "help",
    "more",
    "setup",
    "care",
    "cost",
    "change",
    "sun",
    "test 100 l 30 s at 4",
    "test",
    "test 100 l 45 s at 4 12.30 hazy",
    "test 100 l 45 s at 2 9:30",
    "test 100 l 45 s cloudy",
    "when",
    "soil clay",
    "suction 7",
    "remind",
    "remind no",
    "kumbusha pampu",
    "rappel étiage",
    "pump 12v 15000 l/h 8m 16a",
    "us",
    "new",
    "person",
    "stop",
    "start",
    "forget",
    "yes",
    "no",
    "English",
    "Français",
    "Kiswahili",
    "oui",
    "non",
    "suite",
    "ndiyo",
    "hapana",
    "zaidi",
    "kimo 5",
    "hauteur 5",
    "zz qq",
    "💧",
    ".0.5",
    "panel 20x400 pump 48v 6000 l/h 40m",
];

fn event() -> impl Strategy<Value = (&'static str, bool, i64)> {
    (prop::sample::select(SENT.to_vec()), any::<bool>(), prop::sample::select(vec![1i64, 1, 1, 60, 60 * 24 * 40]))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, max_shrink_iters: 200, ..ProptestConfig::default() })]

    #[test]
    fn no_sequence_of_events_wedges_a_talk(events in prop::collection::vec(event(), 1..25), home in prop::sample::select(vec!["en", "fr", "sw"])) {
        let mut talk = Talk { language: Some(home.to_owned()), ..Talk::default() };
        let mut now = morning();
        for (text, by_menu, minutes) in events {
            now += TimeDelta::minutes(minutes);
            while let Some(due) = talk.reminders.iter().find(|due| due.due_at <= now).copied() {
                let reminded = remind(&WORLD, &talk, due.kind, now);
                prop_assert!(reminded.reply.is_some_and(|reply| reply.parts <= 2 && !reply.text.trim().is_empty()));
                prop_assert!(!reminded.talk.reminders.contains(&due), "it is not sent again");
                talk = reminded.talk;
            }
            let channel = if by_menu { Channel::Ussd } else { Channel::Sms };
            let was_stopped = talk.stopped;
            let turn = turn(&WORLD, &talk, text, channel, now);
            talk = turn.talk;
            // A stored talk comes back as it was.
            let stored = serde_json::to_string(&talk).unwrap();
            prop_assert_eq!(&serde_json::from_str::<Talk>(&stored).unwrap(), &talk);
            match turn.reply {
                None => prop_assert!(!by_menu && was_stopped, "silence after {text:?}"),
                Some(reply) if by_menu => {
                    prop_assert!(reply.fits_screen() && !reply.text.trim().is_empty(), "{}", reply.text);
                    // What the network sets for a menu, and what we set for its lines.
                    prop_assert!(reply.text.lines().count() <= 6 && !reply.text.contains("\n\n"), "{}", reply.text);
                }
                Some(reply) => prop_assert!(reply.parts <= 2 && !reply.text.trim().is_empty(), "{} parts: {}", reply.parts, reply.text),
            }
        }
        // Whatever came before, these words lead to an answer.
        for text in ["start", "new", "lift 5 pipe 40 panel 5x80 garden 1500"] {
            now += TimeDelta::minutes(1);
            let turn = say(&WORLD, &mut talk, text, now);
            prop_assert!(turn.reply.is_some());
        }
        let first = turn(&WORLD, &talk, "lift 5", Channel::Sms, now);
        prop_assert!(first.reply.unwrap().text.contains("m3"));
        // And so do the keys of a menu.
        let mut dialled = turn(&WORLD, &talk, "", Channel::Ussd, now);
        prop_assert!(dialled.more);
        dialled = turn(&WORLD, &dialled.talk, "0", Channel::Ussd, now);
        dialled = turn(&WORLD, &dialled.talk, "1", Channel::Ussd, now);
        prop_assert!(dialled.more && dialled.by_sms.is_some());
    }
}

/// The lines as each language words them, the longest of their wordings' beginnings being enough to tell them apart.
#[test]
fn every_advice_carries_a_caution_and_all_come_round_in_each_language() {
    for language in WORLD.languages.iter() {
        let mut talk = Talk { language: Some(language.code.clone()), ..Talk::default() };
        let mut seen = BTreeSet::new();
        let wordings: Vec<(Safety, Vec<String>)> = Safety::ALL
            .iter()
            .map(|line| {
                let texts = language.replies.wordings("safety", &[("line", line.code().into())]).unwrap();
                let replaced =
                    |text: String| noonwater::reply::alphabet::replace_letters(&text, &language.replace).into_owned();
                (*line, texts.into_iter().map(replaced).collect())
            })
            .collect();
        for garden in 0..Safety::ALL.len() {
            // In its own words: a whole message in another language would change the talk's.
            let word = |field| language.field(field).unwrap();
            let [lift, pipe, panel, own] = [Field::Lift, Field::Pipe, Field::Panel, Field::Garden].map(word);
            let text = format!("{lift} 3 {pipe} 30 {panel} 3x100 {own} {}", 900 + garden);
            let reply = say(&WORLD, &mut talk, &text, morning()).reply.unwrap();
            assert_eq!(reply.parts, 1, "{}", reply.text);
            let said = wordings.iter().find(|(_, texts)| texts.iter().any(|text| reply.text.contains(text)));
            seen.insert(said.unwrap_or_else(|| panic!("no caution in {}", reply.text)).0);
        }
        assert_eq!(seen.len(), Safety::ALL.len(), "{}", language.code);
    }
}

#[test]
fn forgetting_leaves_nothing_but_an_opt_out() {
    let mut talk = Talk::default();
    say(&WORLD, &mut talk, "lift 5 pipe 40", morning());
    assert!(!say(&WORLD, &mut talk, "forget", morning()).forget);
    assert!(say(&WORLD, &mut talk, "yes", morning()).forget);
    assert_eq!(talk, Talk::default());
    say(&WORLD, &mut talk, "lift 5", morning());
    say(&WORLD, &mut talk, "stop", morning());
    let turn = say(&WORLD, &mut talk, "forget", morning());
    assert!(turn.forget && turn.reply.is_none());
    assert_eq!(talk, Talk { stopped: true, ..Talk::default() });
}

/// An invented tongue: the English folder with other words, under a code set aside for private use (ISO 639-2, qaa-qtz).
#[test]
fn a_fourth_language_needs_its_folder_only() {
    let folder = tempfile::tempdir().unwrap();
    let english: BTreeMap<String, String> =
        shipped::folders().into_iter().find(|(code, _)| code == "en").map(|(_, files)| files).unwrap();
    let own = folder.path().join("qaa");
    std::fs::create_dir(&own).unwrap();
    let head = english["language.toml"].replace("code = \"en\"", "code = \"qaa\"").replace("\"English\"", "\"Kitotongue\"");
    std::fs::write(own.join("language.toml"), head).unwrap();
    let words = english["words.toml"].replace("[\"lift\",", "[\"hopla\",").replace("[\"pipe\",", "[\"tubla\",");
    let words = words.replace("[\"panel\",", "[\"sunla\",").replace("[\"garden\",", "[\"greenla\",");
    let words = words.replace("[\"clay\",", "[\"gluey\",").replace("[\"suction\",", "[\"sippla\",");
    let words = words.replace("[\"when\",", "[\"whenla\",").replace("[\"imperial\",", "[\"crownla\",");
    let words = words.replace("[\"above water\",", "[\"topla\",").replace("[\"stop\",", "[\"haltla\",");
    std::fs::write(own.join("words.toml"), words).unwrap();
    let replies = english["replies.ftl"].replace("ENOUGH:", "YUP:").replace("JUST YUP:", "JUST ENOUGH:");
    std::fs::write(own.join("replies.ftl"), &replies).unwrap();
    for file in english.keys().filter(|file| !["language.toml", "words.toml", "replies.ftl"].contains(&file.as_str())) {
        let path = own.join(file);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, &english[file]).unwrap();
    }
    let world = world_of(world::languages(Some(folder.path())).unwrap(), "en");
    let mut talk = Talk::default();
    let reply = say(&world, &mut talk, "hopla 5 tubla 40 sunla 5x80 greenla 1500", morning()).reply.unwrap();
    assert!(reply.text.contains("YUP:"), "{}", reply.text);
    // So do its soils, its gallons, its word for what stands above the water, and its word to end it all.
    let read = |text: &str| noonwater::message::read(text, &world.languages, "qaa", None);
    let told = |text: &str| read(text).facts.into_iter().map(|fact| fact.value).collect::<Vec<_>>();
    assert_eq!(told("gluey sippla 3"), [FactValue::Soil("clay".to_owned()), FactValue::SuctionM(3.0)]);
    assert_eq!(told("pump 2 m topla"), [FactValue::SuctionM(2.0)]);
    assert_eq!(read("crownla").gallon.map(|(gallon, _)| gallon), Some(Gallon::Imperial));
    assert_eq!(read("whenla").commands.first().map(|(command, _)| *command), Some(Command::When));
    assert_eq!(read("my pump haltla working").commands, []);
    assert_eq!(read("haltla").commands.first().map(|(command, _)| *command), Some(Command::Stop));
    let reply = say(&world, &mut talk, "English", morning()).reply.unwrap();
    assert!(reply.text.contains("ENOUGH:"), "{}", reply.text);
    let reply = say(&world, &mut talk, "Kitotongue", morning()).reply.unwrap();
    assert!(reply.text.contains("YUP:"), "{}", reply.text);

    // A key that is missing, one that nobody says, and a reply too long for any phone are named.
    let broken = replies.replace("\nkept = ", "\nkpet = ").replace("busy = ", &format!("busy = {} ", "long ".repeat(80)));
    std::fs::write(own.join("replies.ftl"), &broken).unwrap();
    let faults = world::languages(Some(folder.path())).unwrap_err().to_string();
    assert!(faults.contains("qaa/replies.ftl: kept is missing") && faults.contains("kpet is used nowhere"), "{faults}");
    std::fs::write(own.join("replies.ftl"), broken.replace("\nkpet = ", "\nkept = ")).unwrap();
    let faults = world::languages(Some(folder.path())).unwrap_err().to_string();
    assert!(faults.contains("qaa/replies.ftl: busy: ") && faults.contains("octets"), "{faults}");
}
