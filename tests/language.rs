//! Language folders: what is missing, unknown or said twice is named, all of it at once.

use std::collections::BTreeMap;

use noonwater::language::{LANGUAGE_FILE, Language, LanguageFault, Languages, WORDS_FILE, shipped};
use noonwater::message::{self, FactValue};

fn english() -> BTreeMap<String, String> {
    shipped::folders().into_iter().find(|(code, _)| code == "en").map(|(_, files)| files).expect("English is shipped")
}

/// The faults of the English folder with its words changed.
fn faults(change: impl Fn(&mut toml::Table)) -> Vec<LanguageFault> {
    let mut files = english();
    let mut words: toml::Table = files[WORDS_FILE].parse().unwrap();
    change(&mut words);
    files.insert(WORDS_FILE.to_owned(), words.to_string());
    match Language::load("en", &files) {
        Ok(_) => Vec::new(),
        Err(troubles) => troubles.into_iter().map(|trouble| trouble.fault).collect(),
    }
}

fn table<'w>(words: &'w mut toml::Table, name: &str) -> &'w mut toml::Table {
    words[name].as_table_mut().unwrap()
}

#[test]
fn every_shipped_language_loads() {
    if let Err(troubles) = Languages::shipped() {
        panic!("{}", troubles.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"));
    }
}

#[test]
fn every_missing_key_is_named() {
    let names: Vec<(String, String)> = {
        let words: toml::Table = english()[WORDS_FILE].parse().unwrap();
        let free = ["own_areas", "numbers", "classes"];
        let keyed = words.iter().filter(|(name, _)| !free.contains(&name.as_str()));
        keyed.flat_map(|(name, keys)| keys.as_table().unwrap().keys().map(move |key| (name.clone(), key.clone()))).collect()
    };
    assert!(names.len() > 100);
    for (name, key) in names {
        let found = faults(|words| drop(table(words, &name).remove(&key)));
        assert_eq!(found, [LanguageFault::Missing(format!("{name}.{key}"))]);
    }
    let tables: Vec<String> = english()[WORDS_FILE].parse::<toml::Table>().unwrap().keys().cloned().collect();
    for name in tables {
        assert_eq!(faults(|words| drop(words.remove(&name))), [LanguageFault::Missing(name.clone())]);
    }
}

#[test]
fn every_unknown_key_and_every_bad_value_is_named_at_once() {
    let found = faults(|words| {
        table(words, "fields").insert("lfit".to_owned(), vec!["hoist"].into());
        table(words, "units").insert("metre".to_owned(), 3.into());
        table(words, "crops").insert("onion".to_owned(), toml::Value::Array(Vec::new()));
        table(words, "own_areas").insert("plot of ten steps".to_owned(), (-1).into());
        table(words, "fillers").insert("words".to_owned(), vec!["...", "ok then"].into());
        words.insert("colours".to_owned(), toml::Value::Table(toml::Table::new()));
    });
    assert_eq!(
        found,
        [
            LanguageFault::Unknown("fields.lfit".to_owned()),
            LanguageFault::NotWords("units.metre".to_owned()),
            LanguageFault::NotNumber("own_areas.plot of ten steps".to_owned()),
            LanguageFault::NoWords("crops.onion".to_owned()),
            LanguageFault::Unreadable { key: "fillers.words".to_owned(), word: "...".to_owned() },
            LanguageFault::Unknown("colours".to_owned()),
        ]
    );
}

#[test]
fn a_word_with_two_meanings_is_named_with_both_places() {
    let found = faults(|words| {
        table(words, "crops").insert("onion".to_owned(), vec!["onion", "TÓMATO"].into());
        table(words, "commands").insert("more".to_owned(), vec!["more", "pipe"].into());
    });
    let clash = |word: &str, first: &str, second: &str| LanguageFault::Clash {
        word: word.to_owned(),
        first: first.to_owned(),
        second: second.to_owned(),
    };
    assert_eq!(found, [clash("TÓMATO", "crops.tomato", "crops.onion"), clash("pipe", "fields.pipe", "commands.more")]);
}

#[test]
fn a_folder_must_hold_its_files_and_be_named_by_its_code() {
    let load = |code: &str, files: &BTreeMap<String, String>| {
        Language::load(code, files)
            .map(|_| ())
            .map_err(|troubles| troubles.iter().map(ToString::to_string).collect::<Vec<_>>())
    };
    assert_eq!(
        load("en", &BTreeMap::new()),
        Err(vec![
            "dialogs/en/language.toml: the file is missing".to_owned(),
            "dialogs/en/faults.toml: the file is missing".to_owned(),
            "dialogs/en/words.toml: the file is missing".to_owned(),
            "dialogs/en/replies.ftl: the file is missing".to_owned(),
            "dialogs/en/danger.toml: the file is missing".to_owned(),
            "dialogs/en/sentence.toml: the file is missing".to_owned(),
        ])
    );
    let wrong = load("qq", &english()).unwrap_err();
    let [wrong] = &wrong[..] else { panic!("{wrong:?}") };
    assert!(wrong.starts_with("dialogs/qq/language.toml, line "), "{wrong}");
    assert!(wrong.ends_with(": the code `en` is not the folder's name"), "{wrong}");
    let twice = Languages::from_folders([("en".to_owned(), english()), ("en".to_owned(), english())]).unwrap_err();
    assert_eq!(twice[0].fault, LanguageFault::Again("en".to_owned()));
}

/// English with its words turned back to front stands for a second language: no Rust knows of it.
fn reversed() -> (String, BTreeMap<String, String>) {
    let back = |word: &str| word.chars().rev().collect::<String>();
    let mut files = english();
    let mut words: toml::Table = files[WORDS_FILE].parse().unwrap();
    for name in ["fields", "crops", "commands"] {
        for (_, list) in table(&mut words, name).iter_mut() {
            let first = list.as_array().unwrap()[0].as_str().unwrap();
            *list = vec![back(first)].into();
        }
    }
    table(&mut words, "fillers").insert("words".to_owned(), vec!["qq"].into());
    // A clash across languages: here it means the well.
    table(&mut words, "fields").insert("well".to_owned(), vec!["llew", "pump"].into());
    files.insert(WORDS_FILE.to_owned(), words.to_string());
    let head = files[LANGUAGE_FILE].replace("\"en\"", "\"zz\"").replace("English", "Zztalk");
    let head = head.replace("decimal = \".\"", "decimal = \",\"").replace("[\",\", \" \"]", "[\".\", \" \"]");
    files.insert(LANGUAGE_FILE.to_owned(), head);
    ("zz".to_owned(), files)
}

#[test]
fn a_second_language_is_known_in_every_talk_and_the_talks_own_wins() {
    let languages = Languages::from_folders([("en".to_owned(), english()), reversed()]).unwrap();
    let read = |text: &str, preferred: &str| {
        let reading = message::read(text, &languages, preferred, None);
        (reading.facts.into_iter().map(|fact| fact.value).collect::<Vec<_>>(), reading.language)
    };
    let (zz, en) = (Some("zz".to_owned()), Some("en".to_owned()));
    assert_eq!(
        read("tfil 5 pipe 40 otamot", "en"),
        (vec![FactValue::LiftM(5.0), FactValue::PipeM(40.0), FactValue::Crop("tomato".to_owned())], zz.clone())
    );
    assert_eq!(read("pump 2000 l/h", "zz"), (vec![FactValue::WellLH(2000.0)], zz.clone()));
    assert!(matches!(read("pump 2000 l/h", "en").0[..], [FactValue::Pump(_)]));
    assert_eq!(read("lift 1.500", "zz").0, []);
    assert_eq!(read("garden 1.500", "zz"), (vec![FactValue::GardenM2(1500.0)], en));
    assert_eq!(message::read("zztalk", &languages, "en", None).language, zz);
}

/// For whoever keeps a folder: which file, which line, which key.
#[test]
fn a_fault_of_the_words_names_file_line_and_key() {
    let mut files = english();
    let words = files[WORDS_FILE].clone();
    let line = 1 + words.lines().position(|line| line.starts_with("lift = ")).unwrap();
    files.insert(WORDS_FILE.to_owned(), words.replacen("lift = [", "lift = [1, ", 1));
    let troubles: Vec<String> = Language::load("en", &files).unwrap_err().iter().map(ToString::to_string).collect();
    assert_eq!(troubles, [format!("dialogs/en/words.toml, line {line}: `fields.lift` must be a list of words")]);
}

/// A word that a reply tells to send is the word that is read.
#[test]
fn a_word_renamed_is_renamed_in_the_replies() {
    let mut files = english();
    let renamed = files[WORDS_FILE].replacen("yes = [\"", "yes = [\"zzagreed\", \"", 1);
    files.insert(WORDS_FILE.to_owned(), renamed);
    let english = Language::load("en", &files).unwrap();
    let values = [("now", "a".into()), ("change", "b".into()), ("then", "c".into())];
    let texts = english.replies.wordings("compared", &values).unwrap();
    assert!(texts.iter().all(|text| text.contains("zzagreed")), "{texts:?}");
}
