//! `noonwater bulk`: of any length in the same memory, and with the database's places where it is told of one.

use std::io::{BufRead, BufReader, Write};
use std::process::Stdio;
use std::sync::mpsc::channel;

use noonwater::demo::PLACE_JSON;
use serde_json::Value;

use crate::common::{Folder, Service, peak_kib, program, run_to_end, run_with};

const GOOD: &str = "lift 5 pipe 40 panel 5x80 garden 1500 tomato";

/// Mostly messages that cost little, and now and then a whole advice.
fn text(row: usize) -> &'static str {
    match row % 5000 {
        17 => GOOD,
        other => ["help", "lift 5", "hello there", "lift 900 pipe 40"][other % 4],
    }
}

/// Feeds rows to the command and reads the answers as they come; its peak memory once `few` and once nearly all were
/// answered, KiB.
fn peaks(format: &str, head: &str, row: fn(usize) -> String, few: usize, all: usize) -> [u64; 2] {
    // What is still in the buffers between the command and us when it waits for the next row.
    const UNSEEN: usize = 500;
    let mut child = program()
        .args(["bulk", "-", "--format", format])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program");
    let mut stdin = child.stdin.take().expect("its input");
    let (measured, wait) = channel::<()>();
    let head = head.to_owned();
    let writing = std::thread::spawn(move || {
        stdin.write_all(head.as_bytes()).expect("a head");
        for n in 0..all {
            stdin.write_all(row(n).as_bytes()).expect("a row");
        }
        // It lives until its input ends, and its memory can be looked at so long.
        let _ = wait.recv();
    });
    let lines = BufReader::new(child.stdout.take().expect("its output")).lines();
    let (mut count, mut peaks, mut measured) = (0, Vec::new(), Some(measured));
    for line in lines {
        // Some replies have line ends of their own; a name stands once in each row.
        if !line.expect("text").contains("Grower ") {
            continue;
        }
        count += 1;
        if count == few || count == all - UNSEEN {
            peaks.push(peak_kib(child.id()));
        }
        if peaks.len() == 2 {
            measured = None;
        }
    }
    drop(measured);
    writing.join().expect("all rows given");
    assert!(child.wait().expect("its end").success());
    assert_eq!(count, all, "every row is answered");
    peaks.try_into().expect("two peaks")
}

#[test]
fn a_hundred_thousand_rows_take_no_more_memory_than_five_thousand() {
    let csv = peaks("csv", "name,text\n", |n| format!("Grower {n},{}\n", text(n)), 5_000, 100_000);
    let jsonl = peaks("jsonl", "", |n| format!("{{\"name\":\"Grower {n}\",\"text\":\"{}\"}}\n", text(n)), 5_000, 100_000);
    for [few, all] in [csv, jsonl] {
        let ratio = all as f64 / few as f64;
        println!("{few} KiB at 5,000 rows, {all} KiB at 100,000: {ratio:.3}");
        assert!(ratio < 1.1, "{few} KiB at 5,000 rows, {all} KiB at 100,000");
    }
}

#[test]
fn lines_of_json_keep_the_columns_of_all_of_them_in_csv() {
    let lines = format!("oops\n{{\"text\":\"{GOOD}\"}}\n{{\"village\":\"Upper Kito\",\"text\":\"=lift 5\"}}\n");
    let folder = Folder::new();
    let file = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    std::fs::write(file("in.jsonl"), lines).expect("a file");
    let done = run_to_end(program().args(["bulk", &file("in.jsonl"), &file("out.csv")]));
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let mut reader = csv::Reader::from_path(file("out.csv")).expect("a file");
    let head: Vec<String> = reader.headers().expect("a head").iter().map(str::to_owned).collect();
    assert_eq!(head, ["text", "village", "reply", "parts", "verdict", "water_m3_day", "area_m2", "error"]);
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    assert!(rows[0][7].contains("JSON object") && &rows[1][0] == GOOD && rows[1][7].is_empty());
    assert_eq!((&rows[2][0], &rows[2][1]), ("'=lift 5", "Upper Kito"), "no formula for who opens it");

    // The messages are not written over by their answers.
    let done = run_to_end(program().args(["bulk", &file("out.csv"), &file("./out.csv")]));
    assert_eq!(done.status.code(), Some(2), "{done:?}");
    assert!(std::fs::metadata(file("out.csv")).expect("a file").len() > 0);

    // A folder can be opened, and not read.
    std::fs::create_dir(file("folder.jsonl")).expect("a folder");
    let done = run_to_end(program().args(["bulk", &file("folder.jsonl")]));
    assert_eq!(String::from_utf8_lossy(&done.stdout).lines().count(), 1, "{done:?}");
}

