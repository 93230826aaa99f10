//! What is asked back before it is taken, and which language a talk goes on in.

use super::{Phone, has};

#[test]
fn an_unusual_value_is_taken_only_when_it_is_said_to_be_right() {
    let mut phone = Phone::new();
    has(&phone.say("lift 3 pipe 30 panel 3x100 garden 25"), &["garden 25", "unusual"]);
    let again = phone.say("tomato");
    has(&again, &["garden 25", "unusual"]);
    assert_eq!(phone.talk.known.sheet.crop.as_deref(), Some("tomato"), "what else was told is kept");
    let turn = phone.turn("what");
    assert!(turn.wants_person, "the second time a person is told as well");
    has(&phone.say("yes"), &["m3"]);

    let mut phone = Phone::new();
    phone.say("lift 3 pipe 30 panel 3x100 garden 25");
    has(&phone.say("garden 900"), &["m3"]);
    assert_eq!(phone.talk.known.sheet.garden_m2, Some(900.0));
}

#[test]
fn a_whole_message_or_a_name_changes_the_language_and_a_borrowed_word_does_not() {
    let mut phone = Phone::new();
    for (text, language) in [
        ("lift 3 pipe 30", "en"),
        ("hauteur 4", "en"),
        ("bonjour, ma hauteur est de 4 m et mon tuyau 30 m", "fr"),
        ("kiingereza", "en"),
        ("swahili please", "sw"),
        ("garden 900", "sw"),
        ("kifaransa", "fr"),
        ("anglais", "en"),
        ("french", "fr"),
    ] {
        phone.turn(text);
        assert_eq!(phone.talk.language.as_deref(), Some(language), "{text}");
    }
}

#[test]
fn two_crops_told_together_are_asked_about_and_neither_is_taken() {
    for (language, text, reply) in [
        ("en", "lift 3 pipe 30 panel 3x100 garden 900 tomatoes and onions", "only one"),
        ("fr", "jardin 900 tomate et oignon", "un seul"),
        ("sw", "bustani 900 nyanya na kitunguu", "moja tu"),
    ] {
        let mut phone = Phone::new();
        phone.talk.language = Some(language.to_owned());
        has(&phone.say(text), &[reply]);
        assert_eq!(phone.talk.known.sheet.crop, None, "{text}");
        assert_eq!(phone.talk.known.sheet.garden_m2, Some(900.0));
    }
}
