//! Where PostgreSQL comes from: the operator's own by `DATABASE_URL`, or a private cluster in the data folder.

mod binaries;
mod cluster;
mod error;
mod fetch;
mod folder;
mod server_log;

use std::str::FromStr;

use secrecy::ExposeSecret;
use sqlx::postgres::PgConnectOptions;

use crate::config::Config;
use cluster::Cluster;
pub use error::DatabaseError;

/// A database to connect to, and the private cluster behind it if there is one.
pub struct Database {
    options: PgConnectOptions,
    cluster: Option<Cluster>,
}

impl Database {
    /// Connects nothing yet, but the server answers when this returns (if it is a private one).
    pub async fn open(config: &Config, fetch: bool) -> Result<Self, DatabaseError> {
        if let Some(url) = &config.database_url {
            let options = PgConnectOptions::from_str(url.expose_secret()).map_err(|_| DatabaseError::Url)?;
            return Ok(Self { options, cluster: None });
        }
        let data_dir = config.data_dir.clone().map_or_else(folder::usual, Ok)?;
        let cluster = Cluster::start(&data_dir, fetch).await?;
        Ok(Self { options: cluster.options(), cluster: Some(cluster) })
    }

    /// For a command beside the service: the private server that the service runs, or one of our own while nobody does.
    pub async fn open_or_join(config: &Config) -> Result<Self, DatabaseError> {
        match Self::open(config, false).await {
            Err(DatabaseError::InUse(data_dir)) => {
                let options = cluster::running(&data_dir).ok_or(DatabaseError::InUse(data_dir))?;
                Ok(Self { options, cluster: None })
            }
            opened => opened,
        }
    }

    pub fn options(&self) -> PgConnectOptions {
        self.options.clone()
    }

    /// Whether this process is the database's one user.
    pub fn is_private(&self) -> bool {
        self.cluster.is_some()
    }

    /// Returns when the private server has ended on its own; never for an operator's database.
    pub async fn ended(&mut self) {
        match &mut self.cluster {
            Some(cluster) => cluster.ended().await,
            None => std::future::pending().await,
        }
    }

    /// Stops the private server; everything committed is on disk.
    pub async fn close(self) {
        if let Some(cluster) = self.cluster {
            cluster.stop().await;
        }
    }
}
