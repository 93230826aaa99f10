//! The tables' history, forward only.

use sqlx::migrate::{MigrateError, Migrator};

use super::{Store, StoreError};

static MIGRATIONS: Migrator = sqlx::migrate!();

impl Store {
    pub(super) async fn migrate(&self) -> Result<(), StoreError> {
        MIGRATIONS.run(&self.pool).await.map_err(|error| match error {
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => {
                let code = error.as_database_error().and_then(|error| error.code()).unwrap_or_default().into_owned();
                super::NoEntry::of_code(&code).map_or_else(|| error.into(), StoreError::from)
            }
            MigrateError::VersionMissing(version) => StoreError::Schema(format!("has step {version}")),
            MigrateError::VersionMismatch(version) => StoreError::Schema(format!("differs at step {version}")),
            MigrateError::Dirty(version) => StoreError::Schema(format!("stopped in step {version}")),
            _ => StoreError::Schema("unknown steps".to_owned()),
        })
    }

    /// Whether the database answers, and whose tables it has.
    pub async fn readiness(&self) -> Readiness {
        let ours: Vec<i64> = MIGRATIONS.iter().map(|step| step.version).collect();
        let applied: Result<(i64, i64), _> = sqlx::query_as(
            "select count(*) filter (where version = any($1)), count(*) filter (where version <> all($1))
             from _sqlx_migrations where success",
        )
        .bind(&ours)
        .fetch_one(&self.pool)
        .await;
        match applied {
            Ok((known, _)) if usize::try_from(known) != Ok(ours.len()) => Readiness::NotReady,
            Ok((_, 0)) => Readiness::Ready,
            Ok(_) => Readiness::Newer,
            Err(_) => Readiness::NotReady,
        }
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
    /// It does not answer, or lacks a step.
    NotReady,
}
