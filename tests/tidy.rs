//! The house's rules, which one package's compiler does not hold up: who may import whom, what pure code never touches,
//! where SQL and sentences may stand, how large a file may grow.

use std::path::Path;

use syn::visit::Visit;

#[path = "tidy/circles.rs"]
mod circles;
#[path = "tidy/said.rs"]
mod said;

use said::{Said, module_of};

const PURE: [&str; 20] = [
    "honesty",
    "units",
    "printable",
    "spot",
    "terms",
    "sizing",
    "atlas",
    "language",
    "likeness",
    "topics",
    "danger",
    "message",
    "talk",
    "reply",
    "turn",
    "outside",
    "measure",
    "rehearsal",
    "sending",
    "looping",
];

/// Each room and the rooms that it may import, in the order in which they are built on each other.
const ROOMS: [(&str, &[&str]); 39] = [
    ("units", &[]),
    ("printable", &[]),
    ("spot", &[]),
    ("terms", &[]),
    ("sizing", &["units", "terms", "printable"]),
    ("honesty", &["terms", "sizing"]),
    ("atlas", &["spot", "sizing"]),
    ("language", &["units", "terms"]),
    ("likeness", &["language"]),
    ("topics", &["language", "likeness"]),
    ("danger", &["language", "likeness"]),
    ("message", &["units", "spot", "terms", "language"]),
    ("talk", &["units", "spot", "terms", "sizing", "atlas", "language", "topics", "danger", "message"]),
    ("reply", &["units", "terms", "sizing", "language", "message", "talk"]),
    ("turn", &["units", "terms", "sizing", "language", "message", "talk", "reply"]),
    ("outside", &["talk", "reply", "turn"]),
    ("measure", &["language", "talk", "turn", "outside"]),
    ("single", &["pure"]),
    ("table", &["printable"]),
    ("many", &["pure", "single", "table"]),
    ("rehearsal", &["talk", "turn"]),
    ("sending", &[]),
    ("looping", &[]),
    ("number", &[]),
    ("meters", &[]),
    ("refusal", &[]),
    ("config", &["number"]),
    ("database", &["config"]),
    ("store", &["pure", "number", "config"]),
    ("lines", &["pure", "number", "config", "refusal"]),
    ("demo", &[]),
    ("placefile", &["pure"]),
    ("pricefile", &["pure", "table"]),
    ("world", &["pure", "number", "config", "store", "placefile", "pricefile", "demo"]),
    ("answering", &["pure", "meters", "number", "config", "store", "lines", "world"]),
    ("work", &["pure", "meters", "single", "many", "number", "config", "store", "lines", "world", "answering"]),
    (
        "desk",
        &[
            "pure",
            "meters",
            "single",
            "table",
            "many",
            "number",
            "config",
            "store",
            "lines",
            "world",
            "answering",
            "refusal",
            "placefile",
            "pricefile",
        ],
    ),
    (
        "cli",
        &[
            "pure",
            "meters",
            "single",
            "table",
            "many",
            "number",
            "config",
            "store",
            "lines",
            "world",
            "answering",
            "refusal",
            "database",
            "work",
            "desk",
            "placefile",
            "pricefile",
            "demo",
        ],
    ),
    ("main", &["cli"]),
];

/// The network, the disk, the environment, clocks and chance: paths that no pure code may name.
const IMPURE: [&str; 22] = [
    "tokio",
    "axum",
    "sqlx",
    "reqwest",
    "hyper",
    "rand",
    "fastrand",
    "getrandom",
    "uuid",
    "nix",
    "std::fs",
    "std::env",
    "std::net",
    "std::process",
    "std::thread",
    "std::io",
    "std::os",
    "std::time::Instant",
    "std::time::SystemTime",
    "chrono::Local",
    "std::hash::RandomState",
    "std::collections::hash_map::RandomState",
];

/// The same where an import has shortened their path.
const IMPURE_TAILS: [&str; 5] = ["Utc::now", "Local::now", "Instant::now", "SystemTime::now", "RandomState::new"];

/// Languages stand in their folders only.
const LANGUAGES: [&str; 9] = ["en", "fr", "sw", "english", "french", "swahili", "kiswahili", "français", "francais"];

const LINES_MAX: usize = 400;

#[derive(Debug, PartialEq)]
struct Finding {
    rule: &'static str,
    file: String,
    what: String,
}

