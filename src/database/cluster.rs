//! A private PostgreSQL: its own folder, its own socket, no network, one service.

use std::fs;
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::time::Duration;

use nix::errno::Errno;
use nix::sys::signal::{Signal, kill};
use nix::unistd::Pid;
use sqlx::postgres::PgConnectOptions;
use sqlx::{ConnectOptions, Connection};
use tokio::process::{Child, Command};
use tokio::time::{Instant, sleep};

use super::error::DatabaseError;
use super::folder::{self, Lock, Owner};
use super::{binaries, fetch, server_log};

/// Recovery after a crash may take a while.
const START_TIMEOUT: Duration = Duration::from_secs(120);
/// A fast shutdown writes a checkpoint first.
const STOP_TIMEOUT: Duration = Duration::from_secs(60);
const POLL: Duration = Duration::from_millis(20);

/// When a server was killed, what it had begun may hold its shared memory for a moment longer.
const LEFT_OVER_TRIES: u32 = 10;
const LEFT_OVER_PAUSE: Duration = Duration::from_secs(1);

/// The superuser of the private cluster; only its owner and root can reach the socket.
const USER: &str = "noonwater";
const DATABASE: &str = "postgres";

/// Durability is PostgreSQL's usual one (fsync and synchronous_commit stay on). Its log tells no statement and no
/// detail, since both may quote a grower's number or text.
const SETTINGS: [&str; 7] = [
    "listen_addresses=",
    "unix_socket_permissions=0700",
    "port=5432",
    "logging_collector=off",
    "log_min_error_statement=panic",
    "log_error_verbosity=terse",
    "log_statement=none",
];

/// A running server.
pub struct Cluster {
    child: Child,
    pid: Pid,
    socket_dir: PathBuf,
    data_dir: PathBuf,
    is_stopped: bool,
    /// Keeps the server's log short while it runs.
    trims: Option<tokio::task::AbortHandle>,
    _lock: Lock,
}

impl Cluster {
    pub async fn start(data_dir: &Path, fetch: bool) -> Result<Self, DatabaseError> {
        let owner = Owner::find()?;
        let (data_dir, lock) = folder::take(data_dir, &owner)?;
        let files = data_dir.join("postgres");
        let made_by = fs::read_to_string(files.join("PG_VERSION")).ok();
        let made_by = made_by.as_deref().map(str::trim);
        let bin = match binaries::find(made_by, &data_dir) {
            Err(DatabaseError::NotFound) if fetch => {
                fetch::install().await?;
                binaries::find(made_by, &data_dir)?
            }
            found => found?,
        };
        // The user that runs it may have come with the package.
        let owner = Owner::find().unwrap_or(owner);
        let log = data_dir.join("postgres.log");
        server_log::keep_short(&log);
        if made_by.is_none() {
            make_files(&bin, &data_dir, &files, &owner, &log).await?;
        }
        folder::private(&files, &owner)?;
        let mut tries_left = if end_left_over(&files).await? { LEFT_OVER_TRIES } else { 1 };
        let socket_dir = folder::socket_dir(&data_dir, &owner)?;
        let mut command = command(&bin.join("postgres"), &owner, &log)?;
        command.arg("-D").arg(&files).arg("-k").arg(&socket_dir);
        for setting in SETTINGS {
            command.arg("-c").arg(setting);
        }
        let failed = || DatabaseError::Start(log.clone());
        let (child, pid) = spawn(&mut command).ok_or_else(failed)?;
        let mut cluster = Self { child, pid, socket_dir, data_dir, is_stopped: false, trims: None, _lock: lock };
        while !cluster.answers().await {
            tries_left -= 1;
            if tries_left == 0 || !cluster.is_stopped {
                return Err(failed());
            }
            sleep(LEFT_OVER_PAUSE).await;
            (cluster.child, cluster.pid) = spawn(&mut command).ok_or_else(failed)?;
            cluster.is_stopped = false;
        }
        cluster.trims = Some(server_log::watch(log));
        Ok(cluster)
    }

    pub fn options(&self) -> PgConnectOptions {
        options_by(&self.socket_dir)
    }

    /// Waits until the server takes connections; false when it ended or took too long.
    async fn answers(&mut self) -> bool {
        let deadline = Instant::now() + START_TIMEOUT;
        let options = self.options().disable_statement_logging();
        while Instant::now() < deadline {
            if sqlx::PgConnection::connect_with(&options).await.is_ok() {
                return true;
            }
            if !matches!(self.child.try_wait(), Ok(None)) {
                self.is_stopped = true;
                return false;
            }
            sleep(POLL).await;
        }
        false
    }

    /// Returns when the server has ended on its own.
    pub async fn ended(&mut self) {
        // An error means that there is no such child: it has ended.
        let _ = self.child.wait().await;
        self.is_stopped = true;
    }

    /// A fast shutdown: open transactions are rolled back, everything committed is on disk.
    pub async fn stop(mut self) {
        if !self.is_stopped && kill(self.pid, Signal::SIGINT).is_ok() {
            let ended = tokio::time::timeout(STOP_TIMEOUT, self.child.wait()).await;
            self.is_stopped = ended.is_ok();
        }
        if self.socket_dir.parent() != Some(&self.data_dir) {
            let _ = fs::remove_dir_all(&self.socket_dir);
        }
    }
}

impl Drop for Cluster {
    /// A start that was given up on, or a test that failed: the server must not outlive us.
    fn drop(&mut self) {
        if let Some(trims) = &self.trims {
            trims.abort();
        }
        if !self.is_stopped {
            let _ = kill(self.pid, Signal::SIGINT);
        }
    }
}

