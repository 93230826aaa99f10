//! The tables' history, forward only.

use sqlx::Executor;
use sqlx::migrate::{MigrateError, Migrator};

use crate::store::error::StoreError;
use crate::store::handle::Store;

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
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => error.into(),
            MigrateError::VersionMissing(version) => StoreError::Schema(format!("has step {version}")),
            MigrateError::VersionMismatch(version) => StoreError::Schema(format!("differs at step {version}")),
            MigrateError::Dirty(version) => StoreError::Schema(format!("stopped in step {version}")),
            _ => StoreError::Schema("unknown steps".to_owned()),
        })?;
        step.commit().await
    }

    /// Whether the database answers and has every step of this program.
    pub async fn is_ready(&self) -> bool {
        let newest = MIGRATIONS.iter().map(|step| step.version).max().unwrap_or_default();
        let applied: Result<Option<i64>, _> =
            sqlx::query_scalar("select max(version) from _sqlx_migrations where success").fetch_one(&self.database).await;
        applied.is_ok_and(|applied| applied == Some(newest))
    }
}
