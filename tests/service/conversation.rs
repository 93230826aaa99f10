//! A grower's conversation over real HTTP, a real PostgreSQL and a gateway, and a place imported while the service runs.

use crate::common::{Folder, Gateway, Service, line, message, number, program, run_to_end};

#[tokio::test(flavor = "multi_thread")]
async fn a_grower_sends_what_is_asked_and_gets_an_answer_and_a_corrected_one() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let asha = number(21);
    let said = [
        ("lift 5", "panels"),
        ("3x100", "pipe"),
        ("40 garden 1500", "ENOUGH"),
        ("pipe 60 bore 19 garden 9000", "TOO LITTLE"),
        ("stop", "no more"),
    ];
    for (at, (text, wanted)) in said.iter().enumerate() {
        let posted = service.post("/lines/north/inbound", &message(&format!("c-{at}"), &asha, text)).await;
        assert_eq!(posted.status(), 202);
        let calls = gateway.wait("the reply", |calls| calls.len() > at).await;
        let reply = calls[at].body["text"].as_str().expect("a text");
        assert!(reply.contains(wanted), "{wanted:?} is not in {reply:?}");
        assert!(calls[at].body["parts"].as_u64().expect("a count") <= 2);
    }
    // Opted out: stored, and answered with nothing.
    service.post("/lines/north/inbound", &message("c-9", &asha, "lift 6")).await;
    service.post("/lines/north/inbound", &message("c-10", &number(22), "help")).await;
    let calls = gateway.wait("the other number's reply", |calls| calls.iter().any(|call| call.to() == number(22))).await;
    assert_eq!(calls.iter().filter(|call| call.to() == asha).count(), said.len());
}

#[tokio::test(flavor = "multi_thread")]
async fn a_place_imported_beside_the_service_is_known_to_the_next_message() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let file = folder.path().join("upper.json");
    let upper = noonwater::demo::PLACE_JSON.replace("\"Kito\"", "\"Upper Kito\"").replace("1200", "1900");
    std::fs::write(&file, upper).expect("a file");
    let mut import = program();
    import.args(["place", "import"]).arg(&file).env("NOONWATER_DATA_DIR", folder.path());
    let output = run_to_end(&mut import);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));

    let mut list = program();
    list.args(["place", "list"]).env("NOONWATER_DATA_DIR", folder.path());
    let listed = String::from_utf8(run_to_end(&mut list).stdout).expect("text");
    assert!(listed.contains("Kito") && listed.contains("Upper Kito"), "{listed}");

    // The service hears of it by a signal; until then a place that it does not know is asked about.
    let mut tries = 0;
    let known = loop {
        let id = format!("p-{tries}");
        service.post("/lines/north/inbound", &message(&id, &number(31 + tries), "place upper kito")).await;
        let calls = gateway.wait("a reply", |calls| calls.len() > tries as usize).await;
        let reply = calls.last().expect("a call").body["text"].as_str().expect("a text").to_owned();
        if !reply.contains("do not know") || tries > 200 {
            break reply;
        }
        tries += 1;
    };
    assert!(known.contains("Upper Kito") || known.contains("upper kito"), "{known}");
}