/// How to reach the server that another process runs on a data folder, if one does.
pub fn running(data_dir: &Path) -> Option<PgConnectOptions> {
    let text = fs::read_to_string(data_dir.join("postgres").join("postmaster.pid")).ok()?;
    socket_folder(&text).map(options_by)
}

fn options_by(socket_dir: &Path) -> PgConnectOptions {
    PgConnectOptions::new_without_pgpass()
        .socket(socket_dir)
        .port(5432)
        .username(USER)
        .database(DATABASE)
        .password("")
        .ssl_mode(sqlx::postgres::PgSslMode::Disable)
}

/// The socket's folder: line 5 of a pid file, after the port (PostgreSQL source, miscadmin.h).
fn socket_folder(pid_file: &str) -> Option<&Path> {
    pid_file.lines().nth(4).map(Path::new).filter(|folder| folder.is_absolute())
}

/// Made under another name and renamed when whole, so that a stop in the middle leaves nothing half made.
async fn make_files(bin: &Path, data_dir: &Path, files: &Path, owner: &Owner, log: &Path) -> Result<(), DatabaseError> {
    let failed = || DatabaseError::Init(log.to_owned());
    let unfinished = data_dir.join("postgres.new");
    if unfinished.exists() {
        fs::remove_dir_all(&unfinished).map_err(|_| failed())?;
    }
    folder::private(&unfinished, owner)?;
    let mut command = command(&bin.join("initdb"), owner, log)?;
    command.arg("-D").arg(&unfinished).args(["-U", USER, "--auth=trust", "--encoding=UTF8", "--locale=C"]);
    let status = command.kill_on_drop(true).status().await.map_err(|_| failed())?;
    if !status.success() {
        return Err(failed());
    }
    fs::rename(&unfinished, files).map_err(|_| failed())
}

fn spawn(command: &mut Command) -> Option<(Child, Pid)> {
    let child = command.spawn().ok()?;
    let pid = i32::try_from(child.id()?).ok()?;
    Some((child, Pid::from_raw(pid)))
}

/// A program of PostgreSQL's, as its owner, away from our terminal and environment.
fn command(program: &Path, owner: &Owner, log: &Path) -> Result<Command, DatabaseError> {
    let log_file = fs::OpenOptions::new()
        .create(true)
        .append(true)
        .mode(0o600)
        .open(log)
        .map_err(|error| DatabaseError::Folder { folder: log.to_owned(), why: error.kind().to_string() })?;
    let log_again = log_file.try_clone().map_err(|_| DatabaseError::Start(log.to_owned()))?;
    let mut command = Command::new(program);
    // Nothing of our environment: it may hold secrets, and PGDATA and its like would steer the server elsewhere.
    command.env_clear().env("LC_ALL", "C").env("TZ", "UTC");
    for kept in ["PATH", "LD_LIBRARY_PATH"] {
        if let Some(value) = std::env::var_os(kept) {
            command.env(kept, value);
        }
    }
    if let Some((uid, gid)) = owner.ids() {
        // The standard library also drops root's supplementary groups when it changes the user.
        command.uid(uid).gid(gid);
    }
    // A group of its own: Ctrl-C in a terminal must reach us first, so that what is in hand is finished.
    command.process_group(0).current_dir("/");
    command.stdin(Stdio::null()).stdout(log_file).stderr(log_again);
    Ok(command)
}

/// Ends a server that outlived its service (which was killed), and clears away what a dead one left; false when there
/// was neither.
async fn end_left_over(files: &Path) -> Result<bool, DatabaseError> {
    let pid_file = files.join("postmaster.pid");
    let Ok(text) = fs::read_to_string(&pid_file) else { return Ok(false) };
    let mut lines = text.lines();
    let pid = lines.next().and_then(|line| line.trim().parse::<i32>().ok()).filter(|pid| *pid > 1);
    if let Some(raw) = pid
        && is_server_of(raw, files)
    {
        let pid = Pid::from_raw(raw);
        let _ = kill(pid, Signal::SIGINT);
        let deadline = Instant::now() + STOP_TIMEOUT;
        while is_server_of(raw, files) {
            if Instant::now() > deadline {
                return Err(DatabaseError::StillRunning(raw));
            }
            sleep(POLL).await;
        }
    }
    // A dead server's number may be another process's by now, which the next server would take for a living one.
    let _ = fs::remove_file(&pid_file);
    if let Some(folder) = socket_folder(&text) {
        for name in [".s.PGSQL.5432", ".s.PGSQL.5432.lock"] {
            let _ = fs::remove_file(folder.join(name));
        }
        let is_ours = folder.file_name().is_some_and(|name| name.to_string_lossy().starts_with("noonwater-"));
        if is_ours {
            let _ = fs::remove_dir(folder);
        }
    }
    Ok(true)
}

/// Whether this process lives and is a server on these files. A server's working folder is its files'; where the
/// system does not show that, a living process by this number is taken to be one.
fn is_server_of(pid: i32, files: &Path) -> bool {
    if kill(Pid::from_raw(pid), None) == Err(Errno::ESRCH) {
        return false;
    }
    if !Path::new("/proc/self/cwd").exists() {
        return true;
    }
    // A process that has ended but was not yet waited for has no working folder left.
    fs::read_link(format!("/proc/{pid}/cwd")).is_ok_and(|folder| folder == files)
}
