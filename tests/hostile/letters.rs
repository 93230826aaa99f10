//! Characters that are not seen: refused where they would be kept, not shown where they are printed.

use reqwest::StatusCode;

use crate::common::{Folder, Service};
use crate::seat::{Seat, run};

#[tokio::test(flavor = "multi_thread")]
async fn names_with_characters_that_are_not_seen_are_not_kept() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    let file = |name: &str| {
        let path = folder.path().join("place.json");
        std::fs::write(&path, noonwater::demo::PLACE_JSON.replace("\"Kito\"", &serde_json::json!(name).to_string()))
            .unwrap();
        path.to_string_lossy().into_owned()
    };
    for name in ["Ki\u{1b}[2Jto", "Kito\u{202e}", "Ki\nto", "Ki\u{200b}to", "Ki\0to"] {
        let done = run(&folder, &["place", "import", &file(name)], b"");
        assert_eq!(done.status.code(), Some(2), "{name:?}");
        assert!(!String::from_utf8_lossy(&done.stderr).contains(['\u{1b}', '\u{202e}', '\0']), "{name:?}");
    }
    let prices = folder.path().join("prices.toml");
    std::fs::write(&prices, "currency = \"k\\u001Bt\"\ncart = \"45\"\n").unwrap();
    assert_eq!(run(&folder, &["price", "import", &prices.to_string_lossy()], b"").status.code(), Some(2));
    let hidden = crate::files::send(&asha, "a.csv", "text,\u{202e}name\nlift 3,x\n".as_bytes()).await;
    assert_eq!(hidden.status(), StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test(flavor = "multi_thread")]
async fn what_was_kept_before_is_not_printed() {
    let folder = Folder::new();
    let _service = Service::start(&folder, "");
    let mut connection = Service::connect(&folder).await;
    let source = "update place set source = 'a' || chr(27) || '[2J' || chr(8238) || 'b'";
    sqlx::query(source).execute(&mut connection).await.unwrap();
    let listed = run(&folder, &["place", "list"], b"");
    let listed = String::from_utf8(listed.stdout).unwrap();
    assert!(listed.contains("Kito") && !listed.contains(['\u{1b}', '\u{202e}']), "{listed:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_nul_is_the_form_s_fault_and_not_the_database_s() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "runs").await;
    for path in ["/desk/talks?q=%00", "/desk/talks?text=%00", "/desk/waiting?language=%00", "/desk/numbers?split=%00"] {
        let status = asha.get(path).await.status();
        assert!(!status.is_server_error(), "{path}: {status}");
    }
    for (path, fields) in [
        ("/desk/pumps", [("name", "a\0b"), ("label_v", "12")]),
        ("/desk/talks", [("number", "+447700900001\0"), ("text", "a\0b")]),
        ("/desk/try", [("text", "lift\0 3"), ("number", "\0")]),
    ] {
        let status = asha.post(path, &fields).await.status();
        assert!(!status.is_server_error(), "{path}: {status}");
    }
}
