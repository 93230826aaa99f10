//! The phone for trying things out: its page, and in a terminal.

use crate::common::{Folder, Service, program, run_with};

fn in_terminal(listen: &str, folder: &Folder, typed: &str) -> (Option<i32>, String, String) {
    let mut command = program();
    command.args(["handset", "--number", "+447700900123"]);
    command.env("NOONWATER_LISTEN", listen).env("NOONWATER_DATA_DIR", folder.path());
    let output = run_with(&mut command, typed.as_bytes());
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (output.status.code(), text(output.stdout), text(output.stderr))
}

#[tokio::test(flavor = "multi_thread")]
async fn the_page_sends_shows_and_counts() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let empty = service.get("/handset").await;
    assert_eq!(empty.headers()["content-type"], "text/html; charset=utf-8");
    assert!(empty.headers()["content-security-policy"].to_str().unwrap().contains("default-src 'none'"));
    let empty = empty.text().await.unwrap();
    let id = empty.split("name=\"id\" value=\"").nth(1).unwrap().split('"').next().unwrap();
    assert!(empty.contains("<label for=\"text\">") && empty.contains("<label for=\"number\">"));
    assert!(!empty.contains("<script"));

    // The same page sent twice is one message.
    let form = format!("number=%2B447700900123&id={id}&text=lift+5+%3Cb%3Ebold%3C%2Fb%3E");
    for _ in 0..2 {
        let sent = service.post_form("/handset", &form).await;
        assert_eq!(sent.status(), 303);
        assert_eq!(sent.headers()["location"], "/handset?number=%2B447700900123#write");
    }
    let page = service.get("/handset?number=%2B447700900123").await.text().await.unwrap();
    assert_eq!(page.matches("class=\"own\"").count(), 1, "{page}");
    assert_eq!(page.matches("class=\"theirs\"").count(), 1);
    assert!(!page.contains("<b>bold") && page.contains("bold"), "what was typed is shown, not obeyed");
    assert!(page.contains("Part 1 of ") && page.contains(" characters"));
    let other = service.get("/handset?number=%2B447700900124").await.text().await.unwrap();
    assert!(!other.contains("bold"), "each phone has its own screen");
}

#[tokio::test(flavor = "multi_thread")]
async fn only_numbers_set_aside_for_fiction_may_be_tried() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    for number in ["%2B255712345678", "%2B4477009001234", "%2B447700901000", "", "%00"] {
        assert_eq!(service.get(&format!("/handset?number={number}")).await.status(), 400, "{number}");
        let form = format!("number={number}&id={}&text=my+draft", uuid::Uuid::now_v7());
        let refused = service.post_form("/handset", &form).await;
        assert_eq!(refused.status(), 400);
        let page = refused.text().await.unwrap();
        assert!(page.contains("role=\"alert\"") && page.contains("my draft"), "nothing typed is lost: {page}");
    }
    let unreadable = service.post_form("/handset", "text=lift").await;
    assert_eq!(unreadable.status(), 400);
}

#[tokio::test(flavor = "multi_thread")]
async fn the_terminal_talks_to_the_service_or_to_the_database() {
    let folder = Folder::new();
    let mut service = Service::start(&folder, "");
    let listen = service.url.trim_start_matches("http://").to_owned();
    let (status, out, err) = in_terminal(&listen, &folder, "lift 5 pipe 40\nhelp\n");
    assert_eq!((status, err.as_str()), (Some(0), ""));
    assert_eq!(out.matches("part 1 of ").count(), 2, "{out}");
    let page = service.get("/handset?number=%2B447700900123").await.text().await.unwrap();
    assert!(page.contains("lift 5 pipe 40"), "it went through the service");
    service.terminate();
    service.wait();

    let (status, out, err) = in_terminal(&listen, &folder, "lift 5 pipe 40\n");
    assert_eq!((status, err.as_str()), (Some(0), ""));
    assert_eq!(out.matches("part 1 of ").count(), 1, "{out}");
    assert!(folder.postmaster().is_none());
}
