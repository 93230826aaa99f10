//! Looking for a fault step by step, and comparing a set with something changed.

use std::sync::LazyLock;

use chrono::{DateTime, Utc};
use noonwater::message::{Fact, FactValue, Reading, Span};
use noonwater::reply::alphabet::replace_letters;
use noonwater::talk::{Asked, Channel, Heard, Say, Search, Talk, step};
use noonwater::turn::{Turn, World, turn};
use noonwater::{placefile, pricefile, world};

static WORLD: LazyLock<World> = LazyLock::new(|| {
    let climate = placefile::parse(noonwater::demo::PLACE_JSON, false).expect("the demo place");
    let prices = pricefile::parse(noonwater::demo::PRICES_TOML, false).expect("the demo prices");
    world::build(world::languages(None).expect("the folders"), Some("en"), vec![climate], "Kito", prices).expect("a world")
});

fn noon() -> DateTime<Utc> {
    "2027-09-10T09:40:00Z".parse().expect("a time")
}

fn say(talk: &Talk, text: &str) -> Turn {
    turn(&WORLD, talk, text, Channel::Sms, noon())
}

fn text(turn: &Turn) -> &str {
    turn.reply.as_ref().map_or("", |reply| reply.text.as_str())
}

/// Asha's set.
fn asha() -> Talk {
    say(&Talk::default(), "lift 3 pipe 30 panel 3x100 garden 900 pump 12v 9000 l/h 6m 10a").talk
}

/// Every way through every tree of every language: it ends, each step is asked, and the steps taken stay on the talk.
#[test]
fn every_way_through_every_tree_comes_to_an_end() {
    for language in WORLD.languages.iter() {
        let (yes, no) = (["oui", "ndiyo", "yes"], ["non", "hapana", "no"]);
        let [yes, no] = [yes, no].map(|words| match language.code.as_str() {
            "fr" => words[0],
            "sw" => words[1],
            _ => words[2],
        });
        for (name, tree) in language.faults.iter() {
            let search = Search { tree: name.to_owned(), ..Search::default() };
            let asked = Some(Asked::Fault { step: tree.first.clone() });
            let begun = Talk { language: Some(language.code.clone()), search: Some(search), asked, ..asha() };
            let mut waiting = vec![begun];
            let mut ends = 0;
            while let Some(talk) = waiting.pop() {
                let Some(Asked::Fault { step }) = talk.asked.clone() else { panic!("{name} waits for nothing") };
                for (word, is_yes) in [(yes, true), (no, false)] {
                    let turn = say(&talk, word);
                    let search = turn.talk.search.clone().expect("a search");
                    let taken = search.taken.last().expect("a step taken");
                    assert_eq!((taken.step.as_str(), taken.yes), (step.as_str(), is_yes));
                    assert!(search.taken.len() <= 8, "{name} goes on");
                    let reply = turn.reply.as_ref().expect("a reply");
                    assert!(reply.parts <= 2, "{}", reply.text);
                    let Some(end) = &search.end else {
                        waiting.push(turn.talk);
                        continue;
                    };
                    let ending = &tree.ends[end];
                    let said = replace_letters(&ending.say, &language.replace);
                    assert!(text(&turn).contains(&*said), "{name}: {}", text(&turn));
                    assert_eq!(turn.wants_person, ending.then == noonwater::language::Then::Person, "{name} {end}");
                    ends += 1;
                }
            }
            assert!(ends >= tree.ends.len(), "{name}: every ending is come to");
        }
    }
}

#[test]
fn a_question_of_a_search_waits_while_help_is_asked() {
    let search = Search { tree: "no_water".to_owned(), ..Search::default() };
    let asked = Some(Asked::Fault { step: "under_water".to_owned() });
    let talk = Talk { search: Some(search), asked: asked.clone(), ..asha() };
    let helped = say(&talk, "help");
    assert_eq!(helped.talk.asked, asked);
    assert_eq!(say(&helped.talk, "yes").talk.search.expect("a search").taken.len(), 1);
}

#[test]
fn a_talk_in_the_middle_of_a_search_is_stored_and_read() {
    let search = Search { tree: "hums".to_owned(), ..Search::default() };
    let talk = Talk { search: Some(search), asked: Some(Asked::Fault { step: "a".to_owned() }), ..asha() };
    let json = serde_json::to_string(&talk).expect("JSON");
    assert_eq!(serde_json::from_str::<Talk>(&json).expect("a talk"), talk);
    // A talk stored before there was such a thing.
    let mut old: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    old.as_object_mut().expect("an object").remove("search");
    assert_eq!(serde_json::from_value::<Talk>(old).expect("a talk").search, None);
}

