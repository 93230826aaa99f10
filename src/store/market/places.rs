//! The monthly climate of places. What a place means is the core's; here it is a row.

use chrono::{DateTime, Utc};
use serde_json::Value;
use sqlx::FromRow;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// One place as the database holds it.
#[derive(Debug, Clone, PartialEq, FromRow)]
pub struct PlaceRow {
    pub name: String,
    pub lat_deg: f64,
    pub lon_deg: f64,
    pub alt_m: f64,
    pub utc_offset_h: f64,
    pub coastal: bool,
    /// Month numbers, 1 to 12.
    pub season_months: Value,
    /// 1 to 12.
    pub low_water_month: Option<i16>,
    pub source: Option<String>,
    /// Twelve objects, January first.
    pub months: Value,
}

/// The form of a name that ignores case and outer spaces.
fn key_of(name: &str) -> String {
    name.trim().to_lowercase()
}

impl Step<'_> {
    /// Stores a place, in the stead of the one by that name if there is one.
    pub async fn put_place(&mut self, place: &PlaceRow, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query(
            "insert into place (name_key, name, lat_deg, lon_deg, alt_m, utc_offset_h, coastal, season_months,
                                months, low_water_month, source, updated_at)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)
             on conflict (name_key) do update set
                 name = excluded.name, lat_deg = excluded.lat_deg, lon_deg = excluded.lon_deg,
                 alt_m = excluded.alt_m, utc_offset_h = excluded.utc_offset_h, coastal = excluded.coastal,
                 season_months = excluded.season_months, months = excluded.months,
                 low_water_month = excluded.low_water_month, source = excluded.source, updated_at = excluded.updated_at",
        )
        .bind(key_of(&place.name))
        .bind(place.name.trim())
        .bind(place.lat_deg)
        .bind(place.lon_deg)
        .bind(place.alt_m)
        .bind(place.utc_offset_h)
        .bind(place.coastal)
        .bind(&place.season_months)
        .bind(&place.months)
        .bind(place.low_water_month)
        .bind(&place.source)
        .bind(now)
        .execute(self.opened.on())
        .await?;
        Ok(())
    }
}

impl Step<'_> {
    /// Whether there is a place of this name.
    pub async fn has_place(&mut self, name: &str) -> Result<bool, StoreError> {
        Ok(sqlx::query_scalar("select exists (select 1 from place where name_key = $1)")
            .bind(key_of(name))
            .fetch_one(self.opened.on())
            .await?)
    }

    /// Takes a place out; false when there was none of this name.
    pub async fn remove_place(&mut self, name: &str) -> Result<bool, StoreError> {
        let done =
            sqlx::query("delete from place where name_key = $1").bind(key_of(name)).execute(self.opened.on()).await?;
        Ok(done.rows_affected() == 1)
    }
}

impl Store {
    /// Every place, by name.
    pub async fn places(&self) -> Result<Vec<PlaceRow>, StoreError> {
        Ok(sqlx::query_as(
            "select name, lat_deg, lon_deg, alt_m, utc_offset_h, coastal, season_months, low_water_month, source, months
             from place order by name_key",
        )
        .fetch_all(&self.database)
        .await?)
    }
}
