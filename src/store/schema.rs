//! The tables' history, forward only.

use sqlx::Executor;
use sqlx::migrate::{MigrateError, Migrator};

use crate::store::entry::NoEntry;
use crate::store::error::StoreError;
use crate::store::handle::Store;

/// Octets: more than a page has left over.
const ROOM_ASKED: i32 = 65_536;

static MIGRATIONS: Migrator = sqlx::migrate!();

impl Store {
    pub(super) async fn migrate(&self) -> Result<(), StoreError> {
        let mut step = self.begin().await?;
        // One service at a time, all steps or none, and as long as they take. A lock of the session would outlive its holder
        // behind a pooler, and so would prepared statements.
        step.opened.raw().execute("set local statement_timeout = 0; select pg_advisory_xact_lock(1312902996)").await?;
        let is_pooled = self.database.is_pooled();
        if is_pooled {
            step.opened.raw().execute("deallocate all").await?;
        }
        let mut steps = Migrator { migrations: MIGRATIONS.migrations.clone(), ..Migrator::DEFAULT };
        steps.set_locking(false);
        let run = steps.run(step.opened.raw()).await;
        if is_pooled {
            // After a failed step there is nothing to leave behind but the failure.
            let _ = step.opened.raw().execute("deallocate all").await;
        }
        run.map_err(|error| match error {
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => {
                let code = error.as_database_error().and_then(|error| error.code()).unwrap_or_default().into_owned();
                NoEntry::of_code(&code).map_or_else(|| error.into(), StoreError::from)
            }
            MigrateError::VersionMissing(version) => StoreError::Schema(format!("has step {version}")),
            MigrateError::VersionMismatch(version) => StoreError::Schema(format!("differs at step {version}")),
            MigrateError::Dirty(version) => StoreError::Schema(format!("stopped in step {version}")),
            _ => StoreError::Schema("unknown steps".to_owned()),
        })?;
        step.commit().await
    }

    /// Whether the database answers, and whose tables it has.
    pub async fn readiness(&self) -> Readiness {
        let ours: Vec<i64> = MIGRATIONS.iter().map(|step| step.version).collect();
        let applied: Result<(i64, i64), _> = sqlx::query_as(
            "select count(*) filter (where version = any($1)), count(*) filter (where version <> all($1))
             from _sqlx_migrations where success",
        )
        .bind(&ours)
        .fetch_one(&self.database)
        .await;
        match applied {
            Ok((known, _)) if usize::try_from(known) != Ok(ours.len()) => Readiness::NotReady,
            Ok(_) if self.has_room().await.is_err() => Readiness::NoRoom,
            Ok((_, 0)) => Readiness::Ready,
            Ok(_) => Readiness::Newer,
            Err(_) => Readiness::NotReady,
        }
    }

    /// Asks for room and gives it back: a database that answers may have none left to store anything in.
    async fn has_room(&self) -> Result<(), StoreError> {
        let mut step = self.begin().await?;
        // Where all is read only, nothing is going to be stored.
        let is_read_only: String =
            sqlx::query_scalar("select current_setting('transaction_read_only')").fetch_one(step.opened.on()).await?;
        if is_read_only != "on" {
            sqlx::query("insert into room_probe values (repeat('.', $1)::bytea)")
                .bind(ROOM_ASKED)
                .execute(step.opened.on())
                .await?;
        }
        Ok(())
    }

    /// Whether the database answers and has every step of this program.
    pub async fn is_ready(&self) -> bool {
        self.readiness().await != Readiness::NotReady
    }
}

/// What the database can be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Readiness {
    Ready,
    /// It also has steps of a newer version, which only add to what this one uses: this one goes on.
    Newer,
    /// It answers, and cannot store anything more.
    NoRoom,
    /// It does not answer, or lacks a step.
    NotReady,
}
