//! The other rooms: trying out, one set, places, accounts, numbers, and what machines read.

use reqwest::StatusCode;
use serde_json::Value;

use crate::common::{Folder, Gateway, Service, line, message, number};
use crate::seat::Seat;

#[tokio::test(flavor = "multi_thread")]
async fn trying_out_keeps_nothing() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    let fresh = [("text", "lift 5 pipe 40"), ("language", "en"), ("place", "Kito")];
    let page = asha.post("/desk/try", &fresh).await.text().await.unwrap();
    let carried = page.split("name=\"carried\" value=\"").nth(1).unwrap().split('"').next().unwrap();
    let carried = carried.replace("&#34;", "\"").replace("&quot;", "\"").replace("&#38;", "&").replace("&#39;", "'");
    let next = [("text", "5x80"), ("language", "en"), ("place", "Kito"), ("carried", carried.as_str())];
    let page = asha.post("/desk/try", &next).await.text().await.unwrap();
    assert!(page.contains("m3 a day") || page.contains("m3/day"), "the talk went on: {page}");
    let mut connection = Service::connect(&folder).await;
    let kept: i64 = sqlx::query_scalar("select count(*) from talk").fetch_one(&mut connection).await.unwrap();
    assert_eq!(kept, 0);
}

#[tokio::test(flavor = "multi_thread")]
async fn one_set_is_drawn_with_its_numbers() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    let page = asha.page("/desk/set?text=lift+5+pipe+40+panel+5x80+garden+1500+tomato").await;
    assert_eq!(page.matches("<svg role=\"img\"").count(), 5);
    assert_eq!(page.matches("<title id=").count(), 5);
    assert!(page.contains("Paid so far, kt: the set against petrol") && page.contains("From month"), "{page}");
    // A pump that is none of the classes has no price: said, and not drawn.
    let other = asha.page("/desk/set?text=lift+5+pipe+40+panel+5x80+pump+12v+9000+l/h+7m").await;
    assert_eq!(other.matches("<svg role=\"img\"").count(), 4);
    assert!(other.contains("the price list has no price for pump"), "{other}");
    assert!(page.matches("<table>").count() >= 5);
    let wrong = asha.get("/desk/set?text=lift+900").await;
    assert_eq!(wrong.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let lacks = asha.get("/desk/set?text=lift+5+panel+5x80").await.text().await.unwrap();
    assert!(lacks.contains("the length of the pipe is not known") && lacks.contains("lift 5 panel 5x80"), "{lacks}");
}

#[tokio::test(flavor = "multi_thread")]
async fn what_cannot_be_read_is_answered_in_words() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let unread = asha.get("/desk/audit?before=yesterday").await;
    assert_eq!(unread.status(), StatusCode::BAD_REQUEST);
    assert!(unread.text().await.unwrap().contains("This could not be read; go back"));
    let long = "lift 5 ".repeat(300);
    let refused = asha.post("/desk/try", &[("text", &long), ("language", "en"), ("place", "Kito")]).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let page = refused.text().await.unwrap();
    assert!(page.contains("write less") && page.contains(long.trim()), "what was typed stays");
    let huge = asha.post("/desk/prices", &[("currency", &"k".repeat(2_000_000))]).await;
    assert!(huge.text().await.unwrap().contains("larger than the desk takes"));
}

#[tokio::test(flavor = "multi_thread")]
async fn an_account_that_is_closed_is_out_at_once() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;
    let page = asha.page("/desk/accounts").await;
    let id = page.split("<td>Baraka</td>").nth(1).unwrap().split("name=\"id\" value=\"").nth(1).unwrap();
    let id = id.split('"').next().unwrap();
    assert_eq!(baraka.post("/desk/accounts", &[("id", id), ("do", "close")]).await.status(), StatusCode::FORBIDDEN);
    // Roles by a file: all or none, the line named.
    let roles = async |seat: &Seat<'_>, text: &str| seat.post("/desk/accounts/roles", &[("text", text)]).await;
    assert_eq!(roles(&baraka, "name,role\nBaraka,runs\n").await.status(), StatusCode::FORBIDDEN);
    for (text, wanted) in [
        ("name,role\nBaraka,reads\nNobody,reads\n", "Line 3"),
        ("name,role\nBaraka,king\n", "is no role"),
        ("who,what\nBaraka,reads\n", "name the columns"),
        ("name,role\nAsha,reads\n", "own account"),
    ] {
        let refused = roles(&asha, text).await;
        assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
        let page = refused.text().await.unwrap();
        assert!(page.contains(wanted) && page.contains(text.lines().last().unwrap()), "{page}");
    }
    assert_eq!(roles(&asha, "name,role\nBaraka,reads\nAsha,runs\n").await.status(), 303);
    let taken = asha.page("/desk/accounts/accounts.csv").await;
    assert!(taken.starts_with("name,role,since,closed\n") && taken.contains("Baraka,reads,"), "{taken}");
    assert_eq!(asha.post("/desk/accounts", &[("id", id), ("do", "role"), ("role", "runs")]).await.status(), 303);
    assert_eq!(asha.post("/desk/accounts", &[("id", id), ("do", "close")]).await.status(), 303);
    assert_eq!(baraka.get("/desk/waiting").await.status(), 303);
}

