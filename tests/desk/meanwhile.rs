//! What comes in while a member of staff has a talk open: nothing of it is closed unread, nothing of it is overwritten.

use reqwest::StatusCode;

use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::seat::{Seat, fields_of, with_fields};

const SET: &str = "lift 3 pipe 30 bore 40 panel 3x100 garden 900";

/// A talk that waits, taken; gives its path and the page as it was opened.
async fn opened(service: &Service, gateway: &Gateway, from: &str, seat: &Seat<'_>) -> (String, String) {
    for (id, text) in [("m-1", SET), ("m-2", "person")] {
        service.post("/lines/north/inbound", &message(&format!("{id}-{from}"), from, text)).await;
    }
    gateway.wait("the program has answered", |calls| calls.iter().filter(|call| call.to() == from).count() >= 2).await;
    let path = seat.talk_with(from).await;
    seat.post(&path, &[("do", "take")]).await;
    (path.clone(), seat.page(&path).await)
}

async fn writes(service: &Service, from: &str, texts: &[&str]) {
    for text in texts {
        let id = format!("{from}-{text}");
        assert_eq!(service.post("/lines/north/inbound", &message(&id, from, text)).await.status(), 202);
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn sending_closes_only_what_was_shown_and_keeps_what_was_told_meanwhile() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let grower = number(650);
    let (path, page) = opened(&service, &gateway, &grower, &asha).await;
    writes(&service, &grower, &["pipe 30 bore 63", "person my pump smokes"]).await;

    // Staff have only looked at the garden.
    let sheet = with_fields(&page, &[("garden", "800"), ("text", "Come on market day."), ("do", "send")]);
    assert_eq!(asha.post_all(&path, &sheet).await.status(), StatusCode::SEE_OTHER);
    gateway.wait("the reply is out", |calls| calls.iter().any(|call| call.text().starts_with("Come on market"))).await;
    let list = asha.page("/desk/waiting").await;
    assert!(list.contains(&grower) && list.contains("my pump smokes"), "what nobody read still waits: {list}");
    let path = asha.talk_with(&grower).await;
    asha.post(&path, &[("do", "take")]).await;
    let fields = fields_of(&asha.page(&path).await);
    assert!(fields["bore"].starts_with("63"), "the grower's newer bore stands: {fields:?}");
    assert!(fields["garden"].starts_with("800"), "and so does what staff wrote: {fields:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_field_that_both_have_changed_is_shown_with_both_and_nothing_is_sent() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let grower = number(651);
    let (path, page) = opened(&service, &gateway, &grower, &asha).await;
    writes(&service, &grower, &["pipe 30 bore 63"]).await;

    let sheet = with_fields(&page, &[("bore", "50"), ("text", "A wider pipe, please."), ("do", "send")]);
    let refused = asha.post_all(&path, &sheet).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let refused = refused.text().await.unwrap();
    let fields = fields_of(&refused);
    assert!(fields["bore"].starts_with("50") && refused.contains("63 mm"), "both are shown: {refused}");
    assert_eq!(fields["text"], "A wider pipe, please.");
    assert!(!gateway.calls().iter().any(|call| call.text().starts_with("A wider pipe")));

    // Sent once more, knowing both, what stands in the field is taken.
    let sheet = with_fields(&refused, &[("do", "send")]);
    assert_eq!(asha.post_all(&path, &sheet).await.status(), StatusCode::SEE_OTHER);
    gateway.wait("it is out", |calls| calls.iter().any(|call| call.text().starts_with("A wider pipe"))).await;
    writes(&service, &grower, &["person"]).await;
    let path = eventually("the grower waits again", async || asha.find_talk_with(&grower).await).await;
    asha.post(&path, &[("do", "take")]).await;
    assert!(fields_of(&asha.page(&path).await)["bore"].starts_with("50"));
}
