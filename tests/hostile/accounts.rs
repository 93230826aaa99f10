//! Accounts, passwords, keys: who may change what, and what ends with it.

use std::time::Duration;

use chrono::Utc;
use noonwater::store::Store;

use crate::common::{Folder, Service, run_with};
use crate::seat::{PASSWORD, Seat, add_staff, run, try_sign_in};

const NEW: &str = "stones under the moon 7";

async fn id_of(folder: &Folder, name: &str) -> String {
    let mut connection = Service::connect(folder).await;
    let id: uuid::Uuid =
        sqlx::query_scalar("select id from staff where name = $1").bind(name).fetch_one(&mut connection).await.unwrap();
    id.to_string()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_changed_password_ends_every_session() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    let elsewhere = Seat::sign_in(&service, "Asha").await;
    for (now, new, again, says) in [
        (PASSWORD, "short", "short", "fewer than 15 characters"),
        (PASSWORD, "password12345678", "password12345678", "first that are tried"),
        (PASSWORD, NEW, "another one than that", "two ways"),
        ("not the password of now", NEW, NEW, "password of now is wrong"),
        (PASSWORD, PASSWORD, PASSWORD, "choose another"),
    ] {
        let refused = asha.post("/desk/password", &[("now", now), ("new", new), ("again", again)]).await;
        assert_eq!(refused.status(), 422);
        let page = refused.text().await.unwrap();
        assert!(page.contains(says), "{says}: {page}");
    }
    let changed = asha.post("/desk/password", &[("now", PASSWORD), ("new", NEW), ("again", NEW)]).await;
    assert_eq!(changed.status(), 303);
    for seat in [&asha, &elsewhere] {
        assert_eq!(seat.get("/desk/waiting").await.status(), 303, "the session has ended");
    }
    assert_eq!(try_sign_in(&service, "Asha", PASSWORD).await.status(), 422);
    assert_eq!(try_sign_in(&service, "Asha", NEW).await.status(), 303);
    // By the command too.
    let done = run(&folder, &["staff", "password", "asha"], b"four hoses and a bucket\n");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    assert_eq!(try_sign_in(&service, "Asha", "four hoses and a bucket").await.status(), 303);
    assert_eq!(run(&folder, &["staff", "password", "nobody"], b"four hoses and a bucket\n").status.code(), Some(2));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_password_set_by_another_is_changed_first() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;
    let id = id_of(&folder, "Baraka").await;
    for what in ["reset", "close", "reopen"] {
        let page = asha.post("/desk/accounts", &[("id", &id), ("do", what)]).await.text().await.unwrap();
        assert_eq!(baraka.get("/desk/waiting").await.status(), 303, "{what} ends the sessions");
        if what == "close" {
            continue;
        }
        let first = page.split("<strong>Baraka</strong> <code>").nth(1).unwrap().split('<').next().unwrap().to_owned();
        let answer = try_sign_in(&service, "Baraka", &first).await;
        let cookie = answer.headers()["set-cookie"].to_str().unwrap().split(';').next().unwrap().to_owned();
        let seat = Seat { service: &service, cookie };
        for path in ["/desk/waiting", "/desk/numbers/counts.csv", "/desk/events"] {
            let answer = seat.get(path).await;
            assert_eq!(
                (answer.status().as_u16(), &answer.headers()["location"]),
                (303, &"/desk/password".parse().unwrap())
            );
        }
        assert_eq!(seat.request(reqwest::Method::POST, "/api/answers").body("[]").send().await.unwrap().status(), 401);
        let new = format!("{NEW} {what}");
        seat.post("/desk/password", &[("now", &first), ("new", &new), ("again", &new)]).await;
        assert_eq!(try_sign_in(&service, "Baraka", &new).await.status(), 303);
        assert_eq!(try_sign_in(&service, "Baraka", &first).await.status(), 422);
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_sign_in_that_is_under_way_does_not_outlive_the_password() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "answers");
    let store = Store::open(Service::options(&folder)).await.unwrap();
    // The password was looked at; then another one was set.
    let secret = store.staff_secret("Asha").await.unwrap().unwrap();
    let mut step = store.begin().await.unwrap();
    step.set_password(secret.id, "another hash", false).await.unwrap();
    step.commit().await.unwrap();
    let mut step = store.begin().await.unwrap();
    assert!(!step.begin_session(&secret, b"a key", Utc::now(), Duration::from_secs(60)).await.unwrap());
}

