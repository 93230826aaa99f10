//! What staff have typed for a grower and not sent.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use sqlx::types::Json;
use uuid::Uuid;

use crate::store::error::StoreError;
use crate::store::handle::Step;
use crate::store::handle::Store;

/// The fields of a form by name.
type Fields = BTreeMap<String, String>;

/// Those fields, and when they were kept.
pub type Draft = (Fields, DateTime<Utc>);

impl Store {
    pub async fn draft(&self, number: &str, staff: Uuid) -> Result<Option<Draft>, StoreError> {
        let row: Option<(Json<Fields>, DateTime<Utc>)> =
            sqlx::query_as("select fields, updated_at from draft where number = $1 and staff = $2")
                .bind(number)
                .bind(staff)
                .fetch_optional(&self.database)
                .await?;
        Ok(row.map(|(fields, at)| (fields.0, at)))
    }
}

impl Step<'_> {
    pub async fn keep_draft(
        &mut self,
        number: &str,
        staff: Uuid,
        fields: &Fields,
        now: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "insert into draft (number, staff, fields, updated_at) values ($1, $2, $3, $4)
             on conflict (number, staff) do update set fields = excluded.fields, updated_at = excluded.updated_at",
        )
        .bind(number)
        .bind(staff)
        .bind(Json(fields))
        .bind(now)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }

    pub async fn drop_draft(&mut self, number: &str, staff: Uuid) -> Result<(), StoreError> {
        sqlx::query("delete from draft where number = $1 and staff = $2")
            .bind(number)
            .bind(staff)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }
}
