//! `answering` with its connection cut at every statement: before the commit nothing has happened, and the same message
//! sent again is answered once.

use std::sync::Arc;

use chrono::{DateTime, Utc};
use noonwater::answering::Answering;
use noonwater::lines::{Incoming, Received};
use noonwater::number::Number;
use noonwater::reply::{Encoding, PhoneText};
use noonwater::store::Store;
use noonwater::talk::{Channel, Talk};
use noonwater::turn::{Turn, World};
use noonwater::world::Shelf;
use sqlx::{AssertSqlSafe, Executor, PgConnection};

use crate::common::{Folder, Service, eventually, number};

/// A turn that shows what it saw: each one flips `stopped` and says how it found it.
fn flip(_: &World, talk: &Talk, text: &str, _: Channel, _: DateTime<Utc>) -> Turn {
    let text = format!("{text}: {}", talk.stopped);
    let reply = PhoneText { units: text.len(), parts: 1, encoding: Encoding::Gsm7, text };
    Turn {
        talk: Talk { stopped: !talk.stopped, ..talk.clone() },
        reply: Some(reply),
        wants_person: true,
        ..Turn::default()
    }
}

fn incoming(id: &str, from: &str) -> Incoming {
    Incoming {
        line: "north".to_owned(),
        external_id: id.to_owned(),
        from: Number::parse(from).unwrap(),
        to: "32100".to_owned(),
        text: id.to_owned(),
        channel: Channel::Sms,
        also_by: None,
        is_shown: false,
        until: None,
        sent_at: None,
        received_at: Utc::now(),
    }
}

async fn house(folder: &Folder, turn: noonwater::answering::TurnFn) -> (Arc<Answering>, Store, PgConnection) {
    let connection = Service::connect(folder).await;
    let socket = folder.path().join("run");
    let options = sqlx::postgres::PgConnectOptions::new_without_pgpass()
        .socket(socket)
        .port(5432)
        .username("noonwater")
        .database("postgres");
    let store = Store::open(options).await.unwrap();
    let shelf = Arc::new(Shelf::new(World::default()));
    (Arc::new(Answering::with_turn(store.clone(), shelf, turn)), store, connection)
}

/// Rows of each table, and what the talk of this number says.
async fn traces(connection: &mut PgConnection, from: &str) -> (i64, i64, Option<bool>) {
    let (inbound, outbox) = sqlx::query_as::<_, (i64, i64)>(
        "select (select count(*) from inbound where sender = $1), (select count(*) from outbox where recipient = $1)",
    )
    .bind(from)
    .fetch_one(&mut *connection)
    .await
    .unwrap();
    let stopped = sqlx::query_scalar("select (talk ->> 'stopped')::boolean from talk where number = $1")
        .bind(from)
        .fetch_optional(connection)
        .await
        .unwrap();
    (inbound, outbox, stopped)
}

fn text_of(received: &Received) -> &str {
    &received.reply.as_ref().unwrap().text
}

