//! How fast messages are read. Three languages are loaded: English and two made from it with every word spelt apart, so
//! that the tables have the size they will have.

use std::collections::BTreeMap;
use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use noonwater::language::{LANGUAGE_FILE, Languages, WORDS_FILE, shipped};
use noonwater::message::parse;

/// English with a letter put before every word of three letters or more.
fn spelt_apart(code: &str, letter: char, files: &BTreeMap<String, String>) -> (String, BTreeMap<String, String>) {
    let mut files = files.clone();
    let mut words: toml::Table = files[WORDS_FILE].parse().expect("English is TOML");
    for list in words
        .iter_mut()
        .filter_map(|(_, table)| table.as_table_mut())
        .flat_map(|table| table.iter_mut().filter_map(|(_, list)| list.as_array_mut()).collect::<Vec<_>>())
    {
        for word in list.iter_mut() {
            let apart = word.as_str().filter(|word| word.len() > 2).map(|word| format!("{letter}{word}"));
            if let Some(apart) = apart {
                *word = apart.into();
            }
        }
    }
    files.insert(WORDS_FILE.to_owned(), words.to_string());
    let head = files[LANGUAGE_FILE].replace("\"en\"", &format!("\"{code}\"")).replace("English", &format!("Talk{code}"));
    files.insert(LANGUAGE_FILE.to_owned(), head);
    (code.to_owned(), files)
}

fn reading(criterion: &mut Criterion) {
    let english = shipped::folders().into_iter().find(|(code, _)| code == "en").expect("English is shipped").1;
    let others = [spelt_apart("qa", 'q', &english), spelt_apart("za", 'z', &english)];
    let folders = std::iter::once(("en".to_owned(), english)).chain(others);
    let languages = Languages::from_folders(folders).expect("all three load");
    let mut group = criterion.benchmark_group("reading");
    for (name, text) in [
        ("four bare numbers", "5 40 400 1500"),
        ("four fields", "lift 5 pipe 40 panel 5x80 garden 1500"),
        ("a pump's label", "pump 12v 15000 l/h 8m 16a"),
        ("a whole sheet", "lift 4-6 pipe 40m 2in panel 5x80w flat pump 12v 15000 l/h 8m garden 50x30 tomato drip aug"),
        ("slips of the thumb", "lfit 5 pipr 40 pannel 5x80 gardn 1500"),
    ] {
        group.throughput(Throughput::Elements(1));
        group.bench_function(name, |bencher| {
            bencher.iter(|| parse(black_box(text), &languages, "en", None));
        });
    }
    let noise = "zzzz 5 ".repeat(220);
    group.bench_function("ten parts of noise", |bencher| {
        bencher.iter(|| parse(black_box(&noise), &languages, "en", None));
    });
    group.finish();
}

criterion_group!(benches, reading);
criterion_main!(benches);
