//! What the private PostgreSQL says of itself: kept over restarts, one older file beside it, never without bound.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use tokio::task::AbortHandle;

/// The server tells errors only, a line each: years of an orderly life fit in.
const LONGEST: u64 = 8 * 1024 * 1024;

/// A server that repeats one error all the time writes some hundred KiB in this time.
const EVERY: Duration = Duration::from_secs(600);

/// Moves a long log aside, over the one that was moved before.
pub fn keep_short(log: &Path) {
    let is_long = fs::metadata(log).is_ok_and(|meta| meta.len() > LONGEST);
    // The server holds the file open for appending: it is copied and emptied, not renamed. Where that fails, the log is
    // the longer for it and nothing else.
    if is_long && fs::copy(log, older(log)).is_ok() {
        let _ = fs::OpenOptions::new().write(true).truncate(true).open(log);
    }
}

/// The same from time to time, until called off.
pub fn watch(log: PathBuf) -> AbortHandle {
    tokio::spawn(async move {
        loop {
            tokio::time::sleep(EVERY).await;
            keep_short(&log);
        }
    })
    .abort_handle()
}

fn older(log: &Path) -> PathBuf {
    log.with_extension("log.1")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;

    #[test]
    fn a_long_log_goes_aside_and_the_server_goes_on_in_the_same_file() {
        let root = tempfile::tempdir().unwrap();
        let log = root.path().join("postgres.log");
        let mut server = fs::OpenOptions::new().create(true).append(true).open(&log).unwrap();
        server.write_all(&vec![b'a'; usize::try_from(LONGEST).unwrap()]).unwrap();
        keep_short(&log);
        assert!(!older(&log).exists(), "as long as may be");
        server.write_all(b"one more").unwrap();
        keep_short(&log);
        assert_eq!(fs::metadata(older(&log)).unwrap().len(), LONGEST + 8);
        server.write_all(b"next").unwrap();
        assert_eq!(fs::read(&log).unwrap(), b"next");
    }
}
