//! Tries to sign in: what they may take, whom they may hold up, and where they are seen.

use reqwest::{Response, header};

use crate::common::{Folder, Service, eventually, peak_kib};
use crate::seat::{PASSWORD, Seat, add_staff, form};

/// The tests stand where a proxy would.
pub const PROXIED: &str = "trusted_proxies = [\"127.0.0.1\"]\n";

pub async fn try_from(service: &Service, from: &str, name: &str, password: &str) -> Response {
    let call = service.client.post(format!("{}/desk/sign-in", service.url));
    let call = call.header("x-forwarded-for", from).header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    call.body(form(&[("name", name), ("password", password)])).send().await.expect("an answer")
}

/// Wrong tries, eight at once, each from an address of its own (RFC 2544's range for measuring).
pub async fn wrong_tries(service: &Service, count: u32) {
    for first in (0..count).step_by(8) {
        let tries = (first..count.min(first + 8)).map(|n| async move {
            let from = format!("198.18.{}.{}", n / 256, n % 256);
            try_from(service, &from, &format!("stranger-{n}"), "not the password at all").await.status()
        });
        for status in futures_util::future::join_all(tries).await {
            assert!(status == 422 || status == 503, "{status}");
        }
    }
}

/// Many more wrong tries before, so that the pause is long however slow the machine is.
async fn guessed_long(folder: &Folder) {
    let mut connection = Service::connect(folder).await;
    let much = "update sign_in_try set failures = 12, not_before = last_at";
    sqlx::query(much).execute(&mut connection).await.unwrap();
}

#[tokio::test(flavor = "multi_thread")]
async fn wrong_tries_take_no_memory_for_good() {
    let folder = Folder::new();
    let service = Service::start(&folder, PROXIED);
    let process = service.pid().as_raw().unsigned_abs();
    let before = peak_kib(process);
    wrong_tries(&service, 96).await;
    let grown = peak_kib(process) - before;
    // Two hashes of 19 MiB at once (argon2's default), and a little for the requests.
    assert!(grown < 56 * 1024, "{grown} KiB by 96 wrong tries");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_stranger_holds_up_no_name_and_no_other_address() {
    let folder = Folder::new();
    let service = Service::start(&folder, PROXIED);
    add_staff(&folder, "Asha", "answers");
    for times in 0..4 {
        if times == 3 {
            guessed_long(&folder).await;
        }
        try_from(&service, "198.51.100.7", "Asha", "not the password at all").await;
    }
    let put_off = try_from(&service, "198.51.100.7", "Asha", PASSWORD).await.text().await.unwrap();
    assert!(put_off.contains("try again in"), "who guesses waits");
    assert_eq!(try_from(&service, "198.51.100.8", "Asha", PASSWORD).await.status(), 303, "Asha does not");

    // Whatever names are typed, one address has so many tries.
    let mut is_put_off = false;
    for n in 0..60 {
        let answer = try_from(&service, "198.51.100.9", &format!("name-{n}"), "x").await.text().await.unwrap();
        is_put_off |= answer.contains("Too many tries from here");
    }
    assert!(is_put_off);
    assert_eq!(try_from(&service, "198.51.100.10", "Asha", PASSWORD).await.status(), 303);
}

#[tokio::test(flavor = "multi_thread")]
async fn nobody_says_where_they_come_from_without_a_proxy() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    add_staff(&folder, "Asha", "answers");
    for n in 0..3 {
        if n == 2 {
            guessed_long(&folder).await;
        }
        try_from(&service, &format!("198.51.100.{n}"), "Asha", "not the password at all").await;
    }
    let answer = try_from(&service, "198.51.100.99", "Asha", PASSWORD).await.text().await.unwrap();
    assert!(answer.contains("try again in"), "all of them came from one address");
}

#[tokio::test(flavor = "multi_thread")]
async fn wrong_tries_are_seen_in_the_audit_and_in_the_figures() {
    let folder = Folder::new();
    let service = Service::start(&folder, PROXIED);
    let asha = Seat::take(&service, &folder, "Asha", "reads").await;
    for _ in 0..3 {
        try_from(&service, "198.51.100.7", "Asha", "not the password at all").await;
    }
    try_from(&service, "198.51.100.7", "my secret words", "x").await;
    let figures = service.get("/metrics").await.text().await.unwrap();
    assert!(figures.contains("noonwater_sign_ins_total{outcome=\"wrong\"} 4"), "{figures}");
    let audit = eventually("the tries are written down", async || {
        Some(asha.page("/desk/audit").await).filter(|page| page.contains("gave a wrong password"))
    })
    .await;
    assert!(audit.contains("198.51.100.7: ") && audit.contains("(nobody)"), "{audit}");
    assert!(!audit.contains("my secret words"), "what is typed for a name may be a password");
}