fn check(file: &str, source: &str) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut find = |rule, what: String| findings.push(Finding { rule, file: file.to_owned(), what });
    if source.lines().count() > LINES_MAX {
        find("size", format!("over {LINES_MAX} lines"));
    }
    if !file.starts_with("src/") {
        return findings;
    }
    let module = module_of(file);
    let room = module.first().map_or("lib", String::as_str);
    let is_pure = PURE.contains(&room);
    let docs = source.lines().take_while(|line| line.starts_with("//!")).collect::<String>();
    if is_pure && file.ends_with("/mod.rs") && module.len() == 1 && !docs.to_lowercase().contains("never") {
        find("absences", "the doc does not say what this room never does".to_owned());
    }
    let mut said = Said::of(&module);
    match syn::parse_file(source) {
        Ok(parsed) => said.visit_file(&parsed),
        Err(error) => find("parse", error.to_string()),
    }
    for path in &said.paths {
        let whole = path.join("::");
        if let Some((_, inside)) = path.split_first().filter(|(root, _)| *root == "crate") {
            let target = inside.first().map_or("", String::as_str);
            let allowed = ROOMS.iter().find(|(name, _)| *name == room).map_or(&[][..], |(_, allowed)| allowed);
            let is_allowed = target == room
                || allowed.contains(&target)
                || allowed.contains(&"pure") && PURE.contains(&target)
                || room == "lib" && ROOMS.iter().any(|(name, _)| *name == target);
            if !is_allowed {
                find("arrows", format!("{room} names {whole}"));
            }
            let is_line = |name: &str| ["http", "handset", "smpp", "ussd"].contains(&name);
            let own = module.get(1).map_or("mod", String::as_str);
            let other = inside.get(1).map_or("", String::as_str);
            if room == "lines" && target == "lines" && is_line(other) && own != "mod" && own != other {
                find("lines apart", format!("{own} names {whole}"));
            }
        }
        let names = |impure: &str| whole == impure || whole.starts_with(&format!("{impure}::"));
        let whole_std = ["std", "chrono", "std::*", "chrono::*", "std::time", "std::time::*"].contains(&whole.as_str());
        let is_impure = IMPURE.iter().any(|impure| names(impure)) || whole_std && path.len() < 3;
        if is_pure && (is_impure || IMPURE_TAILS.iter().any(|tail| whole.ends_with(tail))) {
            find("pure", whole.clone());
        }
        if path[0] == "sqlx" && !["store", "database"].contains(&room)
            || whole.starts_with("sqlx::query") && room != "store"
        {
            find("sql", whole);
        }
    }
    for reader in said.readers.iter().filter(|_| file != "src/message/read.rs") {
        find("one reader", reader.clone());
    }
    for text in &said.literals {
        let lower = text.trim_start().to_lowercase();
        let is_sql = ["insert into ", "delete from ", "create table ", "alter table ", "truncate "]
            .iter()
            .any(|start| lower.starts_with(start))
            || lower.starts_with("select ") && (lower.contains(" from ") || lower.contains("("))
            || lower.starts_with("update ") && lower.contains(" set ");
        if is_sql && room != "store" {
            find("sql", text.clone());
        }
        if LANGUAGES.contains(&lower.trim()) {
            find("languages", text.clone());
        }
        if is_pure && !["language", "rehearsal"].contains(&room) && is_worded(text) {
            find("words", text.clone());
        }
        // The language folder's reader speaks to the operator; the rest of the core speaks only by values.
        if is_pure && room != "language" && is_sentence(text) {
            find("sentences", text.clone());
        }
    }
    findings
}

/// Letters with a space beside them, or a word with a capital or a mark: a language's, not a code's or a name's.
fn is_worded(text: &str) -> bool {
    let mut depth = 0;
    let bare: String = text
        .chars()
        .filter(|letter| {
            depth += i32::from(*letter == '{');
            let is_outside = depth == 0;
            depth -= i32::from(*letter == '}');
            is_outside
        })
        .collect();
    let has_word = |text: &str| text.split_whitespace().any(|word| word.chars().filter(|c| c.is_alphabetic()).count() > 2);
    has_word(&bare) && bare.contains(char::is_whitespace)
}

/// Four words or more.
fn is_sentence(text: &str) -> bool {
    let words = text.split_whitespace().map(|word| word.trim_matches(|c: char| c.is_ascii_punctuation()));
    words.filter(|word| word.len() > 1 && word.chars().all(char::is_alphabetic)).count() >= 4
}

