//! Many messages: at the command line, over HTTP, and at the desk to the download and the gateway.

use std::fmt::Write;

use reqwest::{StatusCode, header};
use serde_json::{Value, json};

use crate::common::{DEADLINE, Folder, Gateway, Service, eventually, line, message, number, peak_kib};
use crate::seat::{Seat, run};

const GOOD: &str = "lift 5 pipe 40 panel 5x80 garden 1500 tomato";

/// A thousand rows, every twentieth of them bad in one of five ways.
pub fn thousand() -> String {
    let mut csv = "name,text,village\n".to_owned();
    for row in 0..1000 {
        let text = match row % 100 {
            0 => "",
            20 => "lift 900 pipe 40 panel 5x80",
            40 => "hello there",
            60 => "lift 5",
            80 => "lift 5 pipe 40 panel 5x80 pump 3000 l/h",
            _ => GOOD,
        };
        writeln!(csv, "Grower {row},\"{text}\",Upper Kito").unwrap();
    }
    csv
}

#[tokio::test(flavor = "multi_thread")]
async fn the_command_answers_each_row_and_keeps_its_columns() {
    let folder = Folder::new();
    let csv = format!("name,text,lang\nAsha,{GOOD},\nBaraka,lift 900 pipe 40,\n,\"lift 5\",xx\nmore,cells,than,names\n");
    let done = run(&folder, &["bulk", "-"], csv.as_bytes());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let mut reader = csv::Reader::from_reader(done.stdout.as_slice());
    let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    assert_eq!(head, ["name", "text", "lang", "reply", "parts", "verdict", "water_m3_day", "area_m2", "error"]);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 4);
    assert_eq!((&rows[0][0], &rows[0][8]), ("Asha", ""));
    assert!(["enough", "tight", "short"].contains(&&rows[0][5]) && !rows[0][3].is_empty());
    assert!(rows[1][8].contains("out of range") && rows[2][8].contains("language") && rows[3][8].contains("cells"));

    // The same by JSON Lines and as a workbook and back.
    let file = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    std::fs::write(file("in.csv"), &csv).unwrap();
    for (from, to) in [("in.csv", "mid.xlsx"), ("mid.xlsx", "out.jsonl")] {
        let done = run(&folder, &["bulk", &file(from), &file(to)], b"");
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }
    let lines = std::fs::read_to_string(file("out.jsonl")).unwrap();
    let lines: Vec<Value> = lines.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(lines.len(), 4);
    assert_eq!(lines[0]["name"], "Asha");
    assert_eq!(lines[0]["reply (answer)"], rows[0][3]);

    for (arguments, input) in [(&["bulk", "-"][..], "a,b\n1,2\n"), (&["bulk", "no-such.csv"], ""), (&["bulk", "x.txt"], "")]
    {
        assert_eq!(run(&folder, arguments, input.as_bytes()).status.code(), Some(2), "{arguments:?}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn machines_get_their_answers_in_order() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let key = run(&folder, &["key", "add", "survey"], b"");
    let key = String::from_utf8(key.stdout).unwrap().trim().to_owned();
    let ask = |body: String, key: String| {
        service.client.post(format!("{}/api/answers", service.url)).bearer_auth(key).body(body).send()
    };
    let questions = [
        json!({"ref": 1, "text": GOOD}),
        json!({"ref": "two", "text": "lift 900"}),
        json!({"ref": null, "lang": "xx", "text": GOOD}),
        json!({"ref": 4, "place": "nowhere", "text": GOOD}),
        json!({"ref": 5}),
    ];
    let array = json!(questions).to_string();
    let by_line = questions.iter().map(|question| format!("{question}\n")).collect::<String>();
    for body in [array, by_line] {
        let answer = ask(body, key.clone()).await.unwrap();
        assert_eq!(answer.status(), 200);
        assert_eq!(answer.headers()[header::CONTENT_TYPE], "application/x-ndjson");
        let text = answer.text().await.unwrap();
        let lines: Vec<Value> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
        let references: Vec<&Value> = lines.iter().map(|line| &line["ref"]).collect();
        assert_eq!(references, [&json!(1), &json!("two"), &json!(null), &json!(4), &json!(5)]);
        assert!(lines[0]["advice"]["design_month"].is_number() && lines[0]["error"].is_null());
        for (line, field) in lines[1..].iter().zip(["lift", "lang", "place", "text"]) {
            assert_eq!(line["error"]["field"], field, "{line}");
        }
    }
    assert_eq!(ask("[]".to_owned(), "wrong".to_owned()).await.unwrap().status(), 401);
    // With a session too; a closed key opens nothing.
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let request = asha.request(reqwest::Method::POST, "/api/answers").body("{\"text\":\"help\"}");
    assert!(request.send().await.unwrap().text().await.unwrap().contains("reply"));
    let page = asha.page("/desk/accounts").await;
    let id = page.split("Keys of machines").last().unwrap().split("name=\"id\" value=\"").nth(1).unwrap();
    asha.post("/desk/accounts", &[("id", id.split('"').next().unwrap()), ("do", "close-key")]).await;
    assert_eq!(ask("[]".to_owned(), key).await.unwrap().status(), 401);
}

async fn send_file(seat: &Seat<'_>, name: &str, content: &str) -> reqwest::Response {
    let body = format!(
        "--kito\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\
         Content-Type: application/octet-stream\r\n\r\n{content}\r\n--kito--\r\n"
    );
    let kind = "multipart/form-data; boundary=kito";
    let request = seat.request(reqwest::Method::POST, "/desk/bulk").header(header::CONTENT_TYPE, kind).body(body);
    request.timeout(DEADLINE).send().await.unwrap()
}

pub async fn bring(seat: &Seat<'_>, name: &str, content: &str) -> String {
    let answer = send_file(seat, name, content).await;
    let status = answer.status();
    let location = answer.headers().get("location").map(|to| to.to_str().unwrap().to_owned());
    location.unwrap_or_else(|| panic!("{status}"))
}

pub async fn done(seat: &Seat<'_>, list: &str) {
    eventually("the list is answered", async || seat.page(list).await.contains("answers.csv").then_some(())).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_thousand_rows_survive_a_restart_and_come_back_whole() {
    let folder = Folder::new();
    let list = {
        let service = Service::start(&folder, "");
        let asha = Seat::take(&service, &folder, "Asha", "answers").await;
        let list = bring(&asha, "season.csv", &thousand()).await;
        let preview = asha.page(&list).await;
        assert!(preview.contains("Nothing has been answered yet") && preview.contains("Understood: lift 5 m"));
        asha.post(&list, &[("do", "start")]).await;
        service.kill();
        list
    };
    let service = Service::start(&folder, "");
    let asha = Seat::sign_in(&service, "Asha").await;
    done(&asha, &list).await;
    let trouble = asha.page(&format!("{list}?only=trouble")).await;
    assert!(trouble.contains("With trouble 50") && trouble.matches("Correct row").count() == 50, "{trouble}");
    // A bad row is mended and answered again.
    asha.post(&list, &[("do", "mend"), ("n", "21"), ("text", GOOD)]).await;
    eventually("the row is answered", async || asha.page(&list).await.contains("With trouble 49").then_some(())).await;
    done(&asha, &list).await;

    let csv = asha.page(&format!("{list}/answers.csv")).await;
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 1000);
    assert!(rows.iter().enumerate().all(|(n, row)| row[0] == format!("Grower {n}") && &row[2] == "Upper Kito"));
    assert_eq!(rows.iter().filter(|row| !row[8].is_empty()).count(), 49);
    let book = asha.get(&format!("{list}/answers.xlsx")).await.bytes().await.unwrap();
    assert!(book.starts_with(b"PK"));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_list_is_sent_to_its_numbers_but_not_to_who_opted_out() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let (one, stopped, bad) = (number(620), number(621), "12".to_owned());
    service.post("/lines/north/inbound", &message("b-1", &stopped, "stop")).await;
    gateway.wait("the stop is confirmed", |calls| calls.len() == 1).await;
    let csv = format!("number,text\n{one},{GOOD}\n{stopped},{GOOD}\n{bad},{GOOD}\n{},lift\n", number(622));
    let list = bring(&asha, "send.csv", &csv).await;
    asha.post(&list, &[("do", "start")]).await;
    done(&asha, &list).await;
    let page = asha.page(&list).await;
    assert!(page.contains("1 message,") && page.contains("left out: 1."), "{page}");
    let changed = asha.post(&list, &[("do", "send"), ("line", "north"), ("count", "7")]).await;
    assert_eq!(changed.status(), StatusCode::UNPROCESSABLE_ENTITY, "not what was confirmed");
    for _ in 0..2 {
        asha.post(&list, &[("do", "send"), ("line", "north"), ("count", "1")]).await;
    }
    let calls = gateway.wait("it is sent", |calls| calls.len() >= 2).await;
    assert_eq!(calls[1].to(), one);
    let mut connection = Service::connect(&folder).await;
    let sent: i64 = sqlx::query_scalar("select count(*) from outbox").fetch_one(&mut connection).await.unwrap();
    assert_eq!(sent, 2, "the confirmation of the stop, and one answer");
}

/// A file of that many rows.
fn rows(count: usize) -> String {
    let mut csv = "name,text,village\n".to_owned();
    for row in 0..count {
        writeln!(csv, "Grower {row},=lift 5 pipe 40 panel 5x80 garden {row},Upper Kito").unwrap();
    }
    csv
}

#[tokio::test(flavor = "multi_thread")]
async fn a_long_list_is_brought_looked_at_and_taken_away_in_the_memory_of_a_short_one() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let mut peaks = Vec::new();
    for count in [5_000, 100_000] {
        let list = bring(&asha, "season.csv", &rows(count)).await;
        for page in [format!("{list}?after={}", count - 50), "/desk/bulk".to_owned()] {
            assert!(asha.page(&page).await.contains("season.csv"));
        }
        let csv =
            asha.request(reqwest::Method::GET, &format!("{list}/answers.csv")).timeout(DEADLINE).send().await.unwrap();
        let length: usize = csv.headers()[header::CONTENT_LENGTH].to_str().unwrap().parse().unwrap();
        let csv = csv.bytes().await.unwrap();
        assert_eq!(csv.len(), length);
        let mut reader = csv::Reader::from_reader(&*csv);
        let last = reader.records().map(Result::unwrap).inspect(|row| assert!(row[1].starts_with("'="))).last().unwrap();
        assert_eq!((&last[0], &last[2]), (format!("Grower {}", count - 1).as_str(), "Upper Kito"));
        let book = asha.request(reqwest::Method::GET, &format!("{list}/answers.xlsx")).timeout(DEADLINE).send().await;
        assert!(book.unwrap().bytes().await.unwrap().starts_with(b"PK"));
        peaks.push(peak_kib(service.pid().as_raw().unsigned_abs()));
    }
    let ratio = peaks[1] as f64 / peaks[0] as f64;
    println!("{} KiB after 5,000 rows, {} KiB after 100,000: {ratio:.3}", peaks[0], peaks[1]);
    assert!(ratio < 1.25, "{} KiB after 5,000 rows, {} KiB after 100,000", peaks[0], peaks[1]);
}