#[tokio::test(flavor = "multi_thread")]
async fn messages_are_counted_and_the_counts_taken_away() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    for (id, text) in [("1", "lift 5 pipe 40 panel 5x80 garden 1500 tomato"), ("2", "lift 900"), ("3", "person")] {
        service.post("/lines/north/inbound", &message(id, &number(630), text)).await;
    }
    let page = asha.page("/desk/numbers").await;
    assert!(page.contains("By crop") && page.contains("tomato") && page.contains("out of range"), "{page}");
    assert_eq!(asha.get("/desk/numbers/counts.csv?split=line").await.status(), StatusCode::NOT_FOUND);
    let csv = asha.page("/desk/numbers/counts.csv?split=crop").await;
    let row = csv.lines().find(|row| row.starts_with("tomato,")).unwrap();
    assert!(row.starts_with("tomato,3,1,1,0,1,0.15,"), "{row}");

    let metrics = service.get("/metrics").await.text().await.unwrap();
    assert!(metrics.contains("\nnoonwater_messages_total 3\n") && metrics.contains("\nnoonwater_waiting_talks 1\n"));
    gateway.wait("all are out", |calls| calls.len() >= 2).await;
    crate::common::eventually("the tries are counted", async || {
        let metrics = service.get("/metrics").await.text().await.unwrap();
        let taken = metrics.lines().find(|line| line.starts_with("noonwater_tries_total{") && line.contains("\"taken\""));
        taken.is_some_and(|line| line.contains("line=\"north\"")).then_some(())
    })
    .await;
    assert_eq!(service.post("/lines/north/inbound", &message("4", "0700", "lift 3")).await.status(), 400);
    // Every figure that somebody is woken over is there, in the library's counts and in the database's.
    let metrics = service.get("/metrics").await.text().await.unwrap();
    assert!(metrics.contains("noonwater_requests_refused_total{status=\"400\"} 1"), "{metrics}");
    let rules = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/.ops/alerts.yml")).unwrap();
    let expressions = rules.lines().filter_map(|line| line.trim().strip_prefix("expr: "));
    let figures = expressions.flat_map(|expression| expression.split(|c: char| !c.is_ascii_alphanumeric() && c != '_'));
    let figures: std::collections::BTreeSet<&str> = figures.filter(|word| word.starts_with("noonwater_")).collect();
    assert!(figures.len() >= 12, "{figures:?}");
    for figure in figures {
        let family = figure.trim_end_matches("_bucket");
        assert!(metrics.contains(&format!("# TYPE {family} ")), "{figure} is not among the figures: {metrics}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_path_described_for_machines_is_there() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let surface: Value = service.get("/openapi.json").await.json().await.unwrap();
    assert_eq!(surface["openapi"], "3.1.0");
    for (path, methods) in surface["paths"].as_object().unwrap() {
        for method in methods.as_object().unwrap().keys() {
            let method = reqwest::Method::from_bytes(method.to_uppercase().as_bytes()).unwrap();
            let url = format!("{}{}", service.url, path.replace("{line}", "north"));
            let answer = service.client.request(method.clone(), url).send().await.unwrap();
            let is_line = path.contains("{line}");
            assert!(is_line || ![404, 405].contains(&answer.status().as_u16()), "{method} {path}: {}", answer.status());
        }
    }
    let page = service.get("/api").await.text().await.unwrap();
    assert!(page.contains("/api/answers") && page.contains("/lines/{line}/inbound"));
}
