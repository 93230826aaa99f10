//! Signals between processes on one database, by LISTEN and NOTIFY. One that is lost costs only the next look at the clock.

use sqlx::postgres::PgListener;

use super::{Store, StoreError};

/// What a signal says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Signal {
    /// There is something to send.
    Outbox,
    /// A place, a price or the like has changed.
    World,
    /// A waiting talk came, was taken or was dealt with.
    Desk,
    /// A bulk list has rows to answer.
    Bulk,
}

impl Signal {
    fn channel(self) -> &'static str {
        match self {
            Signal::Outbox => "noonwater_outbox",
            Signal::World => "noonwater_world",
            Signal::Desk => "noonwater_desk",
            Signal::Bulk => "noonwater_bulk",
        }
    }
}

impl Store {
    /// Sends a signal to whoever listens.
    pub async fn signal(&self, signal: Signal) -> Result<(), StoreError> {
        sqlx::query("select pg_notify($1, '')").bind(signal.channel()).execute(&self.pool).await?;
        Ok(())
    }

    /// Listens from now on.
    pub async fn hear(&self, signal: Signal) -> Result<Ear, StoreError> {
        let mut listener = PgListener::connect_with(&self.pool).await?;
        listener.listen(signal.channel()).await?;
        Ok(Ear { listener })
    }
}

/// Hears one kind of signal.
pub struct Ear {
    listener: PgListener,
}

impl Ear {
    /// Returns at the next signal, or when the connection was made anew and one may have been missed.
    pub async fn wait(&mut self) -> Result<(), StoreError> {
        self.listener.try_recv().await?;
        Ok(())
    }
}
