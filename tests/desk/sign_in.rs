//! Who gets in, and what each role may.

use reqwest::header;

use crate::common::{Folder, Service};
use crate::seat::{PASSWORD, Seat, add_staff, run, try_sign_in};

#[tokio::test(flavor = "multi_thread")]
async fn only_who_has_an_account_gets_in() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    for path in ["/desk/waiting", "/desk/waiting/events", "/desk/audit"] {
        let answer = service.get(path).await;
        assert_eq!(answer.status(), 303, "{path}");
        assert!(answer.headers()["location"].to_str().unwrap().starts_with("/desk/sign-in"));
    }
    add_staff(&folder, "Asha", "answers");
    let wrong = try_sign_in(&service, "Asha", "not the password").await;
    assert_eq!(wrong.status(), 422);
    let unknown = try_sign_in(&service, "Baraka", PASSWORD).await;
    assert_eq!(unknown.status(), 422);
    let sentence = "The name or the password is wrong";
    assert!(wrong.text().await.unwrap().contains(sentence) && unknown.text().await.unwrap().contains(sentence));

    let asha = Seat::sign_in(&service, "ASHA ").await;
    assert!(asha.page("/desk/waiting").await.contains("Asha"));
    assert_eq!(asha.post("/desk/sign-out", &[]).await.status(), 303);
    assert_eq!(asha.get("/desk/waiting").await.status(), 303, "the session is over at the service too");
    // After signing in one comes to where one wanted to go, and nowhere outside.
    for (then, to) in [("/desk/audit", "/desk/audit"), ("https://elsewhere.test/desk/", "/desk/waiting")] {
        let body = crate::seat::form(&[("name", "Asha"), ("password", PASSWORD), ("then", then)]);
        let answer = service.post_form("/desk/sign-in", &body).await;
        assert_eq!(answer.headers()["location"], to);
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn wrong_passwords_make_a_name_wait() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "answers");
    let mut connection = Service::connect(&folder).await;
    for name in ["Asha", "nobody-here"] {
        for times in 0..3 {
            if times == 2 {
                // Many more wrong ones before, so that the pause is long however slow the machine is.
                let much = "update sign_in_try set failures = 12 where name_key = $1";
                sqlx::query(much).bind(name.to_lowercase()).execute(&mut connection).await.unwrap();
            }
            let answer = try_sign_in(&service, name, "not the password").await.text().await.unwrap();
            assert!(answer.contains("The name or the password is wrong"), "{answer}");
        }
        let answer = try_sign_in(&service, name, PASSWORD).await;
        assert_eq!(answer.status(), 422);
        assert!(answer.text().await.unwrap().contains("try again in"), "{name}: even the right one waits");
    }
    add_staff(&folder, "Baraka", "answers");
    Seat::sign_in(&service, "Baraka").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_form_from_another_site_is_refused() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    for (name, value) in [("sec-fetch-site", "cross-site"), ("origin", "https://elsewhere.test")] {
        let request = asha.request(reqwest::Method::POST, "/desk/sign-out").header(name, value);
        assert_eq!(request.send().await.unwrap().status(), 403, "{name}");
    }
    asha.page("/desk/waiting").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn accounts_are_made_on_the_server_and_checked() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "runs");
    for (arguments, input, says) in [
        (&["staff", "add", "asha"][..], format!("{PASSWORD}\n"), "an account of this name exists"),
        (&["staff", "add", "Baraka"], "short\n".to_owned(), "fewer than 15 characters"),
        (&["staff", "add", " "], format!("{PASSWORD}\n"), "the name is empty"),
        (&["staff", "add", "Baraka", "--role", "owns"], format!("{PASSWORD}\n"), "runs"),
    ] {
        let done = run(&folder, arguments, input.as_bytes());
        assert_eq!(done.status.code(), Some(2), "{arguments:?}");
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert!(said.contains(says), "{said}");
    }
    // No password is kept, and none stands in the audit.
    let mut connection = Service::connect(&folder).await;
    let kept: String = sqlx::query_scalar("select password from staff").fetch_one(&mut connection).await.unwrap();
    assert!(kept.starts_with("$argon2id$"), "{kept}");
    let cookie = Seat::sign_in(&service, "Asha").await.cookie;
    let (_, key) = cookie.split_once('=').unwrap();
    let kept: Vec<u8> = sqlx::query_scalar("select key_hash from staff_session").fetch_one(&mut connection).await.unwrap();
    assert_ne!(kept, key.as_bytes(), "only a hash of the session's key is kept");
    let reached = service.client.get(format!("{}/desk/waiting", service.url)).header(header::COOKIE, "noonwater_desk=x");
    assert_eq!(reached.send().await.unwrap().status(), 303);
}
