//! The price list. What a price means is the core's; here it is a row.

use chrono::{DateTime, Utc};
use serde_json::Value;

use super::{Store, StoreError};

impl Store {
    /// Stores a price list, in force from now on.
    pub async fn put_prices(&self, prices: &Value, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("insert into price_list (prices, imported_at) values ($1, $2)")
            .bind(prices)
            .bind(now)
            .execute(&self.pool)
            .await?;
        Ok(())
    }

    /// The price list in force, if there is one.
    pub async fn prices(&self) -> Result<Option<Value>, StoreError> {
        Ok(sqlx::query_scalar("select prices from price_list order by id desc limit 1").fetch_optional(&self.pool).await?)
    }
}
