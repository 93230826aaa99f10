//! What can go wrong at the database, typed where it is handled. No value of a row reaches an error's words, so that an
//! error may be logged.

#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    #[error("the database does not answer ({0})")]
    Unreachable(String),
    #[error("{0}")]
    NoEntry(#[from] super::NoEntry),
    #[error("the database has no room left ({0})")]
    Full(String),
    #[error("another transaction stood in the way ({0})")]
    InTheWay(String),
    #[error("nobody waits any more")]
    TooLate,
    #[error("the database refused a value ({0})")]
    Refused(String),
    #[error("a place has a value out of range ({0})")]
    Place(String),
    #[error("this message has a reply")]
    AlreadyAnswered,
    #[error("an account of this name exists; choose another name")]
    NameTaken,
    #[error("somebody must run the place; give another account the role runs first")]
    LastRunner,
    #[error("a stored talk has form {0}, newer than this program; install the newer version again")]
    NewerTalk(i32),
    #[error("a stored talk cannot be read")]
    UnreadableTalk,
    #[error("the database has other tables than this version's; start `noonwater serve` on it once")]
    NotSetUp,
    #[error("the database was set up by a newer or a changed version ({0}); install that version again")]
    Schema(String),
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        let Some(database) = error.as_database_error() else {
            return Self::Unreachable(kind_of(&error).to_owned());
        };
        let code = database.code().unwrap_or_default();
        match database.constraint() {
            Some(constraint) if constraint.starts_with("place_") => Self::Place(constraint.to_owned()),
            Some("outbox_one_reply") => Self::AlreadyAnswered,
            Some("staff_name_once") => Self::NameTaken,
            Some(constraint) => Self::Refused(format!("{code} {constraint}")),
            // Class 22 and 23 are the value's fault, the rest is the server's (PostgreSQL manual, appendix A).
            // A deadlock or a conflict that the server broke: the same again may go through.
            None if code == "40P01" || code == "40001" => Self::InTheWay(code.into_owned()),
            None if code == "53100" => Self::Full(code.into_owned()),
            None if code.starts_with("22") || code.starts_with("23") => Self::Refused(code.into_owned()),
            None => Self::Unreachable(code.into_owned()),
        }
    }
}

/// The kind of an error without its words, which may quote values.
fn kind_of(error: &sqlx::Error) -> &'static str {
    match error {
        sqlx::Error::Io(_) => "connection lost",
        sqlx::Error::Tls(_) => "TLS failed",
        sqlx::Error::PoolTimedOut => "no connection free",
        sqlx::Error::PoolClosed => "closing",
        sqlx::Error::WorkerCrashed => "connection ended",
        sqlx::Error::Protocol(_) => "protocol error",
        sqlx::Error::ColumnDecode { .. } | sqlx::Error::Decode(_) => "unreadable row",
        sqlx::Error::RowNotFound => "no row",
        _ => "failed",
    }
}
