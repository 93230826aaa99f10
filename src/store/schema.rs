//! The tables' history, forward only.

use sqlx::migrate::{MigrateError, Migrator};

use super::{Store, StoreError};

static MIGRATIONS: Migrator = sqlx::migrate!();

impl Store {
    pub(super) async fn migrate(&self) -> Result<(), StoreError> {
        MIGRATIONS.run(&self.pool).await.map_err(|error| match error {
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => error.into(),
            MigrateError::VersionMissing(version) => StoreError::Schema(format!("has step {version}")),
            MigrateError::VersionMismatch(version) => StoreError::Schema(format!("differs at step {version}")),
            MigrateError::Dirty(version) => StoreError::Schema(format!("stopped in step {version}")),
            _ => StoreError::Schema("unknown steps".to_owned()),
        })
    }

    /// Whether the database answers and has every step of this program.
    pub async fn is_ready(&self) -> bool {
        let newest = MIGRATIONS.iter().map(|step| step.version).max().unwrap_or_default();
        let applied: Result<Option<i64>, _> =
            sqlx::query_scalar("select max(version) from _sqlx_migrations where success").fetch_one(&self.pool).await;
        applied.is_ok_and(|applied| applied == Some(newest))
    }
}
