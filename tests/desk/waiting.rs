//! A waiting talk: taken by one, mended, answered, handed back.

use reqwest::StatusCode;

use crate::common::{Answer, Folder, Gateway, Service, line, message, number};
use crate::seat::{Seat, with_fields};

/// A service where a number has asked for a person; gives the path of its talk.
async fn with_waiting(service: &Service, gateway: &Gateway, from: &str, seat: &Seat<'_>) -> String {
    for (id, text) in [("w-1", "lift 5 pipe 40"), ("w-2", "person")] {
        let id = format!("{id}-{from}");
        assert_eq!(service.post("/lines/north/inbound", &message(&id, from, text)).await.status(), 202);
    }
    gateway.wait("the program has answered", |calls| calls.iter().filter(|call| call.to() == from).count() >= 2).await;
    let list = seat.page("/desk/waiting").await;
    let row = list.split("<tr>").find(|row| row.contains(from)).expect("the talk waits");
    row.split("href=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_talk_is_taken_mended_and_answered() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;
    let guest = Seat::take(&service, &folder, "Guest", "reads").await;
    let grower = number(610);
    let path = with_waiting(&service, &gateway, &grower, &asha).await;

    assert_eq!(guest.post(&path, &[("do", "take")]).await.status(), StatusCode::FORBIDDEN);
    let unheld = asha.post(&path, &[("do", "send"), ("text", "hello")]).await.text().await.unwrap();
    assert!(unheld.contains("not in your hands"), "{unheld}");
    // Both at once: one has it, the other is told who.
    let (one, two) = tokio::join!(asha.post(&path, &[("do", "take")]), baraka.post(&path, &[("do", "take")]));
    let statuses = [one.status(), two.status()];
    assert!(statuses.contains(&StatusCode::SEE_OTHER) && statuses.contains(&StatusCode::UNPROCESSABLE_ENTITY));
    let (holder, other, name) =
        if statuses[0] == StatusCode::SEE_OTHER { (&asha, two, "Asha") } else { (&baraka, one, "Baraka") };
    assert!(other.text().await.unwrap().contains(&format!("{name} has this talk")));

    let page = holder.page(&path).await;
    assert!(page.contains("value=\"5 m\"") && page.contains("Understood: lift 5 m, pipe 40 m"), "{page}");
    let sheet = [("lift", "6"), ("pipe", "60"), ("panel", "5x80"), ("garden", "1500"), ("crop", "tomato")];
    let with = |more: &[(&'static str, &'static str)]| [&sheet[..], more].concat();
    let looked = holder.post(&path, &with(&[("do", "look")])).await.text().await.unwrap();
    assert!(looked.contains("Water on the mean day") && looked.contains("value=\"60\""), "{looked}");
    let wrong = holder.post(&path, &[("lift", "900"), ("do", "send"), ("text", "hello")]).await;
    assert_eq!(wrong.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let wrong = wrong.text().await.unwrap();
    assert!(
        wrong.contains("aria-invalid") && wrong.contains("value=\"900\"") && wrong.contains("hello"),
        "nothing is lost"
    );
    let ready = holder.post(&path, &with(&[("ready", "ask-bore")])).await.text().await.unwrap();
    assert!(ready.contains("Goes out as 1 part"), "{ready}");

    let mut whole = with_fields(&page, &with(&[("do", "send"), ("text", "A wider hose would help you.")]));
    let sent = holder.post_all(&path, &whole).await;
    assert_eq!(sent.status(), StatusCode::SEE_OTHER);
    let calls = gateway.wait("the reply is out", |calls| calls.iter().any(|call| said(call).starts_with("A wider"))).await;
    let reply = calls.iter().find(|call| said(call).starts_with("A wider")).unwrap();
    assert_eq!(reply.to(), grower);
    assert!(said(reply).len() > "A wider hose would help you. ".len(), "a safety line was added: {}", said(reply));
    assert!(asha.page("/desk/waiting").await.contains("Nobody waits"));
    let again = holder.post(&path, &with(&[("do", "send"), ("text", "Once more.")])).await;
    assert_eq!(again.status(), StatusCode::UNPROCESSABLE_ENTITY, "it is out of hand");

    // For an hour it comes back to who answered; handed back, the program goes on with the sheet as mended.
    let count = || gateway.calls().iter().filter(|call| call.to() == grower).count();
    let before = count();
    service.post("/lines/north/inbound", &message("w-8", &grower, "thank you")).await;
    let path = holder.talk_with(&grower).await;
    whole = with_fields(&holder.page(&path).await, &[("do", "back")]);
    assert_eq!(holder.post_all(&path, &whole).await.status(), StatusCode::SEE_OTHER);
    assert_eq!(count(), before, "nobody else answered");
    service.post("/lines/north/inbound", &message("w-9", &grower, "garden 1200")).await;
    let calls =
        gateway.wait("the program goes on", |calls| calls.last().is_some_and(|call| said(call).contains("m3"))).await;
    let answer = said(calls.last().unwrap());
    assert!(answer.contains("m3"), "{answer}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_mended_sheet_keeps_the_bucket_tests() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let grower = number(611);
    let set = "lift 5 pipe 40 bore 50 panel 5x80 pump 12v 15000 l/h 8m 16a garden 1500";
    let test = "test 100 l 60 s at 4 12:30";
    for (id, text) in [("t-1", set), ("t-2", test)] {
        service.post("/lines/north/inbound", &message(id, &grower, text)).await;
    }
    let path = with_waiting(&service, &gateway, &grower, &asha).await;
    asha.post(&path, &[("do", "take")]).await;
    let page = asha.page(&path).await;
    assert!(page.contains("Bucket tests") && page.contains("of the label’s flow"), "{page}");
    let link = page.split("href=\"/desk/set?").nth(1).and_then(|rest| rest.split('"').next()).expect("a link to the set");
    let drawn = asha.page(&format!("/desk/set?{}", link.replace("&amp;", "&"))).await;
    assert!(drawn.contains("Bucket tests"), "the talk's tests count there: {drawn}");
    let sheet = [
        ("lift", "6"),
        ("pipe", "40"),
        ("bore", "50"),
        ("panel", "5x80"),
        ("pump", "12v 15000 l/h 8m 16a"),
        ("garden", "1500"),
        ("do", "back"),
    ];
    assert_eq!(asha.post(&path, &sheet).await.status(), StatusCode::SEE_OTHER);
    service.post("/lines/north/inbound", &message("t-9", &grower, "garden 1300")).await;
    let calls =
        gateway.wait("the program goes on", |calls| calls.last().is_some_and(|call| said(call).contains("m3"))).await;
    let answer = said(calls.last().unwrap());
    assert!(answer.contains("wn test"), "{answer}");
    // The page of a set reads a test too.
    let page = asha.page(&format!("/desk/set?text={}", format!("{set} {test}").replace(' ', "+"))).await;
    assert!(page.contains("Bucket tests"), "{page}");
}

fn said(call: &crate::common::Call) -> String {
    call.body["text"].as_str().unwrap_or_default().to_owned()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_talk_can_go_back_and_an_opted_out_number_gets_nothing() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let (first, second) = (number(611), number(612));
    let path = with_waiting(&service, &gateway, &first, &asha).await;
    asha.post(&path, &[("do", "take")]).await;
    asha.post(&path, &[("do", "release")]).await;
    assert!(asha.page("/desk/waiting").await.contains("value=\"take\""), "it waits on");
    asha.post(&path, &[("do", "take")]).await;
    let sheet = with_fields(&asha.page(&path).await, &[("lift", "4"), ("do", "back")]);
    assert_eq!(asha.post_all(&path, &sheet).await.status(), StatusCode::SEE_OTHER);
    assert!(asha.page("/desk/waiting").await.contains("Nobody waits"));

    let path = with_waiting(&service, &gateway, &second, &asha).await;
    service.post("/lines/north/inbound", &message("w-stop", &second, "stop")).await;
    asha.post(&path, &[("do", "take")]).await;
    let refused = asha.post(&path, &[("do", "send"), ("text", "hello")]).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text().await.unwrap().contains("opted out"));
}

#[tokio::test(flavor = "multi_thread")]
async fn an_open_page_hears_of_changes_and_holds_up_no_stop() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let mut service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let mut events = asha.get("/desk/waiting/events").await;
    service.post("/lines/north/inbound", &message("e-1", &number(613), "person")).await;
    let event = tokio::time::timeout(crate::common::DEADLINE, events.chunk()).await.unwrap().unwrap().unwrap();
    assert!(String::from_utf8_lossy(&event).contains("event: changed"));
    service.terminate();
    assert!(service.wait().success(), "the open stream ends");
}

#[tokio::test(flavor = "multi_thread")]
async fn an_undelivered_reply_is_seen_sent_again_or_let_be() {
    let gateway = Gateway::start(|_, _| Answer::Status(503)).await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let guest = Seat::take(&service, &folder, "Guest", "reads").await;
    for (id, from) in [("u-1", number(614)), ("u-2", number(615)), ("u-3", number(616))] {
        service.post("/lines/north/inbound", &message(id, &from, "lift 5 pipe 40")).await;
    }
    gateway.wait("each was tried", |calls| calls.len() >= 3).await;
    let queued = crate::common::eventually("all three are seen waiting", async || {
        let page = asha.page("/desk/undelivered").await;
        page.contains("data-name=\"Tried in vain\">3<").then_some(page)
    })
    .await;
    assert!(queued.contains("data-name=\"On their way\">3<") && queued.contains("Nothing has been given up"), "{queued}");
    // As after days of it.
    let mut connection = Service::connect(&folder).await;
    let last = "with given_up as (
                    update sending set due_at = null, is_leased = false, given_up_at = now(), attempts = 15 returning id
                )
                update outbox set state = 'undelivered' where id in (select id from given_up)";
    sqlx::query(last).execute(&mut connection).await.unwrap();
    let page = crate::common::eventually("all three are given up", async || {
        let page = asha.page("/desk/undelivered").await;
        page.contains("3 messages no gateway took").then_some(page)
    })
    .await;
    assert!(page.contains("the gateway answered 503, 15 tries") && page.contains(&number(614)), "{page}");
    let start = asha.page("/desk/waiting").await;
    assert!(start.contains("3 messages were not delivered") && start.contains("class=\"many\">3<"), "{start}");

    let id_of = |page: &str, to: &str| {
        let row = page.split("<tr>").find(|row| row.contains(to)).unwrap();
        row.split("name=\"id\" value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    let (first, second, third) = (id_of(&page, &number(614)), id_of(&page, &number(615)), id_of(&page, &number(616)));
    assert_eq!(guest.post("/desk/undelivered", &[("id", &first), ("do", "again")]).await.status(), StatusCode::FORBIDDEN);
    gateway.now_accepts();
    let before = gateway.calls().len();
    assert_eq!(asha.post("/desk/undelivered", &[("id", &first), ("do", "again")]).await.status(), 303);
    let calls = gateway.wait("it is out under the same name", |calls| calls.len() > before).await;
    assert_eq!(calls.last().unwrap().id(), first);
    assert_eq!(asha.post("/desk/undelivered", &[("id", &second), ("do", "be")]).await.status(), 303);
    assert!(asha.page("/desk/undelivered").await.contains("1 message no gateway took"));
    // What somebody else has dealt with, and who wants nothing any more.
    let late = asha.post("/desk/undelivered", &[("id", &second), ("do", "again")]).await;
    assert_eq!(late.status(), StatusCode::UNPROCESSABLE_ENTITY);
    assert!(late.text().await.unwrap().contains("dealt with this message meanwhile"));
    service.post("/lines/north/inbound", &message("u-4", &number(616), "stop")).await;
    let refused = asha.post("/desk/undelivered", &[("id", &third), ("do", "again")]).await;
    assert!(refused.text().await.unwrap().contains("has opted out"));
    let audit = guest.page("/desk/audit").await;
    assert!(audit.contains("sent an undelivered message again") && audit.contains("let an undelivered message be"));
}
