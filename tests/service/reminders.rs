//! Reminders in a real PostgreSQL: kept with the talk, sent once when due, taken away with it.

use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};
use noonwater::answering::Answering;
use noonwater::lines::Incoming;
use noonwater::number::Number;
use noonwater::store::Store;
use noonwater::talk::{Channel, Talk};
use noonwater::turn::World;
use noonwater::world::Shelf;
use noonwater::{demo, placefile, pricefile, world};
use sqlx::PgConnection;
use sqlx::postgres::PgConnectOptions;

use crate::common::{Folder, Service, number};

const SET: &str = "lift 5 pipe 40 bore 50 panel 5x80 garden 1500 pump 12v 15000 l/h 8m 16a";

fn demo_world() -> World {
    let climate = placefile::parse(demo::PLACE_JSON, false).unwrap();
    let prices = pricefile::parse(demo::PRICES_TOML, false).unwrap();
    world::build(world::languages(None).unwrap(), Some("en"), vec![climate], "Kito", prices).unwrap()
}

struct Desk {
    answering: Answering,
    connection: PgConnection,
    now: DateTime<Utc>,
    count: u32,
    // Last: the database goes when nothing uses it any more.
    _service: Service,
}

impl Desk {
    async fn open(folder: &Folder) -> Self {
        // A service without lines stands for the operator's database.
        let service = Service::start(folder, "");
        let options = PgConnectOptions::new_without_pgpass()
            .socket(folder.path().join("run"))
            .port(5432)
            .username("noonwater")
            .database("postgres");
        let store = Store::open(options).await.unwrap();
        let answering = Answering::new(store, Arc::new(Shelf::new(demo_world())));
        let connection = Service::connect(folder).await;
        // Years ahead of the service's own clock, which so finds nothing due.
        let now = "2040-06-10T06:00:00Z".parse().unwrap();
        Desk { answering, connection, now, count: 0, _service: service }
    }

    async fn say(&mut self, from: &str, text: &str) {
        self.count += 1;
        self.now += TimeDelta::minutes(1);
        let incoming = Incoming {
            line: "north".to_owned(),
            external_id: format!("r-{}", self.count),
            from: Number::parse(from).unwrap(),
            to: "+447700900100".to_owned(),
            text: text.to_owned(),
            channel: Channel::Sms,
            sent_at: None,
            received_at: self.now,
            also_by: None,
            is_shown: false,
            until: None,
        };
        self.answering.answer(&incoming).await.unwrap();
    }

    async fn reminders(&mut self) -> Vec<(String, DateTime<Utc>)> {
        sqlx::query_as("select kind, due_at from reminder order by kind").fetch_all(&mut self.connection).await.unwrap()
    }

    async fn sent(&mut self, to: &str) -> Vec<String> {
        sqlx::query_scalar("select body from outbox where recipient = $1 order by seq")
            .bind(to)
            .fetch_all(&mut self.connection)
            .await
            .unwrap()
    }

    async fn talk(&mut self, of: &str) -> Option<Talk> {
        let talk: Option<serde_json::Value> = sqlx::query_scalar("select talk from talk where number = $1")
            .bind(of)
            .fetch_optional(&mut self.connection)
            .await
            .unwrap();
        talk.map(|talk| serde_json::from_value(talk).unwrap())
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_reminder_is_kept_sent_once_and_taken_away() {
    let folder = Folder::new();
    let mut desk = Desk::open(&folder).await;
    let asha = number(91);
    desk.say(&asha, SET).await;
    assert!(desk.reminders().await.is_empty());
    desk.say(&asha, "remind").await;
    let kept = desk.reminders().await;
    assert_eq!(kept.iter().map(|(kind, _)| kind.as_str()).collect::<Vec<_>>(), ["brushes", "low_water"]);

    // Nothing is due yet; then one is, once, however many look at the same time.
    let before = desk.sent(&asha).await.len();
    assert_eq!(desk.answering.remind_due(desk.now).await.unwrap(), 0);
    let due_at = kept[1].1;
    let both = tokio::join!(desk.answering.remind_due(due_at), desk.answering.remind_due(due_at));
    assert_eq!(both.0.unwrap() + both.1.unwrap(), 1);
    let sent = desk.sent(&asha).await;
    assert_eq!(sent.len(), before + 1);
    assert!(sent.last().unwrap().contains("lowest"), "{sent:?}");
    // It comes again next year, and the talk knows as much as the table.
    let kept = desk.reminders().await;
    assert_eq!(kept[1].1, due_at + TimeDelta::days(365));
    assert_eq!(desk.talk(&asha).await.unwrap().reminders.len(), 2);

    desk.say(&asha, "remind no pump").await;
    assert_eq!(desk.reminders().await.len(), 1);
    desk.say(&asha, "stop").await;
    assert!(desk.reminders().await.is_empty());
}

#[tokio::test(flavor = "multi_thread")]
async fn forgetting_a_number_forgets_its_reminders_and_its_tests() {
    let folder = Folder::new();
    let mut desk = Desk::open(&folder).await;
    let baraka = number(92);
    for text in [SET, "test 100 l 70 s at 4", "remind"] {
        desk.say(&baraka, text).await;
    }
    assert_eq!(desk.talk(&baraka).await.unwrap().known.tests.len(), 1);
    desk.say(&baraka, "forget").await;
    desk.say(&baraka, "yes").await;
    assert!(desk.reminders().await.is_empty());
    assert_eq!(desk.talk(&baraka).await, None);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_talk_that_cannot_be_read_holds_up_no_other_reminder() {
    let folder = Folder::new();
    let mut desk = Desk::open(&folder).await;
    let (asha, baraka) = (number(93), number(94));
    for from in [&asha, &baraka] {
        desk.say(from, SET).await;
        desk.say(from, "remind low").await;
    }
    // Talks that a newer version wrote: more than are looked up at once, all due before the one that can be read.
    sqlx::query("update talk set form = 99 where number = $1").bind(&asha).execute(&mut desk.connection).await.unwrap();
    for statement in [
        "insert into talk (number, form, talk, updated_at)
         select '+44770091' || to_char(n, 'FM0000'), 99, '{}', now() from generate_series(1, 250) n",
        "insert into reminder (number, kind, due_at, line, sender)
         select number, 'low_water', '2030-01-01', 'north', '32100' from talk where form = 99 and number like '+44770091____'
         on conflict do nothing",
    ] {
        sqlx::query(statement).execute(&mut desk.connection).await.unwrap();
    }
    let due_at = desk.reminders().await.into_iter().map(|(_, due_at)| due_at).max().unwrap();
    assert_eq!(desk.answering.remind_due(due_at).await.unwrap(), 1);
    assert!(desk.sent(&baraka).await.last().unwrap().contains("lowest"));
    // It waits for the version that can read it.
    let waiting: i64 = sqlx::query_scalar("select count(*) from reminder where number = $1 and due_at <= $2")
        .bind(&asha)
        .bind(due_at)
        .fetch_one(&mut desk.connection)
        .await
        .unwrap();
    assert_eq!(waiting, 1);
}
