//! The shipped languages side by side: complete, within a phone's room, and read back as they are written.

use std::collections::BTreeSet;

use noonwater::language::{Command, Field, Languages};
use noonwater::message::read;
use noonwater::reply::{Encoding, REQUIRED, Room, SAYINGS, bundles, longest, saying_name, too_long, try_render};

fn shipped() -> Languages {
    Languages::shipped()
        .unwrap_or_else(|troubles| panic!("{}", troubles.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")))
}

#[test]
fn every_language_has_every_reply_and_every_reply_fits() {
    let languages = shipped();
    let codes: Vec<&str> = languages.iter().map(|language| language.code.as_str()).collect();
    assert_eq!(codes, ["en", "fr", "sw"]);
    for language in languages.iter() {
        let faults: Vec<String> = language.replies.check(REQUIRED).iter().map(ToString::to_string).collect();
        assert!(faults.is_empty(), "{}: {}", language.code, faults.join("\n"));
        let faults: BTreeSet<String> = too_long(language).iter().map(ToString::to_string).collect();
        assert!(faults.is_empty(), "{}: {}", language.code, faults.into_iter().collect::<Vec<_>>().join("\n"));
    }
}

#[test]
fn every_saying_stands_in_some_reply_that_is_checked() {
    let languages = shipped();
    let bundles = bundles(languages.iter().next().unwrap());
    let said: BTreeSet<&str> = bundles.iter().flat_map(|bundle| &bundle.slots).flatten().map(saying_name).collect();
    assert_eq!(said, SAYINGS.iter().copied().collect());
    // The longest of each slot are in the reply that is checked, as they go on a phone.
    for language in shipped().iter() {
        for bundle in &bundles {
            let slots = bundle.slots.iter().filter(|slot| !slot.is_empty()).count();
            assert_eq!(longest(language, bundle).len(), slots, "{}", bundle.name);
        }
    }
}

/// 3GPP TS 23.038: a letter outside the default alphabet would more than halve the room of the whole text.
#[test]
fn no_reply_carries_a_letter_outside_the_default_alphabet() {
    for language in shipped().iter() {
        for bundle in bundles(language) {
            for say in bundle.slots.iter().flatten() {
                for room in [Room::Parts(1), Room::Parts(2), Room::Screen] {
                    let text = try_render(language, std::slice::from_ref(say), room).unwrap();
                    assert_eq!(text.encoding, Encoding::Gsm7, "{} {}: {}", language.code, bundle.name, text.text);
                }
            }
        }
    }
}

#[test]
fn each_languages_own_words_are_read_in_a_talk_of_any_language() {
    let languages = shipped();
    for language in languages.iter() {
        for talk in languages.iter() {
            for field in Field::ALL {
                let word = language.field(field).unwrap();
                let reading = read(word, &languages, &talk.code, None);
                assert_eq!(reading.asks.first().map(|(field, _)| *field), Some(field), "{word} in {}", talk.code);
            }
            for command in Command::ALL {
                let word = language.command(command).unwrap();
                let reading = read(word, &languages, &talk.code, None);
                let said = reading.commands.first().map(|(command, _)| *command);
                let asks = reading.asks.is_empty();
                assert!(said == Some(command) && asks, "{word} in {}: {said:?}", talk.code);
            }
            let named = read(&language.name, &languages, &talk.code, None);
            assert_eq!(named.language.as_deref(), Some(language.code.as_str()));
        }
    }
}
