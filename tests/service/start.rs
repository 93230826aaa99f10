//! How the service starts, refuses to start, and ends.

use std::process::Output;

use crate::common::{Folder, Service, line, program, run_to_end};

fn refused(folder: &Folder, config: &str, environment: &[(&str, &str)]) -> (Option<i32>, String) {
    let output: Output = run_to_end(&mut Service::command(folder, config, environment));
    let stderr = String::from_utf8(output.stderr).unwrap();
    let sentences: Vec<&str> = stderr.lines().filter(|line| line.starts_with("noonwater: ")).collect();
    assert_eq!(sentences.len(), 1, "one sentence: {stderr}");
    assert!(output.stdout.is_empty());
    (output.status.code(), sentences[0].to_owned())
}

#[tokio::test(flavor = "multi_thread")]
async fn it_runs_without_any_configuration_and_ends_well() {
    let folder = Folder::new();
    let mut service = Service::start(&folder, "");
    assert_eq!(service.get("/healthz").await.status(), 200);
    assert_eq!(service.get("/readyz").await.status(), 200);
    assert!(service.stdout.contains("/handset"));
    service.terminate();
    assert_eq!(service.wait().code(), Some(0));
    assert!(folder.postmaster().is_none());
}

#[tokio::test(flavor = "multi_thread")]
async fn a_lost_database_shows_and_is_not_lived_without() {
    let folder = Folder::new();
    let mut service = Service::start(&folder, "");
    nix::sys::signal::kill(folder.postmaster().unwrap(), nix::sys::signal::Signal::SIGINT).unwrap();
    assert_eq!(service.wait().code(), Some(1));
    assert!(service.stderr().contains("PostgreSQL ended"), "{}", service.stderr());
}

#[test]
fn a_wrong_configuration_is_named() {
    let folder = Folder::new();
    for (config, environment, key) in [
        ("lisen = 1", &[][..], "`lisen`"),
        ("", &[("NOONWATER_LISTEN", "here")][..], "`NOONWATER_LISTEN`"),
        ("", &[("NOONWATER_LINES__NORTH__SECRT", "hush")][..], "`NOONWATER_LINES__NORTH__SECRT`"),
        ("", &[("DATABASE_URL", "file:///hush")][..], "`DATABASE_URL`"),
        ("", &[("PG_BIN", "/nowhere")][..], "PG_BIN"),
        ("not toml", &[][..], "line 1"),
    ] {
        let (status, sentence) = refused(&folder, config, environment);
        assert_eq!(status, Some(2), "{sentence}");
        assert!(sentence.contains(key) && !sentence.contains("hush"), "{key}: {sentence}");
    }
    let missing = run_to_end(program().args(["serve", "--config", "/nowhere/kito.toml"]));
    assert_eq!(missing.status.code(), Some(2));
    assert!(String::from_utf8(missing.stderr).unwrap().contains("/nowhere/kito.toml"));
}

#[test]
fn a_machine_without_certificates_runs_unencrypted_lines_only() {
    let none = [("SSL_CERT_FILE", "/nowhere"), ("SSL_CERT_DIR", "/nowhere")];
    let folder = Folder::new();
    let plain = line("north", "http://127.0.0.1:9/out");
    Service::start_with(&folder, &plain, &none);
    let (status, sentence) = refused(&folder, &plain.replace("http:", "https:"), &none);
    assert_eq!(status, Some(2));
    assert!(sentence.contains("`lines.north.outbound_url`") && sentence.contains("ca-certificates"), "{sentence}");
}

#[test]
fn a_filter_of_the_log_that_says_nothing_is_refused() {
    let (status, sentence) = refused(&Folder::new(), "", &[("RUST_LOG", "verbose")]);
    assert_eq!(status, Some(2));
    assert!(sentence.contains("RUST_LOG"), "{sentence}");
}

#[test]
fn an_unknown_home_place_offers_the_atlas_too() {
    let (status, sentence) = refused(&Folder::new(), "", &[("NOONWATER_HOME_PLACE", "Nowhere")]);
    assert_eq!(status, Some(2));
    assert!(sentence.contains("Kito") && sentence.contains("atlas"), "{sentence}");
}

#[tokio::test(flavor = "multi_thread")]
async fn each_line_of_the_log_has_its_keys_once() {
    let folder = Folder::new();
    let gateway = crate::common::Gateway::accepting().await;
    let mut service = Service::start(&folder, &line("north", &gateway.url));
    let sent = crate::common::message("l-1", &crate::common::number(82), "lift 3");
    service.post("/lines/north/inbound", &sent).await;
    gateway.wait("it is answered", |calls| calls.len() == 1).await;
    service.terminate();
    service.wait();
    let log = service.stderr();
    let answered = log.lines().find(|line| line.contains("\"message\":\"answered\"")).expect("the event by its name");
    assert_eq!(answered.matches("\"message\":").count(), 1, "{answered}");
}

#[tokio::test(flavor = "multi_thread")]
async fn the_doors_for_trying_and_watching_are_who_s_the_configuration_says() {
    let folder = Folder::new();
    let made = run_to_end(program().args(["key", "add", "figures"]).env("NOONWATER_DATA_DIR", folder.path()));
    let key = String::from_utf8(made.stdout).unwrap().trim().to_owned();
    let service = Service::start(&folder, "handset = \"staff\"\nmetrics = \"staff\"");
    for path in ["/handset", "/metrics"] {
        assert_eq!(service.get(path).await.status(), 401, "{path}");
        let known = service.client.get(format!("{}{path}", service.url)).bearer_auth(&key).send().await.unwrap();
        assert_eq!(known.status(), 200, "{path}");
    }
    drop(service);
    let service = Service::start(&folder, "handset = \"open\"\nmetrics = \"closed\"");
    assert_eq!(service.get("/metrics").await.status(), 404);
    assert_eq!(service.get("/handset").await.status(), 200);
}

#[test]
fn a_port_in_use_is_said_in_a_sentence() {
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    let (status, sentence) = refused(&Folder::new(), "", &[("NOONWATER_LISTEN", &address)]);
    assert_eq!(status, Some(1));
    assert!(sentence.contains(&address), "{sentence}");
}

#[test]
fn two_services_do_not_share_a_folder() {
    let folder = Folder::new();
    let _first = Service::start(&folder, "");
    let (status, sentence) = refused(&folder, "", &[]);
    assert_eq!(status, Some(1));
    assert!(sentence.contains("in use by another noonwater"), "{sentence}");
}

#[test]
fn every_command_shows_an_example() {
    for command in [&["--help"][..], &["serve", "--help"], &["handset", "--help"]] {
        let output = run_to_end(program().args(command));
        assert_eq!(output.status.code(), Some(0));
        let help = String::from_utf8(output.stdout).unwrap();
        assert!(help.contains("Example:\n") && help.contains("noonwater "), "{help}");
    }
    assert_eq!(run_to_end(program().arg("srve")).status.code(), Some(2));
}
