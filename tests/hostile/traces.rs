//! What leaves a trace, and what leaves none because it changed nothing.

use crate::common::{Folder, Service, eventually};
use crate::files::send;
use crate::seat::Seat;

#[tokio::test(flavor = "multi_thread")]
async fn what_is_taken_away_asked_and_refused_is_written_down() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "reads").await;
    let list = send(&asha, "list.csv", b"text\nlift 3\n").await.headers()["location"].to_str().unwrap().to_owned();
    for _ in 0..2 {
        asha.post(&list, &[("do", "start")]).await;
    }
    eventually("the list is answered", async || asha.page(&list).await.contains("answers.csv").then_some(())).await;
    for path in
        [format!("{list}/answers.csv"), "/desk/numbers/counts.csv".to_owned(), "/desk/accounts/accounts.csv".to_owned()]
    {
        asha.page(&path).await;
    }
    let asked = asha.request(reqwest::Method::POST, "/api/answers").body("{\"text\":\"help\"}\n{\"text\":\"lift 3\"}");
    asked.send().await.unwrap().text().await.unwrap();
    assert_eq!(
        baraka.post("/desk/accounts", &[("id", &uuid::Uuid::nil().to_string()), ("do", "close")]).await.status(),
        403
    );
    baraka.post("/desk/sign-out", &[]).await;
    // A role that is held already, a list that was started: nothing has changed.
    let audit = eventually("all of it is written down", async || {
        let page = asha.page("/desk/audit").await;
        let all = [
            "took away",
            "answers.csv",
            "counts by week",
            "signed out",
            "had texts answered",
            "2 times",
            "refused by the role",
        ];
        all.iter().all(|word| page.contains(word)).then_some(page)
    })
    .await;
    assert_eq!(audit.matches("had a list answered").count(), 1, "{audit}");
}