#[tokio::test(flavor = "multi_thread")]
async fn cut_at_any_statement_nothing_is_lost_and_nothing_is_answered_twice() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let (answering, _, mut connection) = house(&folder, flip).await;
    connection
        .execute(
            "create function cut_off() returns trigger language plpgsql as $$
             begin perform pg_terminate_backend(pg_backend_pid()); perform pg_sleep(60); return new; end $$",
        )
        .await
        .unwrap();
    // Every statement of the transaction, before and after its work, and at the commit itself.
    let cuts = [
        "before insert on inbound",
        "after insert on inbound",
        "before insert on talk",
        "after insert on talk",
        "before update on talk",
        "after update on talk",
        "before update on inbound",
        "after update on inbound",
        "before insert on outbox",
        "after insert on outbox",
        "deferred",
    ];
    for (index, cut) in cuts.iter().enumerate() {
        let from = number(300 + u32::try_from(index).unwrap());
        let trigger = match *cut {
            "deferred" => "create constraint trigger cut after insert on outbox deferrable initially deferred".to_owned(),
            cut => format!("create trigger cut {cut}"),
        };
        let table = cut.rsplit(' ').next().map_or("outbox", |table| if table == "deferred" { "outbox" } else { table });
        let create = format!("{trigger} for each row execute function cut_off()");
        connection.execute(AssertSqlSafe(create)).await.unwrap();
        assert!(answering.answer(&incoming(cut, &from)).await.is_err(), "{cut}: the cut must be felt");
        connection.execute(AssertSqlSafe(format!("drop trigger cut on {table}"))).await.unwrap();
        assert_eq!(traces(&mut connection, &from).await, (0, 0, None), "{cut}: nothing happened");

        let received = answering.answer(&incoming(cut, &from)).await.unwrap();
        assert!(!received.is_repeat);
        assert_eq!(text_of(&received), format!("{cut}: false"));
        let again = answering.answer(&incoming(cut, &from)).await.unwrap();
        assert!(again.is_repeat && again.message == received.message);
        assert_eq!(text_of(&again), text_of(&received), "the stored reply");
        assert_eq!(traces(&mut connection, &from).await, (1, 1, Some(true)), "{cut}: once");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn messages_of_one_number_at_the_same_moment_see_each_other() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let (answering, _, mut connection) = house(&folder, flip).await;
    let from = number(350);
    answering.answer(&incoming("m-0", &from)).await.unwrap();
    // Hold the talk until all wait for it, so that they truly meet.
    connection.execute("begin").await.unwrap();
    sqlx::query("select 1 from talk where number = $1 for update").bind(&from).execute(&mut connection).await.unwrap();
    let waiting: Vec<_> = (1..=4)
        .map(|index| {
            let (answering, message) = (Arc::clone(&answering), incoming(&format!("m-{index}"), &from));
            tokio::spawn(async move { answering.answer(&message).await.unwrap().message })
        })
        .collect();
    let mut watcher = Service::connect(&folder).await;
    let mut met = 0_i64;
    while met < 4 {
        let count = sqlx::query_scalar("select count(*) from pg_stat_activity where wait_event_type = 'Lock'");
        met = count.fetch_one(&mut watcher).await.unwrap();
        tokio::task::yield_now().await;
    }
    connection.execute("commit").await.unwrap();
    for answer in waiting {
        answer.await.unwrap();
    }
    let bodies: Vec<String> = sqlx::query_scalar("select body from outbox where recipient = $1 order by seq")
        .bind(&from)
        .fetch_all(&mut connection)
        .await
        .unwrap();
    let saw: Vec<&str> = bodies.iter().filter_map(|body| body.split(": ").nth(1)).collect();
    assert_eq!(saw, ["false", "true", "false", "true", "false"], "each saw what the one before left");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_fault_in_the_core_puts_the_message_before_a_human() {
    fn fails(_: &World, _: &Talk, _: &str, _: Channel, _: DateTime<Utc>) -> Turn {
        panic!("a fault in the core, as this test wants it")
    }
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let (answering, _, mut connection) = house(&folder, fails).await;
    let received = answering.answer(&incoming("z-1", &number(360))).await.unwrap();
    assert!(received.reply.is_none());
    let wants_person: bool = sqlx::query_scalar("select wants_person from inbound where id = $1")
        .bind(received.message)
        .fetch_one(&mut connection)
        .await
        .unwrap();
    assert!(wants_person);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_database_that_is_gone_is_said_and_survived() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let (answering, store, mut connection) = house(&folder, flip).await;
    connection
        .execute("select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid()")
        .await
        .unwrap();
    // The pool may hand out a connection that is dead; the next one is made anew.
    let received =
        eventually("a message is taken again", || async { answering.answer(&incoming("g-1", &number(370))).await.ok() })
            .await;
    assert!(received.reply.is_some());
    assert!(store.is_ready().await);
}