#[test]
fn a_language_for_all_rows_that_nobody_knows_is_refused_before_the_first() {
    let done = run_with(program().args(["bulk", "-", "--lang", "xx"]), b"text\nhelp\n");
    assert_eq!((done.status.code(), done.stdout.len()), (Some(2), 0));
    assert!(String::from_utf8_lossy(&done.stderr).contains("give one of"), "{done:?}");
}

#[test]
fn a_workbook_too_large_to_be_held_is_refused_with_a_sentence() {
    let folder = Folder::new();
    let path = folder.path().join("large.xlsx");
    std::fs::write(&path, vec![b'x'; 17 * 1024 * 1024]).expect("a file");
    let done = run_to_end(program().arg("bulk").arg(&path));
    let sentence = String::from_utf8(done.stderr).expect("text");
    assert_eq!((done.status.code(), sentence.lines().count()), (Some(2), 1), "{sentence}");
    assert!(sentence.contains("16 MiB") && sentence.contains("CSV"), "{sentence}");
}

/// Verdict and error of each row at the place that it names.
fn at_places(command: &mut std::process::Command, rows: &[&str]) -> Vec<(String, String)> {
    let lines: String =
        rows.iter().map(|place| format!("{}\n", serde_json::json!({"text": GOOD, "place": place}))).collect();
    let done = run_with(command.args(["bulk", "-", "--format", "jsonl"]), lines.as_bytes());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let rows = String::from_utf8(done.stdout).expect("text");
    let rows = rows.lines().map(|line| serde_json::from_str::<Value>(line).expect("JSON"));
    let cell = |row: &Value, name: &str| row[name].as_str().unwrap_or_default().to_owned();
    rows.map(|row| (cell(&row, "verdict"), cell(&row, "error"))).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn the_database_s_places_are_known_where_a_configuration_names_it() {
    let folder = Folder::new();
    let upper = folder.path().join("upper.json");
    std::fs::write(&upper, PLACE_JSON.replace("\"Kito\"", "\"Upper Kito\"")).expect("a file");
    let _service = Service::start(&folder, "");
    let import = run_to_end(program().args(["place", "import"]).arg(&upper).env("NOONWATER_DATA_DIR", folder.path()));
    assert!(import.status.success());

    let without = at_places(&mut program(), &["Kito", "Upper Kito"]);
    assert!(!without[0].0.is_empty() && without[1].1.contains("not known"), "{without:?}");
    let url = format!("postgres://noonwater@localhost/postgres?host={}&port=5432", folder.path().join("run").display());
    let by_url = at_places(program().env("DATABASE_URL", url), &["Kito", "Upper Kito"]);
    let config = folder.path().join("noonwater.toml");
    let mut by_file = program();
    by_file.env("NOONWATER_CONFIG", config).env("NOONWATER_DATA_DIR", folder.path());
    let by_file = at_places(&mut by_file, &["Kito", "Upper Kito"]);
    for rows in [by_url, by_file] {
        assert!(rows.iter().all(|(verdict, error)| !verdict.is_empty() && error.is_empty()), "{rows:?}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_database_that_is_only_read_is_left_as_it_is() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let store = noonwater::store::Store::open_to_read(Service::options(&folder)).await.expect("a store");
    let mut step = store.begin().await.expect("a transaction");
    assert!(step.note("Asha", "tried to write", "", chrono::Utc::now()).await.is_err());
    drop(step);
    assert_eq!(store.places().await.expect("places").len(), 1);
    // A database that no service has set up is not set up by a look.
    let mut connection = Service::connect(&folder).await;
    sqlx::query("create database empty").execute(&mut connection).await.expect("a database");
    let looked = noonwater::store::Store::open_to_read(Service::options(&folder).database("empty")).await;
    assert!(matches!(looked, Err(noonwater::store::StoreError::NotSetUp)));
}
