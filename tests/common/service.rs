//! The built program, started like an operator would.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Output, Stdio};
use std::sync::mpsc::RecvTimeoutError;
use std::time::Instant;

use nix::sys::signal::{Signal, kill};
use nix::unistd::Pid;
use reqwest::{Response, header};
use serde_json::Value;
use tempfile::TempDir;

use super::{DEADLINE, SECRET};

/// A data folder that takes its PostgreSQL with it when it goes.
pub struct Folder(TempDir);

impl Folder {
    pub fn new() -> Self {
        // PostgreSQL, which runs under a user of its own where root starts it, must pass through.
        let mode = std::os::unix::fs::PermissionsExt::from_mode(0o711);
        let folder = tempfile::Builder::new().permissions(mode).tempdir().expect("a folder");
        // Ours from the start, so that a test may keep its own files beside the database's.
        let lock = folder.path().join("lock");
        fs::write(&lock, "").expect("a file");
        fs::set_permissions(lock, std::os::unix::fs::PermissionsExt::from_mode(0o600)).expect("its mode");
        Self(folder)
    }

    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// The process of the private PostgreSQL.
    pub fn postmaster(&self) -> Option<Pid> {
        let text = fs::read_to_string(self.path().join("postgres/postmaster.pid")).ok()?;
        text.lines().next()?.trim().parse().ok().map(Pid::from_raw)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let Some(pid) = self.postmaster() else { return };
        let deadline = Instant::now() + DEADLINE;
        let _ = kill(pid, Signal::SIGINT);
        while kill(pid, None).is_ok() && self.postmaster().is_some() && Instant::now() < deadline {
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
    }
}

/// The program with nothing of the tests' own environment.
pub fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_noonwater"));
    for (name, _) in std::env::vars_os() {
        let is_ours = name.to_string_lossy().starts_with("NOONWATER_");
        if is_ours || name == "DATABASE_URL" || name == "RUST_LOG" {
            command.env_remove(name);
        }
    }
    command
}

/// Runs a program that is expected to end by itself; one that does not is told to.
pub fn run_to_end(command: &mut Command) -> Output {
    let child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the program");
    let pid = Pid::from_raw(i32::try_from(child.id()).expect("a process"));
    let (ended, waits) = std::sync::mpsc::channel::<()>();
    std::thread::spawn(move || {
        if waits.recv_timeout(DEADLINE) == Err(RecvTimeoutError::Timeout) {
            let _ = kill(pid, Signal::SIGTERM);
        }
    });
    let output = child.wait_with_output().expect("its end");
    drop(ended);
    output
}

/// Runs a program to its end with a text on its standard input.
pub fn run_with(command: &mut Command, input: &[u8]) -> Output {
    let mut child =
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the program");
    let mut stdin = child.stdin.take().expect("its input");
    let input = input.to_vec();
    // A program that ends before it has read everything closes the pipe.
    let writing = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().expect("its end");
    writing.join().expect("its input given");
    output
}

/// The most memory that a process has held so far, KiB (Linux, proc(5), VmHWM).
pub fn peak_kib(process: u32) -> u64 {
    let status = fs::read_to_string(format!("/proc/{process}/status")).expect("a process");
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("its peak");
    line.trim().trim_end_matches(" kB").parse().expect("a number")
}

/// A running service.
pub struct Service {
    child: Child,
    pub url: String,
    pub stdout: String,
    stderr: PathBuf,
    pub client: reqwest::Client,
}

impl Service {
    pub fn start(folder: &Folder, config: &str) -> Self {
        Self::start_with(folder, config, &[])
    }

    /// Starts on this folder, at a free port, and waits until it says where it is.
    pub fn start_with(folder: &Folder, config: &str, environment: &[(&str, &str)]) -> Self {
        let mut command = Self::command(folder, config, environment);
        let stderr = folder.path().join(format!("stderr-{}", fs::read_dir(folder.path()).expect("a folder").count()));
        command.stdout(Stdio::piped()).stderr(fs::File::create(&stderr).expect("a file"));
        let mut child = command.spawn().expect("the program");
        let mut out = BufReader::new(child.stdout.take().expect("its output"));
        let mut stdout = String::new();
        let url = loop {
            let from = stdout.len();
            if out.read_line(&mut stdout).expect("text") == 0 {
                let _ = child.wait();
                panic!("the service did not start: {}", fs::read_to_string(&stderr).unwrap_or_default());
            }
            if let Some((_, url)) = stdout[from..].split_once("handset page: ") {
                break url.split_whitespace().next().unwrap_or_default().trim_end_matches("/handset").to_owned();
            }
        };
        // What comes later is read as well, so that the program never waits for a reader.
        std::thread::spawn(move || out.read_to_string(&mut String::new()));
        let client = noonwater::lines::http::client(false).no_proxy().build().expect("a client");
        Self { child, url, stdout, stderr, client }
    }

    /// `serve` with this configuration, not started.
    pub fn command(folder: &Folder, config: &str, environment: &[(&str, &str)]) -> Command {
        let file = folder.path().join("noonwater.toml");
        fs::write(&file, config).expect("a file");
        let mut command = program();
        command.arg("serve").arg("--config").arg(file);
        command.env("NOONWATER_DATA_DIR", folder.path()).env("NOONWATER_LISTEN", "127.0.0.1:0");
        command.envs(environment.iter().copied());
        command
    }

    pub fn stderr(&self) -> String {
        fs::read_to_string(&self.stderr).expect("its errors")
    }

    /// How to reach the private PostgreSQL beside the service.
    pub fn options(folder: &Folder) -> sqlx::postgres::PgConnectOptions {
        let options = sqlx::postgres::PgConnectOptions::new_without_pgpass();
        options.socket(folder.path().join("run")).port(5432).username("noonwater").database("postgres")
    }

    pub async fn connect(folder: &Folder) -> sqlx::PgConnection {
        let options = Self::options(folder);
        <sqlx::PgConnection as sqlx::Connection>::connect_with(&options).await.expect("a connection")
    }

    pub async fn get(&self, path: &str) -> Response {
        self.client.get(format!("{}{path}", self.url)).send().await.expect("an answer")
    }

    /// Posts JSON with the line's secret; an error is no answer at all.
    pub async fn try_post(&self, path: &str, body: &Value) -> reqwest::Result<Response> {
        self.client.post(format!("{}{path}", self.url)).bearer_auth(SECRET).json(body).send().await
    }

    pub async fn post(&self, path: &str, body: &Value) -> Response {
        self.try_post(path, body).await.expect("an answer")
    }

    pub async fn post_form(&self, path: &str, body: &str) -> Response {
        let call = self.client.post(format!("{}{path}", self.url)).bearer_auth(SECRET);
        let call = call.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        call.body(body.to_owned()).send().await.expect("an answer")
    }

    pub fn pid(&self) -> Pid {
        Pid::from_raw(i32::try_from(self.child.id()).expect("a process"))
    }

    fn signal(&self, signal: Signal) {
        let _ = kill(self.pid(), signal);
    }

    pub fn terminate(&self) {
        self.signal(Signal::SIGTERM);
    }

    pub fn wait(&mut self) -> ExitStatus {
        self.child.wait().expect("its end")
    }

    /// No time for anything: as a power cut ends it.
    pub fn kill(mut self) {
        self.signal(Signal::SIGKILL);
        self.wait();
    }
}

impl Drop for Service {
    fn drop(&mut self) {
        if matches!(self.child.try_wait(), Ok(None)) {
            self.signal(Signal::SIGTERM);
            let _ = self.child.wait();
        }
    }
}
