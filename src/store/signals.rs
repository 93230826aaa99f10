//! Signals between processes on one database, by LISTEN and NOTIFY. One that is lost costs only the next look at the clock.

use std::time::Duration;

use sqlx::postgres::PgListener;
use tokio::sync::watch;
use tracing::warn;

use crate::store::error::StoreError;
use crate::store::handle::Store;

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

    /// How often one looks where signals are not heard: seldom where a look costs much.
    fn look_every(self) -> Duration {
        Duration::from_secs(match self {
            Signal::Outbox | Signal::Bulk => 1,
            Signal::Desk => 5,
            Signal::World => 30,
        })
    }
}

impl Store {
    /// Sends a signal to whoever listens.
    pub async fn signal(&self, signal: Signal) -> Result<(), StoreError> {
        sqlx::query("select pg_notify($1, '')").bind(signal.channel()).execute(&self.database).await?;
        Ok(())
    }

    /// Listens from now on.
    pub async fn hear(&self, signal: Signal) -> Result<Ear, StoreError> {
        if self.database.is_pooled() {
            return Ok(Ear::Clock(signal.look_every()));
        }
        let mut listener = PgListener::connect_with(self.database.pool()).await?;
        listener.listen(signal.channel()).await?;
        Ok(Ear::Listener(Box::new(listener)))
    }
}

/// Pause before listening again after the connection was lost.
const PAUSE: Duration = Duration::from_secs(2);

impl Store {
    /// Does `each` at every signal, and whenever one may have been missed, until it is told to stop. `ear`, where given, has
    /// listened since before what is followed was first looked at.
    pub async fn follow<F: Future<Output = ()>>(
        &self,
        signal: Signal,
        mut ear: Option<Ear>,
        mut stop: watch::Receiver<bool>,
        mut each: impl FnMut() -> F,
    ) {
        loop {
            let first = ear.take();
            let following = async {
                let mut ear = match first {
                    Some(ear) => ear,
                    None => {
                        let ear = self.hear(signal).await?;
                        each().await;
                        ear
                    }
                };
                loop {
                    ear.wait().await?;
                    each().await;
                }
            };
            let ended: Result<(), StoreError> = tokio::select! {
                biased;
                _ = stop.wait_for(|stop| *stop) => return,
                ended = following => ended,
            };
            if let Err(error) = ended {
                warn!(%error, ?signal, "signals are not heard for a while");
            }
            tokio::select! {
                biased;
                _ = stop.wait_for(|stop| *stop) => return,
                () = tokio::time::sleep(PAUSE) => {}
            }
        }
    }
}

/// Hears one kind of signal.
pub enum Ear {
    Listener(Box<PgListener>),
    /// Behind a pooler nothing is heard: a look now and then has to do.
    Clock(Duration),
}

impl Ear {
    /// Returns at the next signal, or when the connection was made anew and one may have been missed.
    pub async fn wait(&mut self) -> Result<(), StoreError> {
        match self {
            Self::Listener(listener) => drop(listener.try_recv().await?),
            Self::Clock(every) => tokio::time::sleep(*every).await,
        }
        Ok(())
    }
}