#[tokio::test(flavor = "multi_thread")]
async fn somebody_always_runs_the_place() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "runs").await;
    let (asha_id, baraka_id) = (id_of(&folder, "Asha").await, id_of(&folder, "Baraka").await);
    let mut connection = Service::connect(&folder).await;
    for _ in 0..8 {
        // Each lowers the other at the same moment.
        let one = [("id", baraka_id.as_str()), ("do", "role"), ("role", "reads")];
        let other = [("id", asha_id.as_str()), ("do", "role"), ("role", "reads")];
        let both =
            futures_util::future::join(asha.post("/desk/accounts", &one), baraka.post("/desk/accounts", &other)).await;
        let run: i64 = sqlx::query_scalar("select count(*) from staff where role = 'runs' and closed_at is null")
            .fetch_one(&mut connection)
            .await
            .unwrap();
        assert_eq!(run, 1, "{} {}", both.0.status(), both.1.status());
        sqlx::query("update staff set role = 'runs'").execute(&mut connection).await.unwrap();
    }
    // Nor by a file of roles.
    sqlx::query("update staff set role = 'reads' where name = 'Baraka'").execute(&mut connection).await.unwrap();
    let refused = baraka.post("/desk/accounts/roles", &[("text", "name,role\nAsha,reads\n")]).await;
    assert_eq!(refused.status(), 403);
}

#[tokio::test(flavor = "multi_thread")]
async fn names_that_look_alike_are_refused() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "reads");
    for name in ["Аsha", "Ash\u{200b}a", "Asha\u{202e}", "А\u{455}\u{4bb}а", "Asha.", "\u{1b}[2JAsha"] {
        let done = run(&folder, &["staff", "add", name], format!("{PASSWORD}\n").as_bytes());
        assert_eq!(done.status.code(), Some(2), "{name:?}: {}", String::from_utf8_lossy(&done.stderr));
    }
    let weak = run(&folder, &["staff", "add", "Baraka"], b"BarakaBaraka123\n");
    assert_eq!(weak.status.code(), Some(2));
}

#[tokio::test(flavor = "multi_thread")]
async fn keys_end_and_tell_when_they_were_used() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let made = run(&folder, &["key", "add", "survey", "--days", "90"], b"");
    let key = String::from_utf8(made.stdout).unwrap().trim().to_owned();
    let ask = || service.client.post(format!("{}/api/answers", service.url)).bearer_auth(&key).body("[]").send();
    assert_eq!(ask().await.unwrap().status(), 200);
    let mut connection = Service::connect(&folder).await;
    let (days, is_used): (i32, bool) = sqlx::query_as(
        "select extract(day from expires_at - created_at)::int, last_used_at > now() - interval '1 minute' from api_key",
    )
    .fetch_one(&mut connection)
    .await
    .unwrap();
    assert_eq!((days, is_used), (90, true));
    sqlx::query("update api_key set expires_at = now()").execute(&mut connection).await.unwrap();
    assert_eq!(ask().await.unwrap().status(), 401);
}

#[tokio::test(flavor = "multi_thread")]
async fn streams_end_with_their_account_and_are_not_without_end() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let baraka = Seat::take(&service, &folder, "Baraka", "answers").await;
    let mut open = Vec::new();
    for _ in 0..40 {
        let answer = baraka.get("/desk/events").await;
        if answer.status() != 200 {
            assert_eq!(answer.status(), 503);
            break;
        }
        open.push(answer);
    }
    assert_eq!(open.len(), 32);
    let id = id_of(&folder, "Baraka").await;
    asha.post("/desk/accounts", &[("id", &id), ("do", "close")]).await;
    for mut stream in open {
        let end = async { while let Ok(Some(_)) = stream.chunk().await {} };
        tokio::time::timeout(Duration::from_secs(5), end).await.expect("the stream ends with its account");
    }
}

#[test]
fn secrets_of_lines_have_a_least_length() {
    let folder = Folder::new();
    for (listen, secret, code) in [("127.0.0.1:0", "short", Some(2)), ("0.0.0.0:0", "change-me-please", Some(2))] {
        let config = format!("[lines.menu]\nkind = \"ussd\"\nnumber = \"150\"\nsecret = \"{secret}\"\n");
        let done = run_with(&mut Service::command(&folder, &config, &[("NOONWATER_LISTEN", listen)]), b"");
        assert_eq!(done.status.code(), code);
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert!(said.contains("lines.menu.secret") && said.contains("too short"), "{said}");
    }
}
