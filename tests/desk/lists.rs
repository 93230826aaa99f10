//! Lists as ordinary spreadsheets write them: seen in a real browser, from the file to the sent messages.

use std::path::Path;

use fantoccini::Locator;

use crate::browser::Browser;
use crate::common::{Folder, Gateway, Service, eventually, line, number};
use crate::seat::add_staff;

/// A file of the committed examples.
fn example(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/lists").join(name).to_string_lossy().into_owned()
}

async fn bring(asha: &Browser, service: &Service, file: &str) -> String {
    asha.client.goto(&format!("{}/desk/bulk", service.url)).await.unwrap();
    asha.client.find(Locator::Id("file")).await.unwrap().send_keys(&example(file)).await.unwrap();
    asha.press("form.card button").await;
    asha.client.wait().for_element(Locator::Id("list-rows")).await.unwrap();
    asha.source().await
}

#[tokio::test(flavor = "multi_thread")]
async fn what_spreadsheets_write_is_read_and_said() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    add_staff(&folder, "Asha", "answers");
    let asha = Browser::open(1280, true).await;
    asha.sign_in(&service, "Asha").await;
    let page = bring(&asha, &service, "semicolons-latin1.csv").await;
    assert!(page.contains("parted by semicolons") && page.contains("Latin-1"), "{page}");
    assert!(page.contains("Aminé") || page.contains("lift 3 m"), "{page}");
    let page = bring(&asha, &service, "title-and-columns.csv").await;
    assert!(page.contains("a title stands above"), "{page}");
    assert!(page.contains("lift 3 m") && page.contains("pipe 30 m"), "columns called as fields: {page}");
    let page = bring(&asha, &service, "tabs.csv").await;
    assert!(page.contains("parted by tabs"), "{page}");

    // Pasted from a spreadsheet: numbers as they are dialled here, one twice, one that is none.
    asha.client.goto(&format!("{}/desk/bulk", service.url)).await.unwrap();
    let cells = "07700 900691\\tlift 3 pipe 30 panel 3x100 garden 900\\n07700 900692\\tlift 3 pipe 30 panel 3x100 garden 800\\n\
                 +44 7700 900691\\tlift 4 pipe 30 panel 3x100 garden 900\\n0000000\\tlift 3 pipe 30 panel 3x100 garden 700\\n";
    let paste = format!("document.getElementById('lines').value = \"{cells}\"");
    asha.client.execute(&paste, Vec::new()).await.unwrap();
    asha.press("form.card button").await;
    asha.client.wait().for_element(Locator::Id("list-rows")).await.unwrap();
    let page = asha.source().await;
    assert!(page.contains(&number(691)) && page.contains(&number(692)), "{page}");
    assert!(page.contains("this number stands above too") && page.contains("no number that can be written to"), "{page}");
    // Answered without a reload, a row corrected where it stands, sent to those that are enough or not.
    asha.press("button[value=start]").await;
    let wait = asha.client.wait().at_most(std::time::Duration::from_secs(60));
    wait.for_element(Locator::Css("a[href$='answers.csv']")).await.unwrap();
    asha.press("form.card input[type=checkbox]").await;
    asha.press("form.card button[value=send]").await;
    gateway.wait("the messages are out", |calls| calls.iter().any(|call| call.to() == number(692))).await;
    eventually("the rows say so", async || {
        asha.client.refresh().await.unwrap();
        asha.source().await.contains("sent: with the network").then_some(())
    })
    .await;
}
