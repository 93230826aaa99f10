//! Behind a pooler that gives each transaction whichever connection is free: Debian's package `pgbouncer`.

use std::net::TcpListener;
use std::os::unix::fs::PermissionsExt;
use std::process::{Child, Command, Stdio};

use nix::unistd::Uid;

use crate::common::{Folder, Gateway, HOTLINE, SECRET, Service, eventually, message, number};

/// A pooler in front of a folder's PostgreSQL, gone with this value.
struct Pooler {
    child: Child,
    url: String,
}

impl Pooler {
    /// None, said on standard error, where the machine has no such program.
    fn start(folder: &Folder) -> Option<Self> {
        let program =
            ["/usr/sbin/pgbouncer", "/usr/bin/pgbouncer"].into_iter().find(|path| std::path::Path::new(path).exists());
        let Some(program) = program else {
            eprintln!("NOT CHECKED: no pgbouncer on this machine; apt-get install pgbouncer");
            return None;
        };
        let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let run = folder.path().join("run");
        let users = folder.path().join("users.txt");
        std::fs::write(&users, "\"noonwater\" \"\"\n").unwrap();
        let ini = folder.path().join("pooler.ini");
        let text = format!(
            "[databases]\npostgres = host={} port=5432 user=noonwater\n[pgbouncer]\nlisten_addr = 127.0.0.1\n\
             listen_port = {port}\nunix_socket_dir =\nauth_type = trust\nauth_file = {}\npool_mode = transaction\n\
             default_pool_size = 4\nmax_client_conn = 100\n",
            run.display(),
            users.display()
        );
        std::fs::write(&ini, text).unwrap();
        for path in [folder.path(), &run] {
            std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o711)).unwrap();
        }
        for path in [&users, &ini] {
            std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o644)).unwrap();
        }
        let mut command = Command::new(program);
        if Uid::effective().is_root() {
            // It refuses root; PostgreSQL's own user reaches the socket.
            command.args(["-u", "postgres"]);
        }
        let child = command.arg(&ini).stderr(Stdio::null()).stdout(Stdio::null()).spawn().unwrap();
        Some(Self { child, url: format!("postgres://noonwater@127.0.0.1:{port}/postgres") })
    }
}

impl Drop for Pooler {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn two_services_behind_a_transaction_pooler_answer_every_message_once() {
    let gateway = Gateway::accepting().await;
    let (folder, one, other) = (Folder::new(), Folder::new(), Folder::new());
    // A service without lines stands for the operator's database.
    let _database = Service::start(&folder, "");
    let Some(pooler) = Pooler::start(&folder) else { return };
    let port: u16 = pooler.url.rsplit(['@', '/']).nth(1).and_then(|at| at.rsplit(':').next()?.parse().ok()).unwrap();
    eventually("the pooler listens", || async { std::net::TcpStream::connect(("127.0.0.1", port)).ok() }).await;
    let config = format!(
        "[lines.north]\nkind = \"http\"\nnumber = \"{HOTLINE}\"\noutbound_url = \"{}\"\nsecret = \"{SECRET}\"\n",
        gateway.url
    );
    let by_pooler = [("DATABASE_URL", pooler.url.as_str())];
    let services = [Service::start_with(&one, &config, &by_pooler), Service::start_with(&other, &config, &by_pooler)];
    for index in 0..40 {
        let service = &services[index as usize % 2];
        let answer =
            service.post("/lines/north/inbound", &message(&format!("p-{index}"), &number(500 + index), "lift 3")).await;
        assert_eq!(answer.status(), 202, "{}", service.stderr());
    }
    for service in &services {
        assert_eq!(service.get("/readyz").await.status(), 200);
        assert_eq!(service.get("/metrics").await.status(), 200);
    }
    let calls = gateway.wait("all are answered", |calls| calls.len() >= 40).await;
    let numbers: std::collections::BTreeSet<&str> = calls.iter().map(|call| call.to()).collect();
    assert_eq!((calls.len(), numbers.len()), (40, 40));
}
