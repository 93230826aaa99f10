//! What must hold of any message; shared by the fuzzer and by the seeded loop of the test suite.

use std::sync::LazyLock;

use noonwater::language::{Field, Languages};
use noonwater::message::read;

static LANGUAGES: LazyLock<Languages> = LazyLock::new(|| Languages::shipped().expect("the shipped folders load"));

/// The first two bytes choose the language and the question; the rest is the message.
pub fn check(bytes: &[u8]) {
    let (choice, bytes) = bytes.split_at(bytes.len().min(2));
    let choose = |at: usize, count: usize| choice.get(at).map_or(0, |byte| usize::from(*byte) % count);
    let codes = ["en", "fr", "sw", "xx"];
    let asked = Field::ALL.get(choose(1, Field::ALL.len() + 1)).copied();
    let text = String::from_utf8_lossy(bytes);
    let reading = read(&text, &LANGUAGES, codes[choose(0, codes.len())], asked);
    let length = text.chars().count();
    let spans = reading.facts.iter().map(|fact| fact.at).chain(reading.troubles.iter().map(|trouble| trouble.at));
    for at in spans {
        assert!(at.start <= at.end && at.end <= length, "{at:?} of {length}");
    }
    let json = serde_json::to_string(&reading.facts).expect("facts are written");
    assert_eq!(serde_json::from_str::<Vec<noonwater::message::Fact>>(&json).expect("and read"), reading.facts);
}
