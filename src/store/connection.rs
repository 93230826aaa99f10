//! How statements reach PostgreSQL: straight, or through a pooler that gives every transaction whichever connection is free.
//!
//! Behind such a pooler nothing outlives a transaction: no prepared statement, no setting, no LISTEN. Statements then go
//! unnamed, each in a transaction with its own time limit.

use std::fmt;
use std::time::Duration;

use futures_util::future::BoxFuture;
use futures_util::stream::{self, BoxStream};
use futures_util::{StreamExt, TryFutureExt, TryStreamExt};
use sqlx::error::BoxDynError;
use sqlx::postgres::{PgArguments, PgConnectOptions, PgPoolOptions, PgQueryResult, PgRow, PgStatement, PgTypeInfo};
use sqlx::{
    ConnectOptions, Connection, Describe, Either, Execute, Executor, PgConnection, PgPool, Postgres, SqlStr, Transaction,
};

use super::{StoreError, entry};

/// How long a request waits for a free connection before it is told to come back.
const ACQUIRE_TIMEOUT: Duration = Duration::from_secs(5);

/// More than the web server and the deliveries use at once, fewer than PostgreSQL's usual limit of 100.
const CONNECTIONS: u32 = 16;

/// No statement takes longer: one that does would hold a connection, and its locks, that others wait for.
const STATEMENT_TIMEOUT_MS: u32 = 15_000;

/// Times that two connections are compared before they are taken to be truly two.
const LOOKS: usize = 8;

/// The database behind a pool of connections.
#[derive(Clone)]
pub struct Database {
    pool: PgPool,
    is_pooled: bool,
}

impl fmt::Debug for Database {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Database")
    }
}

impl Database {
    pub async fn connect(options: PgConnectOptions) -> Result<Self, StoreError> {
        // Statements are never logged: their values are numbers and texts of growers. Every value travels in binary, so the
        // digits of floating-point texts, which poolers do not know, need no setting.
        let options = options.application_name("noonwater").extra_float_digits(None).disable_statement_logging();
        // The pool tries again and again, and tells the last reason only: one try of our own says at once what is wrong.
        entry::check(&options).await?;
        let is_pooled = is_pooled(&options).await?;
        let options = match is_pooled {
            true => options,
            false => options.options([("statement_timeout", STATEMENT_TIMEOUT_MS.to_string())]),
        };
        let pool = PgPoolOptions::new()
            .max_connections(CONNECTIONS)
            .acquire_timeout(ACQUIRE_TIMEOUT)
            .connect_with(options)
            .await?;
        Ok(Self { pool, is_pooled })
    }

    /// Whether a pooler stands between, so that signals are not heard.
    pub fn is_pooled(&self) -> bool {
        self.is_pooled
    }

    pub fn pool(&self) -> &PgPool {
        &self.pool
    }

    /// Connections that exist, and those of them that wait for work.
    pub fn connections(&self) -> (u32, usize) {
        (self.pool.size(), self.pool.num_idle())
    }

    /// Begins a transaction, with the time limit that a pooler would not keep.
    pub async fn begin(&self) -> Result<Opened<'static>, sqlx::Error> {
        let mut transaction = self.pool.begin().await?;
        if self.is_pooled {
            transaction.execute(limit_statement()).await?;
        }
        Ok(Opened { transaction, is_pooled: self.is_pooled })
    }
}

fn limit_statement() -> sqlx::AssertSqlSafe<String> {
    sqlx::AssertSqlSafe(format!("set local statement_timeout = {STATEMENT_TIMEOUT_MS}"))
}

/// Whether two connections of ours are one to PostgreSQL: only a pooler between makes them so.
async fn is_pooled(options: &PgConnectOptions) -> Result<bool, StoreError> {
    let mut one = options.connect().await?;
    let mut other = options.connect().await?;
    let mut found = false;
    for _ in 0..LOOKS {
        found = found || backend(&mut one).await? == backend(&mut other).await?;
    }
    // What becomes of connections that are not needed any more is nobody's trouble.
    let _ = (one.close().await, other.close().await);
    Ok(found)
}

/// The PostgreSQL process that serves a connection. Asked as plain text: a prepared statement is what might not be had.
async fn backend(connection: &mut PgConnection) -> Result<String, sqlx::Error> {
    let row = connection.fetch_one("select pg_backend_pid()::text").await?;
    sqlx::Row::try_get(&row, 0)
}