#[tokio::test(flavor = "multi_thread")]
async fn what_cannot_be_a_list_is_refused_and_nothing_of_it_kept() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let columns = (0..300).map(|n| format!("\"c{n}\":1")).collect::<Vec<_>>().join(",");
    for (name, content, word) in [
        ("list.txt", "text\nhelp\n".to_owned(), "endings"),
        ("list.csv", "a,b\n1,2\n".to_owned(), "No column is called text"),
        ("list.jsonl", "{\"a\":1}\n".to_owned(), "No column is called text"),
        ("list.jsonl", format!("{{\"text\":\"help\",{columns}}}\n"), "200 columns"),
        ("list.csv", format!("text\n{}", "help\n".repeat(200_001)), "200000 rows"),
        ("list.xlsx", "no workbook".to_owned(), "cannot be read"),
    ] {
        let answer = send_file(&asha, name, &content).await;
        assert_eq!(answer.status(), StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        let page = answer.text().await.unwrap();
        assert!(page.contains(word), "{name}: {word} not in {page}");
    }
    let mut connection = Service::connect(&folder).await;
    let kept: i64 = sqlx::query_scalar("select count(*) from bulk_list").fetch_one(&mut connection).await.unwrap();
    assert_eq!(kept, 0);
}

#[tokio::test(flavor = "multi_thread")]
async fn many_refusals_at_once_do_not_wait_for_each_other() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let list = bring(&asha, "a.csv", "text,number\nlift 3,+447700900650\n").await;
    let cookie = &asha.cookie;
    let refused = (0..60).map(|_| {
        let call = service.client.post(format!("{}{list}", service.url)).header("cookie", cookie);
        let call = call.header("content-type", "application/x-www-form-urlencoded").body("do=send&line=nowhere&count=1");
        tokio::spawn(call.send())
    });
    let refused: Vec<_> = refused.collect();
    let mut statuses = std::collections::BTreeMap::new();
    for answer in refused {
        *statuses.entry(answer.await.unwrap().unwrap().status().as_u16()).or_insert(0) += 1;
    }
    assert_eq!(statuses, [(422, 60)].into(), "each page was made");
}
