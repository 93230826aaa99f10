//! The season's counts: what was advised to be changed, and how long a reply took until the network had it.

use noonwater::sizing::advice::changes::Change;

use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::seat::Seat;
use noonwater::terms::Watering;

/// The cells of a row of a table by the names of its columns.
fn row<'c>(csv: &'c str, key: &str) -> Option<Vec<(&'c str, &'c str)>> {
    let mut lines = csv.lines();
    let head = lines.next()?.split(',');
    let row = lines.find(|row| row.split(',').next() == Some(key))?;
    Some(head.zip(row.split(',')).collect())
}

fn cell<'c>(row: &[(&str, &'c str)], name: &str) -> &'c str {
    row.iter().find(|(column, _)| *column == name).unwrap_or_else(|| panic!("no column {name}")).1
}

#[tokio::test(flavor = "multi_thread")]
async fn fixes_and_delivery_times_are_counted() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    // A message as a version before these counts kept it; its place was typed by a grower.
    let mut connection = Service::connect(&folder).await;
    sqlx::query(
        "insert into tally (message, received_at, line, language, place, crop, verdict, troubles, replied, to_person)
         values (gen_random_uuid(), now(), 'north', '=1+2', 'Far away', 'maize', 'short', '{}', true, false)",
    )
    .execute(&mut connection)
    .await
    .unwrap();
    let short = "lift 8 pipe 60 panel 2x80 garden 3000 tomato";
    for (id, text) in [("1", short), ("2", "change"), ("3", "change")] {
        assert_eq!(service.post("/lines/north/inbound", &message(id, &number(640), text)).await.status(), 202);
    }
    gateway.wait("all are answered", |calls| calls.len() >= 3).await;
    eventually("the last reply is taken", async || {
        let taken = sqlx::query_scalar("select count(reply_taken_at) from tally");
        let taken: i64 = taken.fetch_one(&mut Service::connect(&folder).await).await.unwrap();
        (taken == 3).then_some(())
    })
    .await;
    let csv = asha.page("/desk/numbers/counts.csv?split=crop").await;
    let tomato = row(&csv, "tomato").unwrap();
    assert_eq!((cell(&tomato, "messages"), cell(&tomato, "with_fix")), ("3", "2"), "{csv}");
    let seconds = |name: &str| cell(&tomato, name).parse::<f64>().unwrap();
    assert!(seconds("taken_median_s") <= seconds("taken_nine_in_ten_s"), "{csv}");
    let maize = row(&csv, "maize").unwrap();
    assert_eq!((cell(&maize, "with_fix"), cell(&maize, "taken_median_s")), ("0", ""), "{csv}");

    // Both times the same fixes were advised; each code has a line.
    let by_fix = asha.page("/desk/numbers/counts.csv?split=fix").await;
    assert!(by_fix.lines().count() > 1, "{by_fix}");
    for line in by_fix.lines().skip(1) {
        let code = line.split(',').next().unwrap();
        assert_eq!(cell(&row(&by_fix, code).unwrap(), "messages"), "2", "{by_fix}");
    }
    let page = asha.page("/desk/numbers").await;
    assert!(page.contains("By change") && page.contains("By month") && page.contains("Just enough"), "{page}");
    let by_language = asha.page("/desk/numbers/counts.csv?split=language").await;
    assert!(row(&by_language, "'=1+2").is_some(), "no formula for who opens it: {by_language}");
    // Names that growers wrote are one line.
    let by_place = asha.page("/desk/numbers/counts.csv?split=place").await;
    assert_eq!(cell(&row(&by_place, "*").unwrap(), "messages"), "1", "{by_place}");
}

#[test]
fn a_change_is_counted_by_its_name_in_json() {
    for change in [
        Change::BoreMm(50.0),
        Change::PanelCount(5),
        Change::Turned,
        Change::PumpCount(2),
        Change::WireMm2(6.0),
        Change::Watering(Watering::Drip),
        Change::GardenM2(900.0),
    ] {
        assert_eq!(serde_json::to_value(change).unwrap()["what"], change.code());
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_donor_report_counts_growers_gardens_and_hectares() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    // Two growers, one of them twice with a garden that grows: 0.09 ha, then 0.1 ha, and 0.05 ha of the other.
    for (id, from, text) in [
        ("d-1", 650, "lift 3 pipe 30 panel 3x100 garden 900 tomato"),
        ("d-2", 650, "garden 1000"),
        ("d-3", 651, "lift 3 pipe 30 panel 3x100 garden 500 onion"),
        ("d-4", 651, "person"),
    ] {
        service.post("/lines/north/inbound", &message(id, &number(from), text)).await;
    }
    gateway.wait("all are answered", |calls| calls.len() >= 4).await;
    // One of them is known from an earlier season.
    let mut connection = Service::connect(&folder).await;
    let earlier = "update grower set since = now() - interval '2 years' where number = $1";
    sqlx::query(earlier).bind(number(651)).execute(&mut connection).await.unwrap();
    let csv = asha.page("/desk/numbers/counts.csv?split=month").await;
    let key = csv.lines().nth(1).unwrap().split(',').next().unwrap().to_owned();
    let month = row(&csv, &key).unwrap();
    let seen = ["messages", "growers", "new_growers", "returning_growers", "gardens", "hectares"];
    assert_eq!(seen.map(|name| cell(&month, name)), ["4", "2", "1", "1", "2", "0.15"], "{csv}");
    let page = asha.page("/desk/numbers?row=crop&col=verdict").await;
    assert!(
        page.contains("<th scope=\"row\">tomato</th>") && page.contains("0.10 ha") && page.contains("0.05 ha"),
        "{page}"
    );
    assert!(page.contains("m³ a day in the month they were counted for"), "{page}");
    let book = asha.get("/desk/numbers/numbers.xlsx").await.bytes().await.unwrap();
    let mut book: calamine::Xlsx<_> = calamine::Reader::new(std::io::Cursor::new(book)).unwrap();
    assert_eq!(calamine::Reader::sheet_names(&book).len(), 8, "every table");
    let sheet = calamine::Reader::worksheet_range(&mut book, "month").unwrap();
    assert_eq!(sheet.get_value((1, 2)), Some(&calamine::Data::Float(2.0)), "growers");
}
