//! FORGET: nothing of a number is left anywhere, whatever the table; and what is kept has its time.

use std::collections::BTreeSet;

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::config::Retention;
use noonwater::store::Store;
use noonwater::work::housekeeping;
use sqlx::{AssertSqlSafe, Executor, PgConnection};

use crate::common::{Folder, Gateway, HOTLINE, Service, eventually, line, message, number};
use crate::opt_out::answered_list;

/// Tables of which some row holds this text in any column.
async fn holding(database: &mut PgConnection, text: &str) -> Vec<String> {
    let tables: Vec<String> = sqlx::query_scalar("select tablename::text from pg_tables where schemaname = 'public'")
        .fetch_all(&mut *database)
        .await
        .unwrap();
    let mut found = Vec::new();
    for table in tables {
        let rows: i64 = sqlx::query_scalar(AssertSqlSafe(format!("select count(*) from {table} t where t::text like $1")))
            .bind(format!("%{text}%"))
            .fetch_one(&mut *database)
            .await
            .unwrap();
        if rows > 0 {
            found.push(table);
        }
    }
    found
}

#[tokio::test(flavor = "multi_thread")]
async fn nothing_of_a_number_is_left_in_any_table() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let (asha, baraka) = (number(821), number(822));
    let store = Store::open(Service::options(&folder)).await.unwrap();
    for from in [&asha, &baraka] {
        for (index, text) in
            ["place -8.2 35.1 1200m", "lift 3 pipe 30 panel 3x100 garden 900", "remind", "person mangotree"]
                .iter()
                .enumerate()
        {
            let id = format!("{from}-{index}");
            assert_eq!(service.post("/lines/north/inbound", &message(&id, from, text)).await.status(), 202);
        }
    }
    // A list whose other columns tell as much as the number, sent and not yet sent.
    for _ in 0..2 {
        let list = answered_list(&store, &[asha.clone(), baraka.clone()]).await;
        let mut step = store.begin().await.unwrap();
        step.send_bulk(list, None, ("north", HOTLINE), Utc::now()).await.unwrap();
        step.commit().await.unwrap();
    }
    answered_list(&store, &[asha.clone(), baraka.clone()]).await;
    let mut database = Service::connect(&folder).await;
    sqlx::query(
        "update bulk_row set place = '-8.2 35.1', problem = 'near 35.1', cells = cells || '{\"other\": \"0-mangotree\"}'",
    )
    .execute(&mut database)
    .await
    .unwrap();
    gateway.wait("all is out", |calls| calls.len() >= 12).await;
    let before = holding(&mut database, &asha[1..]).await;
    for table in ["inbound", "outbox", "talk", "reminder", "bulk_row"] {
        assert!(before.iter().any(|found| found == table), "{table} is looked at: {before:?}");
    }
    assert!(!holding(&mut database, "35.1").await.contains(&"tally".to_owned()), "no place in degrees is counted");
    for from in [&asha, &baraka] {
        for (id, text) in [("x", "forget"), ("y", "yes")] {
            let answer = service.post("/lines/north/inbound", &message(&format!("{from}-{id}"), from, text)).await;
            assert_eq!(answer.status(), 202, "{}", service.stderr());
        }
        eventually("nothing is left", || async {
            let mut database = Service::connect(&folder).await;
            holding(&mut database, &from[1..]).await.is_empty().then_some(())
        })
        .await;
        if from == &asha {
            assert!(holding(&mut database, &baraka[1..]).await.contains(&"inbound".to_owned()), "others keep theirs");
        }
    }
    for text in ["35.1", "mangotree", "mango tree"] {
        assert_eq!(holding(&mut database, text).await, [""; 0], "{text}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_column_is_in_the_list_of_what_is_held() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let mut database = Service::connect(&folder).await;
    let columns: BTreeSet<String> = sqlx::query_scalar(
        "select table_name || '.' || column_name from information_schema.columns where table_schema = 'public'
         and data_type in ('text', 'jsonb', 'json', 'ARRAY', 'double precision', 'real', 'numeric', 'character varying', 'bytea')",
    )
    .fetch_all(&mut database)
    .await
    .unwrap()
    .into_iter()
    .collect();
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/DEVELOPERS.md")).unwrap();
    let part = text.split("## What is held of a grower").nth(1).expect("the list").split("\n## ").next().unwrap();
    let mut listed = BTreeSet::new();
    for row in part.lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
        let table = cells[0].trim_matches('`');
        for cell in &cells[1..3] {
            let names = cell.split('`').skip(1).step_by(2);
            listed.extend(names.map(|column| format!("{table}.{column}")));
        }
    }
    let missing: Vec<&String> = columns.difference(&listed).collect();
    let gone: Vec<&String> = listed.difference(&columns).collect();
    assert!(missing.is_empty() && gone.is_empty(), "not in the list: {missing:?}; no such column: {gone:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_kept_long_enough_is_removed_and_opt_outs_are_not() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let (asha, baraka, other) = (number(823), number(824), number(825));
    for (from, text) in [(&asha, "lift 3"), (&baraka, "lift 3"), (&baraka, "stop"), (&other, "person")] {
        let typed = serde_json::json!({ "number": from, "text": text });
        assert_eq!(service.post("/handset/messages", &typed).await.status(), 200);
    }
    let store = Store::open(Service::options(&folder)).await.unwrap();
    answered_list(&store, std::slice::from_ref(&asha)).await;
    let retention = Retention { messages_days: 10, talks_days: 20, lists_days: 30, counts_days: 40, audit_days: 50 };
    let now = Utc::now();
    let mut database = Service::connect(&folder).await;
    database.execute("insert into audit (at, staff, did, about) values (now(), 'Baraka', 'did', '')").await.unwrap();
    let mut left = async |days: i64| -> [i64; 6] {
        let at: DateTime<Utc> = now + TimeDelta::days(days) + TimeDelta::hours(1);
        housekeeping::remove(&store, &retention, at).await.unwrap();
        let mut left = [0; 6];
        for (count, table) in left.iter_mut().zip(["inbound", "outbox", "talk", "bulk_list", "tally", "audit"]) {
            let sql = AssertSqlSafe(format!("select count(*) from {table}"));
            *count = sqlx::query_scalar(sql).fetch_one(&mut database).await.unwrap();
        }
        left
    };
    assert_eq!(left(0).await, [4, 4, 3, 1, 4, 1]);
    assert_eq!(left(10).await, [1, 0, 3, 1, 4, 1], "what waits for a human waits on");
    assert_eq!(left(20).await, [1, 0, 1, 1, 4, 1], "the opt-out alone");
    assert_eq!(left(30).await, [1, 0, 1, 0, 4, 1]);
    assert_eq!(left(40).await, [1, 0, 1, 0, 0, 1]);
    assert_eq!(left(50).await, [1, 0, 1, 0, 0, 0]);
    let talk: (bool, bool) = sqlx::query_as("select stopped, talk::text like '%lift%3%' from talk")
        .fetch_one(&mut Service::connect(&folder).await)
        .await
        .unwrap();
    assert!(talk.0);
    // Who has opted out may be forgotten all the same, and stays so.
    let typed = serde_json::json!({ "number": baraka, "text": "forget" });
    assert_eq!(service.post("/handset/messages", &typed).await.status(), 200);
    let stopped: i64 = sqlx::query_scalar("select count(*) from talk where stopped")
        .fetch_one(&mut Service::connect(&folder).await)
        .await
        .unwrap();
    assert_eq!(stopped, 1);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_deadlock_that_is_broken_at_its_cost_is_tried_again() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = number(826);
    for (id, text) in [("1", "lift 3 pipe 30 panel 3x100 garden 900"), ("2", "remind"), ("3", "forget")] {
        service.post("/lines/north/inbound", &message(id, &asha, text)).await;
    }
    let mut other = Service::connect(&folder).await;
    other.execute("set deadlock_timeout = '20s'").await.unwrap();
    other.execute("begin").await.unwrap();
    other.execute("select 1 from reminder for update").await.unwrap();
    let (client, url) = (service.client.clone(), format!("{}/lines/north/inbound", service.url));
    let body = message("4", &asha, "yes");
    let forgetting =
        tokio::spawn(async move { client.post(url).bearer_auth(crate::common::SECRET).json(&body).send().await.unwrap() });
    let mut watcher = Service::connect(&folder).await;
    loop {
        let waits = sqlx::query_scalar::<_, i64>("select count(*) from pg_stat_activity where wait_event_type = 'Lock'");
        if waits.fetch_one(&mut watcher).await.unwrap() > 0 {
            break;
        }
    }
    // Each waits for the other now, until PostgreSQL ends the one that has waited for longer.
    other.execute("select 1 from talk for update").await.unwrap();
    other.execute("commit").await.unwrap();
    assert_eq!(forgetting.await.unwrap().status(), 202);
    eventually("nothing is left", || async {
        let mut database = Service::connect(&folder).await;
        holding(&mut database, &asha[1..]).await.is_empty().then_some(())
    })
    .await;
}
