//! How far one account reaches alone.

use crate::common::{Folder, Gateway, Service, eventually, line, message, number};
use crate::files::send;
use crate::seat::Seat;

/// Set aside for fiction in North America (memory).
const ELSEWHERE: &str = "+12025550123";

const GOOD: &str = "lift 3 pipe 30 panel 3x100 garden 900";

async fn answered(seat: &Seat<'_>, csv: &str) -> String {
    let brought = send(seat, "list.csv", csv.as_bytes()).await;
    let list = brought.headers()["location"].to_str().unwrap().to_owned();
    seat.post(&list, &[("do", "start")]).await;
    eventually("the list is answered", async || seat.page(&list).await.contains("answers.csv").then_some(())).await;
    list
}

#[tokio::test(flavor = "multi_thread")]
async fn numbers_elsewhere_and_large_lists_want_another_account_s_word() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let config = line("north", &gateway.url) + "[limits]\nparts_alone = 3\n";
    let service = Service::start(&folder, &config);
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;

    let home = answered(&asha, &format!("number,text\n{},{GOOD}\n", number(640))).await;
    asha.post(&home, &[("do", "send"), ("line", "north"), ("count", "1")]).await;
    gateway.wait("a message at home goes at once", |calls| calls.len() == 1).await;

    let many: String = (641..645).map(|index| format!("{},{GOOD}\n", number(index))).collect();
    let lists = [(format!("number,text\n{ELSEWHERE},{GOOD}\n"), "1", 2), (format!("number,text\n{many}"), "4", 6)];
    for (csv, count, calls_then) in lists {
        let list = answered(&asha, &csv).await;
        assert_eq!(asha.post(&list, &[("do", "send"), ("line", "north"), ("count", count)]).await.status(), 303);
        assert!(asha.page(&list).await.contains("Waits for another account"));
        let own = asha.post(&list, &[("do", "confirm")]).await;
        assert_eq!(own.status(), 422, "nobody confirms what they asked for");
        assert_eq!(gateway.calls().len(), calls_then - count.parse::<usize>().unwrap(), "nothing went");
        assert_eq!(baraka.post(&list, &[("do", "confirm")]).await.status(), 303);
        gateway.wait("it goes now", |calls| calls.len() == calls_then).await;
    }
    // Who wrote before is no stranger.
    service.post("/lines/north/inbound", &message("e-1", ELSEWHERE, "help")).await;
    gateway.wait("it is answered", |calls| calls.len() == 7).await;
    let known = answered(&asha, &format!("number,text\n{ELSEWHERE},{GOOD}\n")).await;
    asha.post(&known, &[("do", "send"), ("line", "north"), ("count", "1")]).await;
    gateway.wait("a message to who wrote goes at once", |calls| calls.len() == 8).await;
}
