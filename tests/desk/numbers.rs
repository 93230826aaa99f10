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
         values (gen_random_uuid(), now(), 'north', 'en', '=1+2', 'maize', 'short', '{}', true, false)",
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
    assert!(asha.page("/desk/numbers").await.contains("By fix"));
    let by_place = asha.page("/desk/numbers/counts.csv?split=place").await;
    assert!(row(&by_place, "'=1+2").is_some(), "no formula for who opens it: {by_place}");
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
async fn days_that_are_counted_once_give_what_every_message_gives() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let mut connection = Service::connect(&folder).await;
    sqlx::query(
        "insert into tally (message, received_at, line, place, crop, verdict, troubles, fixes, replied, to_person,
                            person_answered_at, reply_taken_at)
         select gen_random_uuid(), at, 'north', case n % 3 when 0 then 'Kito' else 'Mto' end, case when n % 2 = 0 then 'tomato' end,
                case n % 4 when 0 then 'enough' when 1 then 'tight' when 2 then 'short' end,
                case when n % 5 = 0 then '{not_understood,near_miss}'::text[] else '{}' end,
                case when n % 7 = 0 then '{more_panels}'::text[] else '{}' end,
                n % 6 <> 0, n % 10 = 0, case when n % 10 = 0 then at + n * interval '7 seconds' end,
                at + (n % 40) * interval '130 milliseconds'
         from generate_series(1, 3000) n, lateral (select now() - n * interval '20 minutes' as at) as received",
    )
    .execute(&mut connection)
    .await
    .unwrap();
    let store = noonwater::store::Store::open(Service::options(&folder)).await.unwrap();
    let midnight = |days: u64| {
        let day = chrono::Utc::now().date_naive() - chrono::Days::new(days);
        day.and_time(chrono::NaiveTime::MIN).and_utc()
    };
    let (from, until) = (midnight(38), chrono::Utc::now());
    let splits = noonwater::store::Split::ALL;
    let mut exact = Vec::new();
    sqlx::query("delete from tally_day_counted").execute(&mut connection).await.unwrap();
    for split in splits {
        exact.push(store.counts(split, from, until).await.unwrap());
    }
    assert!(store.count_days(chrono::Utc::now().date_naive()).await.unwrap() >= 40);
    for (split, exact) in splits.into_iter().zip(exact) {
        let counted = store.counts(split, from, until).await.unwrap();
        assert_eq!(counted.len(), exact.len(), "{split:?}");
        for (counted, exact) in counted.iter().zip(&exact) {
            let whole = |c: &noonwater::store::Count| {
                (
                    c.key.clone(),
                    [
                        c.messages,
                        c.by_program,
                        c.to_person,
                        c.person_answered,
                        c.enough,
                        c.tight,
                        c.short,
                        c.with_trouble,
                        c.with_fix,
                    ],
                )
            };
            assert_eq!(whole(counted), whole(exact), "{split:?}");
            for (near, right) in [
                (counted.person_median_s, exact.person_median_s),
                (counted.taken_median_s, exact.taken_median_s),
                (counted.taken_nine_in_ten_s, exact.taken_nine_in_ten_s),
            ] {
                let (near, right) = (near.unwrap(), right.unwrap());
                // Half a bucket, and the step between two messages where the middle falls between them.
                assert!((near - right).abs() <= 0.05 * right + 0.14 + right * 0.01, "{split:?} {near} {right}");
            }
        }
    }
}