fn sources(folder: &Path, found: &mut Vec<(String, String)>) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let name = path.strip_prefix(root).expect("inside").to_string_lossy().into_owned();
            found.push((name, std::fs::read_to_string(&path).expect("text")));
        }
    }
}

#[test]
fn the_house_is_in_order() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    sources(&root.join("src"), &mut files);
    sources(&root.join("tests"), &mut files);
    assert!(files.iter().any(|(name, _)| name == "src/store/mod.rs"), "the sources are found");
    // A file that its parent declares for tests only holds tests.
    let is_test = |name: &str| name.starts_with("src/") && name.ends_with("/tests.rs");
    let is_still = |finding: &Finding| WORDS_STILL.contains(&finding.file.as_str()) && finding.rule == "words";
    let findings: Vec<String> = files
        .iter()
        .filter(|(name, _)| !is_test(name))
        .flat_map(|(name, source)| check(name, source))
        .filter(|finding| !is_still(finding))
        .map(|finding| format!("{}: {}: {}", finding.file, finding.rule, finding.what))
        .collect();
    assert!(findings.is_empty(), "\n{}", findings.join("\n"));
}

/// Files whose words are on their way out.
const WORDS_STILL: &[&str] = &["src/sizing/money/costs.rs"];

/// Circles that are on their way out.
const CIRCLES_STILL: &[&str] = &[];

#[test]
fn no_files_name_each_other_in_a_circle() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    sources(&root.join("src"), &mut files);
    files.retain(|(name, _)| !name.ends_with("/tests.rs"));
    let circles = circles::circles(files.iter().map(|(name, source)| (name.as_str(), source.as_str())));
    let new: Vec<&Vec<String>> = circles
        .iter()
        .filter(|circle| !CIRCLES_STILL.iter().any(|still| circle.iter().all(|file| file.starts_with(still))))
        .collect();
    assert!(new.is_empty(), "{new:#?}");
    let old = |still: &&&str| circles.iter().any(|circle| circle.iter().all(|file| file.starts_with(**still)));
    let gone: Vec<&&str> = CIRCLES_STILL.iter().filter(|still| !old(still)).collect();
    assert!(gone.is_empty(), "no circle any more, take them off the list: {gone:?}");
}

#[test]
fn a_circle_is_found_through_any_number_of_files() {
    let found = circles::circles([
        ("src/talk/mod.rs", "mod one; mod two; mod three; pub use one::One;"),
        ("src/talk/one.rs", "use super::two::Two;"),
        ("src/talk/two.rs", "fn f() { super::three::g() }"),
        ("src/talk/three.rs", "use crate::talk::one::One;"),
        ("src/talk/four.rs", "use super::{one, two};"),
        ("src/reply/mod.rs", "use parts::cut; mod parts;"),
        ("src/reply/parts.rs", "use super::Room;"),
    ]);
    assert_eq!(found, [vec!["reply", "reply::parts"], vec!["talk::one", "talk::three", "talk::two"]]);
}