/// A transaction that is open.
#[derive(Debug)]
pub struct Opened<'t> {
    transaction: Transaction<'t, Postgres>,
    is_pooled: bool,
}

impl Opened<'_> {
    pub async fn commit(self) -> Result<(), sqlx::Error> {
        self.transaction.commit().await
    }

    /// What statements of the transaction run on.
    pub fn on(&mut self) -> On<'_> {
        On { connection: &mut self.transaction, is_pooled: self.is_pooled }
    }

    /// The connection itself, for what knows no other way.
    pub fn raw(&mut self) -> &mut PgConnection {
        &mut self.transaction
    }
}

/// A transaction's connection.
#[derive(Debug)]
pub struct On<'c> {
    connection: &'c mut PgConnection,
    is_pooled: bool,
}

/// A statement that leaves nothing behind on its connection.
struct Unnamed<E>(E);

impl<'q, E: Execute<'q, Postgres>> Execute<'q, Postgres> for Unnamed<E> {
    fn sql(self) -> SqlStr {
        self.0.sql()
    }

    fn statement(&self) -> Option<&PgStatement> {
        self.0.statement()
    }

    fn take_arguments(&mut self) -> Result<Option<PgArguments>, BoxDynError> {
        self.0.take_arguments()
    }

    fn persistent(&self) -> bool {
        false
    }
}

impl<'c> Executor<'c> for On<'c> {
    type Database = Postgres;

    fn fetch_many<'e, 'q: 'e, E>(self, query: E) -> BoxStream<'e, Result<Either<PgQueryResult, PgRow>, sqlx::Error>>
    where
        'c: 'e,
        E: 'q + Execute<'q, Postgres>,
    {
        if self.is_pooled { self.connection.fetch_many(Unnamed(query)) } else { self.connection.fetch_many(query) }
    }

    fn fetch_optional<'e, 'q: 'e, E>(self, query: E) -> BoxFuture<'e, Result<Option<PgRow>, sqlx::Error>>
    where
        'c: 'e,
        E: 'q + Execute<'q, Postgres>,
    {
        if self.is_pooled { self.connection.fetch_optional(Unnamed(query)) } else { self.connection.fetch_optional(query) }
    }

    fn prepare_with<'e>(self, sql: SqlStr, types: &'e [PgTypeInfo]) -> BoxFuture<'e, Result<PgStatement, sqlx::Error>>
    where
        'c: 'e,
    {
        self.connection.prepare_with(sql, types)
    }

    fn describe<'e>(self, sql: SqlStr) -> BoxFuture<'e, Result<Describe<Postgres>, sqlx::Error>>
    where
        'c: 'e,
    {
        self.connection.describe(sql)
    }
}

impl<'p> Executor<'p> for &'p Database {
    type Database = Postgres;

    fn fetch_many<'e, 'q: 'e, E>(self, query: E) -> BoxStream<'e, Result<Either<PgQueryResult, PgRow>, sqlx::Error>>
    where
        'p: 'e,
        E: 'q + Execute<'q, Postgres>,
    {
        if !self.is_pooled {
            return self.pool.fetch_many(query);
        }
        let all = async move {
            let mut opened = self.begin().await?;
            let rows: Vec<_> = opened.on().fetch_many(query).map(Ok::<_, sqlx::Error>).try_collect().await?;
            opened.commit().await?;
            Ok::<_, sqlx::Error>(stream::iter(rows))
        };
        all.try_flatten_stream().boxed()
    }

    fn fetch_optional<'e, 'q: 'e, E>(self, query: E) -> BoxFuture<'e, Result<Option<PgRow>, sqlx::Error>>
    where
        'p: 'e,
        E: 'q + Execute<'q, Postgres>,
    {
        if !self.is_pooled {
            return self.pool.fetch_optional(query);
        }
        Box::pin(async move {
            let mut opened = self.begin().await?;
            let row = opened.on().fetch_optional(query).await?;
            opened.commit().await?;
            Ok(row)
        })
    }

    fn prepare_with<'e>(self, sql: SqlStr, types: &'e [PgTypeInfo]) -> BoxFuture<'e, Result<PgStatement, sqlx::Error>>
    where
        'p: 'e,
    {
        self.pool.prepare_with(sql, types)
    }

    fn describe<'e>(self, sql: SqlStr) -> BoxFuture<'e, Result<Describe<Postgres>, sqlx::Error>>
    where
        'p: 'e,
    {
        self.pool.describe(sql)
    }
}
