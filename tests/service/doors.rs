//! Who knocks slowly, a full disk, and many at once at the desk: the service goes on, or says that it cannot.

use std::io::Write;
use std::net::TcpStream;
use std::process::Command;
use std::time::{Duration, Instant};

use crate::common::{Folder, Gateway, Service, eventually, line, message, number};

#[tokio::test(flavor = "multi_thread")]
async fn heads_that_never_end_hold_up_nobody() {
    let gateway = Gateway::accepting().await;
    let folder = Folder::new();
    let service = Service::start(&folder, &line("north", &gateway.url));
    let at = service.url.trim_start_matches("http://").to_owned();
    let mut slow = Vec::new();
    // As many as this process may open itself, and more than the usual limit of files of the service.
    let (soft, hard) = nix::sys::resource::getrlimit(nix::sys::resource::Resource::RLIMIT_NOFILE).unwrap();
    let files = hard.min(4000).max(soft);
    nix::sys::resource::setrlimit(nix::sys::resource::Resource::RLIMIT_NOFILE, files, hard).unwrap();
    for _ in 0..1_100.min(files.saturating_sub(200)) {
        let mut stream = TcpStream::connect(&at).unwrap();
        stream.write_all(b"POST /lines/north/inbound HTTP/1.1\r\nHost: kito\r\nX-Slow: ").unwrap();
        slow.push(stream);
    }
    let began = Instant::now();
    let answer = service.post("/lines/north/inbound", &message("s-1", &number(900), "lift 3")).await;
    assert_eq!(answer.status(), 202);
    assert!(began.elapsed() < Duration::from_secs(20), "{:?}", began.elapsed());
    // They are shown the door in a while.
    slow[0].set_read_timeout(Some(Duration::from_secs(40))).unwrap();
    let ended = std::io::Read::read_to_end(&mut slow[0], &mut Vec::new());
    assert!(ended.is_ok(), "{ended:?}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_full_disk_is_not_ready_and_room_made_is() {
    let folder = Folder::new();
    let data = folder.path().join("data");
    std::fs::create_dir(&data).unwrap();
    let mount = |arguments: &[&str]| Command::new(arguments[0]).args(&arguments[1..]).status().is_ok_and(|it| it.success());
    let path = data.display().to_string();
    if !mount(&["mount", "-t", "tmpfs", "-o", "size=300m,mode=0711", "tmpfs", &path]) {
        println!("NOT CHECKED: no small disk can be made here (mount needs root)");
        return;
    }
    let mut service = Service::start_with(&folder, "", &[("NOONWATER_DATA_DIR", &path)]);
    assert_eq!(service.get("/readyz").await.status(), 200);
    let stuffing = data.join("stuffing");
    {
        let mut file = std::fs::File::create(&stuffing).unwrap();
        while file.write_all(&[7; 65536]).is_ok() {}
        while file.write_all(&[7; 512]).is_ok() {}
    }
    eventually("it says that it cannot work", || async { (service.get("/readyz").await.status() == 503).then_some(()) })
        .await;
    assert_eq!(service.get("/healthz").await.status(), 200);
    std::fs::remove_file(&stuffing).unwrap();
    eventually("it can again", || async { (service.get("/readyz").await.status() == 200).then_some(()) }).await;
    service.terminate();
    let ended = service.wait();
    drop(service);
    assert!(mount(&["umount", &path]), "{ended:?}");
}
