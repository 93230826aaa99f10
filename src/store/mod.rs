//! All the SQL, one file per table family. Named constraints become typed errors; no value of a row reaches an error's
//! words, so that an error may be logged.

mod audit;
mod bulk;
mod entry;
mod forget;
mod inbound;
mod keys;
mod outbox;
mod places;
mod prices;
mod reminders;
mod schema;
mod signals;
mod staff;
mod talks;
mod tally;
mod undelivered;
mod waiting;

use sqlx::postgres::{PgConnectOptions, PgPoolOptions};
use sqlx::{ConnectOptions, PgPool, Postgres, Transaction};

pub use audit::AuditRow;
pub use bulk::{BulkAnswer, BulkCounts, BulkFilter, BulkList, BulkRow, BulkWork, NewBulkList, NewBulkRow, ToSend};
pub use entry::NoEntry;
pub use inbound::{Inbound, Stored};
pub use keys::KeyRow;
pub use outbox::{Lease, NewReply, Outcome, Reply};
pub use places::PlaceRow;
pub use prices::{PricesRow, PumpClassRow};
pub use reminders::{DueReminder, NewReminder};
pub use schema::Readiness;
pub use signals::{Ear, Signal};
pub use staff::{NewStaff, StaffRow, StaffSecret};
pub use talks::TalkForm;
pub use tally::{Count, Gauges, NewTally, Split};
pub use undelivered::UndeliveredRow;
pub use waiting::{Hand, TalkKey, WaitingRow};

/// How long a request waits for a free connection before it is told to come back.
const ACQUIRE_TIMEOUT: std::time::Duration = std::time::Duration::from_secs(5);

/// More than the web server and the deliveries use at once, fewer than PostgreSQL's usual limit of 100.
const CONNECTIONS: u32 = 16;

#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    #[error("the database does not answer ({0})")]
    Unreachable(String),
    #[error("{0}")]
    NoEntry(#[from] NoEntry),
    #[error("the database refused a value ({0})")]
    Refused(String),
    #[error("a place has a value out of range ({0})")]
    Place(String),
    #[error("this message has a reply")]
    AlreadyAnswered,
    #[error("an account of this name exists; choose another name")]
    NameTaken,
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

/// The database behind a pool of connections.
#[derive(Clone)]
pub struct Store {
    pool: PgPool,
}

/// Statements that stand or fall together.
pub struct Step<'a> {
    transaction: Transaction<'a, Postgres>,
}

impl Store {
    /// Connects and brings the tables up to date.
    pub async fn open(options: PgConnectOptions) -> Result<Self, StoreError> {
        let store = Self::connect(options).await?;
        store.migrate().await?;
        Ok(store)
    }

    /// Connects for reading only: PostgreSQL itself refuses every change.
    pub async fn open_to_read(options: PgConnectOptions) -> Result<Self, StoreError> {
        let store = Self::connect(options.options([("default_transaction_read_only", "on")])).await?;
        if store.is_ready().await { Ok(store) } else { Err(StoreError::NotSetUp) }
    }

    async fn connect(options: PgConnectOptions) -> Result<Self, StoreError> {
        // Statements are never logged: their values are numbers and texts of growers.
        let options = options.application_name("noonwater").disable_statement_logging();
        // The pool tries again and again, and tells the last reason only: one try of our own says at once what is wrong.
        entry::check(&options).await?;
        let pool = PgPoolOptions::new()
            .max_connections(CONNECTIONS)
            .acquire_timeout(ACQUIRE_TIMEOUT)
            .connect_with(options)
            .await?;
        Ok(Self { pool })
    }

    pub async fn begin(&self) -> Result<Step<'_>, StoreError> {
        Ok(Step { transaction: self.pool.begin().await? })
    }

    pub async fn close(&self) {
        self.pool.close().await;
    }
}

impl Step<'_> {
    /// Makes all that was done durable; dropped without it, nothing was done.
    pub async fn commit(self) -> Result<(), StoreError> {
        Ok(self.transaction.commit().await?)
    }
}
