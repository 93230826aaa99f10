//! How fast messages are read, with the three shipped languages loaded.
//!
//! The aim is 500,000 messages a second on one core over all messages of the corpora. Nanoseconds a message on one core of
//! a shared x86-64 machine with other builds running beside, the least of twelve runs of a counting loop; criterion's own
//! mean on the same machine, with six times more work waiting than it has cores, was 659,000 messages a second over the
//! corpora (558,000 to 763,000):
//!
//! | text | before | now |
//! |---|---|---|
//! | every message of the corpora | 1018 | 710 |
//! | four bare numbers | 1010 | 704 |
//! | four fields | 1860 | 1004 |
//! | a pump's label | 1852 | 897 |
//! | a whole sheet, 86 characters | 5185 | 2638 |
//! | slips of the thumb | 3792 | 1976 |
//!
//! Tried and kept: folding plain ASCII text in one pass, its bytes being their own origin; cutting pieces by a table of
//! bytes; reading a number that is digits and nothing else without the parsers for what else it could be; items a third
//! of their size, what is rare kept beside them; the cut that costs nothing found by one walk, the search only where
//! there is none, and no fit computed there that could not win; slips looked up from one buffer; facts put together
//! where they stand; counts of languages on the stack.
//!
//! Tried and dropped: taking digits for a number alone only where no digit follows the next space (972 for four bare
//! numbers, as each still went through the parsers). Not tried: another table than a hash for the pieces of words, and
//! link-time optimisation.
//!
//! What limits now: a long sheet whose values are not all right after their fields goes through the search for the
//! cheapest cut; the strings that a reading owns (crop, soil, language) are a copy each.

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use noonwater::language::{Field, Languages};
use noonwater::message::read;
use serde::Deserialize;

/// A message of the corpora, as it was typed.
#[derive(Deserialize)]
struct Sample {
    text: String,
    asked: Option<Field>,
}

#[derive(Deserialize)]
struct Corpus {
    message: Vec<Sample>,
}

/// Every message of the corpora with the language of its talk.
fn typed() -> Vec<(&'static str, Sample)> {
    [
        ("en", include_str!("../data/messages-en.toml")),
        ("fr", include_str!("../data/messages-fr.toml")),
        ("sw", include_str!("../data/messages-sw.toml")),
    ]
    .into_iter()
    .flat_map(|(code, corpus)| {
        let corpus: Corpus = toml::from_str(corpus).expect("the corpora are TOML");
        corpus.message.into_iter().map(move |sample| (code, sample))
    })
    .collect()
}

fn reading(criterion: &mut Criterion) {
    let languages = Languages::shipped().expect("the shipped folders load");
    let typed = typed();
    let mut group = criterion.benchmark_group("reading");
    group.throughput(Throughput::Elements(typed.len() as u64));
    group.bench_function("every message of the corpora", |bencher| {
        bencher.iter(|| {
            for (code, Sample { text, asked }) in &typed {
                black_box(read(black_box(text), &languages, code, *asked));
            }
        });
    });
    for (name, text) in [
        ("four bare numbers", "5 40 400 1500"),
        ("four fields", "lift 5 pipe 40 panel 5x80 garden 1500"),
        ("a pump's label", "pump 12v 15000 l/h 8m 16a"),
        ("a whole sheet", "lift 4-6 pipe 40m 2in panel 5x80w flat pump 12v 15000 l/h 8m garden 50x30 tomato drip aug"),
        ("slips of the thumb", "lfit 5 pipr 40 pannel 5x80 gardn 1500"),
    ] {
        group.throughput(Throughput::Elements(1));
        group.bench_function(name, |bencher| {
            bencher.iter(|| read(black_box(text), &languages, "en", None));
        });
    }
    let noise = "zzzz 5 ".repeat(220);
    group.bench_function("ten parts of noise", |bencher| {
        bencher.iter(|| read(black_box(&noise), &languages, "en", None));
    });
    group.finish();
}

criterion_group!(benches, reading);
criterion_main!(benches);
