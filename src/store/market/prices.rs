//! The price list and the classes of pump. What they mean is the core's; here they are rows.

use chrono::{DateTime, Utc};
use serde_json::Value;
use sqlx::FromRow;

use crate::store::error::StoreError;
use crate::store::handle::{Step, Store};

/// A class of pump as the database holds it.
#[derive(Debug, Clone, PartialEq, FromRow)]
pub struct PumpClassRow {
    pub name: String,
    pub label_v: f64,
    pub flow_l_h: f64,
    pub head_m: f64,
    pub amps: Option<f64>,
    pub electronics: bool,
    pub life_h: f64,
}

/// A price list as it was put in; its number tells whether it has been replaced since.
#[derive(Debug, Clone, PartialEq, FromRow)]
pub struct PricesRow {
    pub id: i64,
    pub prices: Value,
}

const NEWEST: &str = "select id, prices from price_list order by id desc limit 1";

impl Step<'_> {
    /// The price list in force, which nobody else changes until this step ends.
    pub async fn lock_prices(&mut self) -> Result<Option<PricesRow>, StoreError> {
        sqlx::query("lock table price_list in share row exclusive mode").execute(self.opened.on()).await?;
        Ok(sqlx::query_as(NEWEST).fetch_optional(self.opened.on()).await?)
    }

    /// Stores a price list, in force from now on.
    pub async fn put_prices(&mut self, prices: &Value, now: DateTime<Utc>) -> Result<(), StoreError> {
        sqlx::query("insert into price_list (prices, imported_at) values ($1, $2)")
            .bind(prices)
            .bind(now)
            .execute(self.opened.on())
            .await?;
        Ok(())
    }

    /// Stores a class as a new one; false when there is one of its name.
    pub async fn add_pump_class(&mut self, class: &PumpClassRow) -> Result<bool, StoreError> {
        self.write_class(
            class,
            "insert into pump_class (name, label_v, flow_l_h, head_m, amps, electronics, life_h)
             values ($1, $2, $3, $4, $5, $6, $7) on conflict do nothing",
        )
        .await
    }

    /// Changes what a class is, not its name; false when there is none of that name.
    pub async fn change_pump_class(&mut self, class: &PumpClassRow) -> Result<bool, StoreError> {
        self.write_class(
            class,
            "update pump_class set label_v = $2, flow_l_h = $3, head_m = $4, amps = $5, electronics = $6, life_h = $7
             where name = $1",
        )
        .await
    }

    /// Runs a statement with the class as its values, $1 its name; false when it touched nothing.
    async fn write_class(&mut self, class: &PumpClassRow, statement: &'static str) -> Result<bool, StoreError> {
        let done = sqlx::query(statement)
            .bind(&class.name)
            .bind(class.label_v)
            .bind(class.flow_l_h)
            .bind(class.head_m)
            .bind(class.amps)
            .bind(class.electronics)
            .bind(class.life_h)
            .execute(self.opened.on())
            .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Takes a class out unless it is the last one; false when nothing was taken out.
    pub async fn remove_pump_class(&mut self, name: &str) -> Result<bool, StoreError> {
        sqlx::query("lock table pump_class in share row exclusive mode").execute(self.opened.on()).await?;
        let done = sqlx::query(
            "delete from pump_class where name = $1 and exists (select 1 from pump_class other where other.name <> $1)",
        )
        .bind(name)
        .execute(self.opened.on())
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Takes every class out, for others to be put in.
    pub async fn clear_pump_classes(&mut self) -> Result<(), StoreError> {
        sqlx::query("delete from pump_class").execute(self.opened.on()).await?;
        Ok(())
    }
}

impl Store {
    /// The price list in force, if there is one.
    pub async fn prices(&self) -> Result<Option<PricesRow>, StoreError> {
        Ok(sqlx::query_as(NEWEST).fetch_optional(&self.database).await?)
    }

    /// Every class of pump, in its order.
    pub async fn pump_classes(&self) -> Result<Vec<PumpClassRow>, StoreError> {
        Ok(sqlx::query_as(
            "select name, label_v, flow_l_h, head_m, amps, electronics, life_h from pump_class order by place",
        )
        .fetch_all(&self.database)
        .await?)
    }
}
