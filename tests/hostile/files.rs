//! Files that are small and make much of themselves.

use std::io::{Cursor, Write};
use std::time::Instant;

use reqwest::{Response, StatusCode, header};

use crate::common::{DEADLINE, Folder, Service, peak_kib};
use crate::seat::Seat;

/// A workbook whose parts are these.
pub fn book(shared: &str, sheet: &str) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let kept = zip::write::SimpleFileOptions::default();
    let types = "<?xml version=\"1.0\"?><Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"/>";
    let relation = |id: &str, kind: &str, target: &str| {
        let base = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
        format!("<Relationship Id=\"{id}\" Type=\"{base}/{kind}\" Target=\"{target}\"/>")
    };
    let relations = |all: &str| {
        let base = "http://schemas.openxmlformats.org/package/2006/relationships";
        format!("<?xml version=\"1.0\"?><Relationships xmlns=\"{base}\">{all}</Relationships>")
    };
    let workbook = "<?xml version=\"1.0\"?><workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" \
                    xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\">\
                    <sheets><sheet name=\"S\" sheetId=\"1\" r:id=\"a\"/></sheets></workbook>";
    for (name, text) in [
        ("[Content_Types].xml", types.to_owned()),
        ("_rels/.rels", relations(&relation("w", "officeDocument", "xl/workbook.xml"))),
        ("xl/workbook.xml", workbook.to_owned()),
        (
            "xl/_rels/workbook.xml.rels",
            relations(
                &(relation("a", "worksheet", "worksheets/s.xml") + &relation("b", "sharedStrings", "sharedStrings.xml")),
            ),
        ),
        ("xl/sharedStrings.xml", format!("<?xml version=\"1.0\"?><sst>{shared}</sst>")),
        ("xl/worksheets/s.xml", format!("<?xml version=\"1.0\"?><worksheet><sheetData>{sheet}</sheetData></worksheet>")),
    ] {
        zip.start_file(name, kept).unwrap();
        zip.write_all(text.as_bytes()).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

pub const HEAD: &str = "<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>text</t></is></c></row>";

pub async fn send(seat: &Seat<'_>, name: &str, content: &[u8]) -> Response {
    let head = format!(
        "--kito\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\
         Content-Type: application/octet-stream\r\n\r\n"
    );
    let body = [head.as_bytes(), content, b"\r\n--kito--\r\n"].concat();
    let request = seat.request(reqwest::Method::POST, "/desk/bulk");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=kito").body(body);
    request.timeout(DEADLINE).send().await.unwrap()
}

#[tokio::test(flavor = "multi_thread")]
async fn a_small_workbook_takes_no_more_memory_than_it_may() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let process = service.pid().as_raw().unsigned_abs();
    let good = book(
        "<si><t>text</t></si><si><t>lift 3</t></si>",
        "<row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c></row>\
                    <row r=\"2\"><c r=\"A2\" t=\"s\"><v>1</v></c></row>",
    );
    assert_eq!(send(&asha, "good.xlsx", &good).await.status(), StatusCode::SEE_OTHER);
    let before = peak_kib(process);
    for (what, shared, sheet) in [
        ("empty shared texts", "<si/>".repeat(1_000_000), HEAD.to_owned()),
        ("shared texts with a name space", "<x:si></x:si>".repeat(700_000), HEAD.to_owned()),
        (
            "one long cell",
            String::new(),
            format!("{HEAD}<row r=\"2\"><c r=\"A2\" t=\"inlineStr\"><is><t>{}</t></is></c></row>", "x".repeat(3_000_000)),
        ),
        (
            "one cell in many pieces",
            String::new(),
            format!(
                "{HEAD}<row r=\"2\"><c r=\"A2\" t=\"inlineStr\"><is>{}</is></c></row>",
                "<r><t>xxxxxxxx</t></r>".repeat(100_000)
            ),
        ),
    ] {
        let packed = book(&shared, &sheet);
        assert!(packed.len() < 400_000, "{what}: {} octets", packed.len());
        let answer = send(&asha, "small.xlsx", &packed).await;
        assert_eq!(answer.status(), StatusCode::UNPROCESSABLE_ENTITY, "{what}");
        let page = answer.text().await.unwrap();
        assert!(page.contains("save it as CSV"), "{what}: {page}");
    }
    let grown = peak_kib(process) - before;
    assert!(grown < 40 * 1024, "{grown} KiB");
    // What the list of shared texts says of its own length is believed by nobody.
    let lying = book("", HEAD);
    let mut parts = zip::ZipArchive::new(Cursor::new(lying)).unwrap();
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for at in 0..parts.len() {
        let mut part = parts.by_index(at).unwrap();
        let mut text = String::new();
        std::io::Read::read_to_string(&mut part, &mut text).unwrap();
        zip.start_file(part.name().unwrap().into_owned(), zip::write::SimpleFileOptions::default()).unwrap();
        zip.write_all(text.replace("<sst>", "<sst uniqueCount=\"999999999999\">").as_bytes()).unwrap();
    }
    let lying = zip.finish().unwrap().into_inner();
    assert_eq!(send(&asha, "lying.xlsx", &lying).await.status(), StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_row_of_many_keys_is_refused_at_once() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let keys = (0..108_000).map(|n| format!("\"{n:x}\":1")).collect::<Vec<_>>().join(",");
    let began = Instant::now();
    let answer = send(&asha, "keys.jsonl", format!("{{\"text\":\"lift 3\",{keys}}}\n").as_bytes()).await;
    let took = began.elapsed();
    assert_eq!(answer.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let page = answer.text().await.unwrap();
    assert!(page.contains("200 columns"), "{page}");
    assert!(took.as_secs() < 8, "{took:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn texts_that_no_phone_sends_are_cut_and_refused() {
    let folder = Folder::new();
    let service = Service::start(&folder, "");
    let asha = Seat::take(&service, &folder, "Asha", "answers").await;
    let long = "lift 3 ".repeat(20_000);
    let csv = format!("text\n{}", format!("{long}\n").repeat(60));
    let answer = send(&asha, "long.csv", csv.as_bytes()).await;
    assert_eq!(answer.status(), StatusCode::SEE_OTHER);
    let list = answer.headers()["location"].to_str().unwrap().to_owned();
    let page = asha.page(&list).await;
    assert!(page.len() < 1_000_000, "a page of {} octets", page.len());
    asha.post(&list, &[("do", "start")]).await;
    crate::common::eventually("the list is answered", async || {
        asha.page(&list).await.contains("With trouble 60").then_some(())
    })
    .await;
    assert!(asha.page(&list).await.contains("over 1600 letters"));
}