fn suppose(talk: &Talk, value: FactValue) -> noonwater::talk::Step {
    let supposed = vec![Fact { value, at: Span { start: 0, end: 0 } }];
    let reading = Reading { supposed, ..Reading::default() };
    step(&WORLD, talk, Heard { text: "", reading: &reading }, Channel::Sms.into(), noon())
}

#[test]
fn a_change_is_compared_kept_out_and_taken_on_yes() {
    let asha = asha();
    let fact = FactValue::Panel { count: Some(1), each_w: Some(100.0), total_w: None };
    let asked = suppose(&asha, fact);
    assert_eq!(asked.talk.known, asha.known, "the sheet is kept");
    assert_eq!(asked.taken.what_if, ["panel_count", "panel_w"]);
    let compared = asked.says.iter().find_map(|say| match say {
        Say::Compared(compared) => Some(compared),
        _ => None,
    });
    let compared = compared.expect("both side by side");
    assert!(compared.then.water_m3_day < compared.now.water_m3_day, "one panel gives less than three");
    let kept = say(&asked.talk, "no");
    assert_eq!(kept.talk.known, asha.known, "{}", text(&kept));
    let taken = say(&asked.talk, "yes");
    assert_eq!(taken.talk.known.sheet.panel_count, Some(1), "{}", text(&taken));
}

#[test]
fn none_yet_leads_to_a_whole_set() {
    for none in ["none yet", "not yet", "no panels", "none"] {
        let mut talk = say(&Talk::default(), "lift 3").talk;
        for (sent, asked) in [(none, "pipe"), ("30", "garden"), ("900", "Buy")] {
            let turn = say(&talk, sent);
            assert!(text(&turn).to_lowercase().contains(&asked.to_lowercase()), "{none}: {sent}: {}", text(&turn));
            talk = turn.talk;
        }
        // Panels that are told after all count.
        let told = say(&talk, "panel 3x100");
        assert!(!told.talk.known.no_panels && told.talk.known.sheet.panel_count == Some(3), "{}", text(&told));
    }
}

#[test]
fn not_knowing_gets_how_to_find_out_and_then_a_person() {
    let first = say(&say(&Talk::default(), "panel 3x100").talk, "i dont know");
    assert!(text(&first).starts_with("Lift: "), "{}", text(&first));
    assert!(!first.wants_person && first.taken.facts.is_empty());
    let second = say(&first.talk, "dont know");
    assert!(second.wants_person, "{}", text(&second));
}

/// Whatever is sent again and again, nobody reads the same three times running, and a person is told.
#[test]
fn no_three_equal_replies_in_a_row() {
    for sent in ["zzz qqq", "help", "person", "more", "hello", "yes", "no", "lift", "setup", "i dont know", "", "new"] {
        let mut talk = Talk::default();
        let (mut replies, mut told) = (Vec::new(), false);
        for _ in 0..9 {
            let turn = say(&talk, sent);
            told |= turn.wants_person;
            replies.push(text(&turn).to_owned());
            talk = turn.talk;
        }
        assert!(replies.windows(3).all(|three| three[0] != three[1] || three[1] != three[2]), "{sent}: {replies:#?}");
        let repeats = replies.windows(2).any(|two| two[0] == two[1]);
        assert!(told || !repeats, "{sent}: {replies:#?}");
    }
}

#[test]
fn what_is_only_supposed_in_words_is_compared() {
    let asha = asha();
    for (sent, names) in [("what about 2 inch pipe", "bore_mm"), ("and with 4 panels", "panel_count")] {
        let turn = say(&asha, sent);
        assert!(turn.taken.what_if.contains(&names), "{sent}: {:?}: {}", turn.taken.what_if, text(&turn));
        assert_eq!(turn.talk.known, asha.known, "{sent}");
        assert_ne!(say(&turn.talk, "yes").talk.known, asha.known, "{sent} is taken on yes");
    }
}

#[test]
fn a_complaint_begins_a_search() {
    let turn = say(&asha(), "the pump only hums and gives no water");
    let search = turn.talk.search.as_ref().unwrap_or_else(|| panic!("{:?}: {}", turn.taken.topics, text(&turn)));
    assert!(turn.taken.topics.contains(&search.tree), "{:?}", turn.taken.topics);
    assert!(matches!(turn.talk.asked, Some(Asked::Fault { .. })), "{}", text(&turn));
}
