//! Every written conversation, played: the answers must come out as they stand in `dialogs/`.

use noonwater::demo::{PLACE_JSON, PRICES_TOML};
use noonwater::language::shipped;
use noonwater::rehearsal::Rehearsal;
use noonwater::turn::World;
use noonwater::{placefile, pricefile, world};

/// The demo place with its prices, in the languages shipped.
fn demo_world() -> World {
    let climate = placefile::parse(PLACE_JSON, false).unwrap();
    let home = climate.place.name.clone();
    let prices = pricefile::parse(PRICES_TOML, false).unwrap();
    world::build(world::languages(None).unwrap(), None, vec![climate], &home, prices).unwrap()
}

#[test]
fn every_rehearsal_plays_as_it_is_written() {
    let mut world = demo_world();
    let scripts = shipped::rehearsals();
    for (language, least) in [("en/", 20), ("fr/", 10), ("sw/", 10)] {
        let count = scripts.iter().filter(|(name, _)| name.starts_with(language)).count();
        assert!(count >= least, "{count} rehearsals in {language}");
    }
    let mut differing = Vec::new();
    for (name, text) in &scripts {
        let rehearsal = Rehearsal::read(text).unwrap_or_else(|error| panic!("{name}, {error}"));
        for difference in rehearsal.play(&mut world) {
            let (written, played) = (difference.written.join("\n  "), difference.played.join("\n  "));
            differing.push(format!("{name}:{} > {}\n  {written}\nplayed\n  {played}", difference.line, difference.sent));
        }
    }
    assert!(
        differing.is_empty(),
        "{} answers differ; read them, then `noonwater rehearse dialogs --rewrite`\n{}",
        differing.len(),
        differing.join("\n")
    );
}

#[test]
fn a_changed_answer_is_found_and_written_anew() {
    let mut world = demo_world();
    let text =
        "# a note\nhome: en\nat: 2026-08-10 06:30\n\n> stop\n< You will hear no more.\n+ 2 days\n> lift 5\n= silence\n";
    let rehearsal = Rehearsal::read(text).unwrap();
    let differences = rehearsal.play(&mut world);
    assert_eq!(differences.len(), 1);
    assert_eq!((differences[0].line, differences[0].sent.as_str()), (5, "stop"));
    let rewritten = rehearsal.rewritten(&mut world);
    assert!(rewritten.contains("+ 2 days") && rewritten.contains("= silence") && !rewritten.contains("hear no more"));
    assert_eq!(Rehearsal::read(&rewritten).unwrap().play(&mut world), []);
}

#[test]
fn a_line_that_says_nothing_is_named() {
    for (text, line) in [("hello", 1), ("> hi\n+ soon", 2), ("channel: pigeon", 1), ("at: noon", 1)] {
        assert_eq!(Rehearsal::read(text).unwrap_err().line, line, "{text}");
    }
}
