//! Each statement of the store that the other tests do not reach.

use std::time::Duration;

use chrono::Utc;
use noonwater::reply::PhoneText;
use noonwater::sending::{Priority, Receipt};
use noonwater::store::{NewReply, PlaceRow, Store, StoreError, Way};
use serde_json::json;
use uuid::Uuid;

use crate::common::{Folder, Service, number};

async fn store(folder: &Folder) -> Store {
    Store::open(Service::options(folder)).await.unwrap()
}

/// Queues a reply on a line that no loop serves.
async fn queue(store: &Store, recipient: &str) -> Uuid {
    queue_as(store, recipient, Priority::Answer).await
}

async fn queue_as(store: &Store, recipient: &str, priority: Priority) -> Uuid {
    let text = PhoneText::new("Switch off before touching pump or wires.");
    let way = Way { line: "unserved", sender: "32100", recipient };
    let reply = NewReply::new(way, &text, priority, Utc::now());
    let mut step = store.begin().await.unwrap();
    step.queue_reply(&reply).await.unwrap();
    step.commit().await.unwrap();
    reply.id
}

async fn state(store: &Store, recipient: &str) -> String {
    store.replies_of("unserved", recipient, 1).await.unwrap().remove(0).state
}

const LONG: Duration = Duration::from_secs(3600);

async fn lease(store: &Store) -> Vec<(Uuid, i32)> {
    let leased = store.lease("unserved", 10, None).await.unwrap();
    leased.leases.into_iter().map(|lease| (lease.id, lease.attempts)).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_lease_is_one_senders_until_it_ends() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let store = store(&folder).await;
    let (asha, baraka) = (number(400), number(401));
    let (first, _second, other) = (queue(&store, &asha).await, queue(&store, &asha).await, queue(&store, &baraka).await);

    let mut leased: Vec<Uuid> = lease(&store).await.into_iter().map(|(id, _)| id).collect();
    leased.sort_unstable();
    assert_eq!(leased, [first, other], "the second to the same number waits");
    assert!(lease(&store).await.is_empty(), "nobody else gets them");

    // Released, leased anew, and run out: the first senders' late word counts no more.
    store.release_leases().await.unwrap();
    assert!(lease(&store).await.iter().all(|(_, attempts)| *attempts == 2));
    let mut database = Service::connect(&folder).await;
    sqlx::query("update sending set due_at = now() where is_leased").execute(&mut database).await.unwrap();
    assert_eq!(lease(&store).await.len(), 2, "the sender died and the lease ran out");
    store.taken(first, 1).await.unwrap();
    store.retry_later(first, 2, LONG, "late").await.unwrap();
    store.refused(first, 2, "late").await.unwrap();
    assert_eq!(state(&store, &baraka).await, "queued");
    assert!(lease(&store).await.is_empty());

    store.refused(first, 3, "the gateway refuses it (422)").await.unwrap();
    let next = lease(&store).await;
    assert_eq!(next.len(), 1, "now the second goes");
    store.retry_later(next[0].0, next[0].1, LONG, "the gateway did not answer").await.unwrap();
    assert_eq!(state(&store, &asha).await, "queued");
    assert!(lease(&store).await.is_empty(), "not before its pause is over");
}

#[tokio::test(flavor = "multi_thread")]
async fn the_more_important_goes_first_on_the_line_and_to_the_number() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let store = store(&folder).await;
    let (asha, baraka) = (number(410), number(411));
    let list = queue_as(&store, &asha, Priority::List).await;
    let reminder = queue_as(&store, &baraka, Priority::Reminder).await;
    let answer = queue_as(&store, &baraka, Priority::Answer).await;
    let danger = queue_as(&store, &asha, Priority::Danger).await;
    for wished in [danger, answer, reminder, list] {
        let leased = store.lease("unserved", 1, None).await.unwrap().leases.remove(0);
        assert_eq!(leased.id, wished);
        store.taken(leased.id, leased.attempts).await.unwrap();
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_receipt_settles_whatever_comes_after_it() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let store = store(&folder).await;
    let asha = number(402);
    let id = queue(&store, &asha).await;
    lease(&store).await;
    // The receipt overtakes the gateway's answer to our call.
    for (outcome, then) in [
        (Receipt::Failed, "failed"),
        (Receipt::Expired, "expired"),
        (Receipt::Delivered, "delivered"),
        (Receipt::Failed, "delivered"),
    ] {
        assert!(store.settle("unserved", id, outcome).await.unwrap());
        assert_eq!(state(&store, &asha).await, then);
    }
    store.taken(id, 1).await.unwrap();
    assert_eq!(state(&store, &asha).await, "delivered");
    assert!(!store.settle("another", id, Receipt::Failed).await.unwrap());
}

#[tokio::test(flavor = "multi_thread")]
async fn one_message_has_one_reply_by_a_constraint_too() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let typed = json!({ "number": number(403), "text": "lift 5" });
    assert_eq!(service.post("/handset/messages", &typed).await.status(), 200);
    let store = store(&folder).await;
    let message = store.inbound_of("handset", &number(403), 1).await.unwrap().remove(0);
    let (text, to) = (PhoneText::new("twice"), number(403));
    let way = Way { line: "handset", sender: "32100", recipient: &to };
    let reply = NewReply::new(way, &text, Priority::Answer, Utc::now()).answering(message.id);
    let mut step = store.begin().await.unwrap();
    assert!(matches!(step.queue_reply(&reply).await, Err(StoreError::AlreadyAnswered)));
}

#[tokio::test(flavor = "multi_thread")]
async fn places_are_kept_once_by_name() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let store = store(&folder).await;
    let months: Vec<_> = (1..=12).map(|month| json!({ "h_kwh_m2_day": 5.0, "month": month })).collect();
    let kito = PlaceRow {
        name: "Kito".to_owned(),
        lat_deg: -8.0,
        lon_deg: 34.5,
        alt_m: 1600.0,
        utc_offset_h: 2.0,
        coastal: false,
        season_months: json!([5, 6, 7, 8, 9, 10]),
        low_water_month: Some(10),
        source: Some("the district's own".to_owned()),
        months: json!(months),
    };
    let put = async |place: &PlaceRow| {
        let mut step = store.begin().await.unwrap();
        step.put_place(place, Utc::now()).await?;
        step.commit().await
    };
    put(&kito).await.unwrap();
    let higher = PlaceRow { name: "KITO ".to_owned(), alt_m: 1650.0, ..kito.clone() };
    put(&higher).await.unwrap();
    let stored = store.places().await.unwrap();
    assert_eq!(stored, [PlaceRow { name: "KITO".to_owned(), ..higher }]);

    for (wrong, constraint) in [
        (PlaceRow { lat_deg: 91.0, ..kito.clone() }, "place_lat"),
        (PlaceRow { lon_deg: -181.0, ..kito.clone() }, "place_lon"),
        (PlaceRow { utc_offset_h: 15.0, ..kito.clone() }, "place_offset"),
        (PlaceRow { low_water_month: Some(13), ..kito.clone() }, "place_low_water"),
        (PlaceRow { months: json!([1]), ..kito.clone() }, "place_twelve_months"),
    ] {
        assert!(matches!(put(&wrong).await, Err(StoreError::Place(name)) if name == constraint), "{constraint}");
    }
}
