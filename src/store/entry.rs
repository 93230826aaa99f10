//! The first connection: why an operator's database does not let us in, and what to do about it.

use std::io;

use sqlx::postgres::PgConnectOptions;
use sqlx::{ConnectOptions, Connection, Executor, Row};

use super::error::StoreError;

/// The oldest PostgreSQL that the statements were tried on.
const OLDEST: i32 = 150_000;

/// The rights that the service needs; README tells them too.
const RIGHTS: &str = "grant connect and create on the database and its schema `public` to the user";

/// Why the database of `database_url` cannot be used. The words name no password.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NoEntry {
    #[error(
        "PostgreSQL refuses the user or the password of `database_url`; correct them there, or the server's pg_hba.conf"
    )]
    Password,
    #[error(
        "PostgreSQL has no such user or does not let it in from here; create it, or correct `database_url` or pg_hba.conf"
    )]
    User,
    #[error(
        "PostgreSQL has no database of the name in `database_url`; create it with `createdb NAME`, or correct the name"
    )]
    NoDatabase,
    #[error("the user of `database_url` may not do this; {RIGHTS}")]
    Rights,
    #[error("nothing listens at the host and port of `database_url`; start PostgreSQL there, or correct them")]
    NothingListens,
    #[error("the host of `database_url` is not known; correct its name")]
    UnknownHost,
    #[error("the host of `database_url` does not answer; check its name, its port and the firewall between")]
    Silent,
    #[error("the TLS of `database_url` failed; correct `sslmode` and the certificates that it names")]
    Tls,
    #[error("PostgreSQL has no room for another connection; raise its max_connections or stop what holds them")]
    Full,
    #[error("PostgreSQL is starting or stopping; try again in a moment")]
    NotUp,
    #[error("PostgreSQL {0} is too old; noonwater needs 15 or newer")]
    TooOld(String),
}

impl NoEntry {
    /// By the server's code (PostgreSQL manual, appendix A).
    pub fn of_code(code: &str) -> Option<Self> {
        Some(match code {
            "28P01" => Self::Password,
            "28000" => Self::User,
            "3D000" => Self::NoDatabase,
            // A user who may not see the schema is told that there is none to make tables in.
            "42501" | "3F000" => Self::Rights,
            "53300" => Self::Full,
            "57P03" | "57P01" => Self::NotUp,
            _ => return None,
        })
    }

    fn of(error: &sqlx::Error) -> Option<Self> {
        match error {
            sqlx::Error::Database(error) => Self::of_code(&error.code().unwrap_or_default()),
            sqlx::Error::Tls(_) => Some(Self::Tls),
            sqlx::Error::Io(error) => Some(match error.kind() {
                // A socket file that is not there, and a port that nobody holds.
                io::ErrorKind::ConnectionRefused | io::ErrorKind::NotFound => Self::NothingListens,
                io::ErrorKind::TimedOut | io::ErrorKind::HostUnreachable | io::ErrorKind::NetworkUnreachable => {
                    Self::Silent
                }
                // The system's resolver has no kind of its own.
                _ if error.to_string().contains("lookup") => Self::UnknownHost,
                _ => return None,
            }),
            _ => None,
        }
    }
}

/// How long one try takes at most.
const PATIENCE: std::time::Duration = std::time::Duration::from_secs(5);

/// Connects once and looks at the server's version.
///
/// # Errors
/// What keeps us out, in one sentence that says what to do.
pub(super) async fn check(options: &PgConnectOptions) -> Result<(), StoreError> {
    let told = |error: sqlx::Error| NoEntry::of(&error).map_or_else(|| error.into(), StoreError::from);
    let connect = tokio::time::timeout(PATIENCE, options.connect()).await;
    let mut connection = connect.map_err(|_| NoEntry::Silent)?.map_err(told)?;
    // As plain text: behind a pooler a prepared statement may not be had.
    let row = connection.fetch_one("select current_setting('server_version_num'), current_setting('server_version')");
    let row = row.await.map_err(StoreError::from)?;
    let number: String = row.try_get(0)?;
    let name: String = row.try_get(1)?;
    // It has answered: whether it hears the goodbye is all one.
    let _ = connection.close().await;
    if number.parse().is_ok_and(|number: i32| number < OLDEST) { Err(NoEntry::TooOld(name).into()) } else { Ok(()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_connection_is_told_by_what_to_do() {
        let io = |kind: io::ErrorKind, words: &str| NoEntry::of(&sqlx::Error::Io(io::Error::new(kind, words.to_owned())));
        assert_eq!(io(io::ErrorKind::ConnectionRefused, ""), Some(NoEntry::NothingListens));
        assert_eq!(io(io::ErrorKind::NotFound, ""), Some(NoEntry::NothingListens));
        assert_eq!(io(io::ErrorKind::Other, "failed to lookup address information"), Some(NoEntry::UnknownHost));
        assert_eq!(io(io::ErrorKind::BrokenPipe, ""), None);
        assert_eq!(NoEntry::of_code("28P01"), Some(NoEntry::Password));
        assert_eq!(NoEntry::of_code("23505"), None);
    }
}