#[test]
fn every_rule_is_broken_once_and_seen() {
    for (file, source, rule) in [
        ("src/sizing/pump.rs", "use crate::talk::Talk;", "arrows"),
        ("src/sizing/pump.rs", "use crate::atlas::stations;", "arrows"),
        ("src/atlas/names.rs", "use crate::language::fold;", "arrows"),
        ("src/sizing/pump.rs", "use crate::{units::Unit, language::Field};", "arrows"),
        ("src/sizing/pump.rs", "use super::super::store::Store;", "arrows"),
        ("src/message/parse.rs", "fn f() -> u8 { crate::talk::step() }", "arrows"),
        ("src/message/parse.rs", "fn f() { println!(\"{}\", crate::reply::fit()) }", "arrows"),
        ("src/talk/step.rs", "use crate::*;", "arrows"),
        ("src/talk/step.rs", "use crate as house;", "arrows"),
        ("src/store/talks.rs", "use crate::answering::Answering;", "arrows"),
        ("src/store/talks.rs", "use crate::lines::Incoming;", "arrows"),
        ("src/desk/health.rs", "use crate::work::deliver;", "arrows"),
        ("src/work/deliver.rs", "use crate::desk::routes;", "arrows"),
        ("src/main.rs", "fn main() { noonwater::store::open() }", "arrows"),
        ("src/lines/http/mod.rs", "use crate::lines::handset::LINE;", "lines apart"),
        ("src/lines/http/mod.rs", "use super::handset::LINE;", "lines apart"),
        ("src/lines/limit.rs", "use super::http::Gateway;", "lines apart"),
        ("src/sizing/pump.rs", "use std::{fs, fmt};", "pure"),
        ("src/sizing/pump.rs", "use std as s;", "pure"),
        ("src/talk/step.rs", "fn f() { let now = chrono::Utc::now(); }", "pure"),
        ("src/talk/step.rs", "use chrono::Utc; fn f() { let now = Utc::now(); }", "pure"),
        ("src/talk/step.rs", "fn f() { dbg!(std::env::var(name)); }", "pure"),
        ("src/reply/fit.rs", "use tokio::sync::Mutex;", "pure"),
        ("src/units.rs", "fn f() -> std::time::Instant { todo!() }", "pure"),
        ("src/answering.rs", "fn f() { sqlx::query(statement); }", "sql"),
        ("src/desk/health.rs", "use sqlx::PgPool;", "sql"),
        ("src/database.rs", "fn f() { sqlx::query(statement); }", "sql"),
        ("src/desk/health.rs", "const Q: &str = \"select id from outbox\";", "sql"),
        ("src/desk/health.rs", "fn f() { run!(\"UPDATE outbox SET state = 1\") }", "sql"),
        ("src/reply/fit.rs", "const S: &str = \"Switch off before touching wires.\";", "sentences"),
        ("src/talk/step.rs", "fn f() { format!(\"The lift is {lift} m, is that right?\"); }", "sentences"),
        ("src/sizing/money.rs", "fn f(bore: f64) { format!(\"pipe {bore}\"); }", "words"),
        ("src/reply/fit.rs", "const S: &str = \"Send more\";", "words"),
        ("src/cli/serve.rs", "const L: &str = \"Swahili\";", "languages"),
        ("src/language/mod.rs", "//! Never reads a disk.\nconst L: &str = \"fr\";", "languages"),
        ("src/talk/spotted.rs", "pub fn read_here(text: &str) -> Reading { todo!() }", "one reader"),
        ("src/message/mod.rs", "pub fn parse(text: &str) -> crate::message::Reading { todo!() }", "one reader"),
        ("src/desk/sheet.rs", "impl Form { fn facts(text: &str) -> Option<Reading> { None } }", "one reader"),
        ("src/sizing/mod.rs", "//! The physics.", "absences"),
        ("src/sizing/pump.rs", "fn f( {", "parse"),
        ("tests/service/long.rs", &"\n".repeat(LINES_MAX + 1), "size"),
    ] {
        let findings = check(file, source);
        assert!(findings.iter().any(|finding| finding.rule == rule), "{file}: {source}: {rule} not in {findings:?}");
    }
}

#[test]
fn what_is_allowed_is_not_found() {
    for (file, source) in [
        ("src/sizing/mod.rs", "//! The physics; never looks at a clock.\nuse crate::units::Unit; use super::units;"),
        ("src/sizing/pump/curve.rs", "use super::head; use super::super::flow; fn f() { self::g() }"),
        ("src/talk/step.rs", "#[cfg(test)] mod tests { use std::fs; const S: &str = \"Is it the same garden?\"; }"),
        ("src/talk/step.rs", "fn f(now: chrono::DateTime<chrono::Utc>) { panic!(\"this can not be at all\") }"),
        ("src/talk/step.rs", "/// The lift is asked for first.\nfn f() { g().expect(\"the one before was some\") }"),
        ("src/message/read.rs", "pub fn read(text: &str) -> Reading { parse(text) }"),
        ("src/message/parse.rs", "pub(super) fn parse(text: &str) -> Reading { todo!() }"),
        ("src/desk/talk.rs", "fn understood(reading: &Reading) -> String { told(reading) }"),
        ("src/lines/mod.rs", "use http::Gateway; fn f() { crate::lines::handset::routes() }"),
        ("src/store/mod.rs", "const Q: &str = \"select id from outbox\"; use sqlx::PgPool;"),
        ("src/cli/serve.rs", "const S: &str = \"cannot listen here, set another port\";"),
    ] {
        assert_eq!(check(file, source), [], "{file}: {source}");
    }
}
