//! Sends what is queued. Each line has a loop of its own, so that a gateway that is down holds up no other. When what is tried
//! again stands in `sending`, what is known of a line in the store's `line_state`.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::{Notify, watch};
use tokio::task::JoinSet;
use tracing::{error, info, warn};
use uuid::Uuid;

use crate::lines::{Lines, NotTaken, Outgoing};
use crate::meters;
use crate::reply::Encoding;
use crate::sending::pause_after;
use crate::store::{Lease, Leased, Signal, Store, StoreError};

/// Calls to one gateway at once.
const AT_ONCE: usize = 16;

/// How often a loop looks by itself: for retries that fall due, and wake-ups that were lost. On a line with a pace, for the
/// next message that may go.
const LOOK_EVERY: Duration = Duration::from_secs(1);
const LOOK_EVERY_PACED: Duration = Duration::from_millis(200);

/// How long a stop waits for calls in hand; a lease cut off here is tried again at the next start.
const DRAIN: Duration = Duration::from_secs(15);

/// Running loops.
pub struct Delivery {
    loops: JoinSet<()>,
    stop: watch::Sender<bool>,
}

impl Delivery {
    /// One loop for each of these lines.
    pub fn start(store: &Store, lines: &Arc<Lines>, names: &[String]) -> Self {
        let (stop, _) = watch::channel(false);
        let mut loops = JoinSet::new();
        let mut wakes = Vec::new();
        for name in names {
            let wake = Arc::new(Notify::new());
            wakes.push(Arc::clone(&wake));
            let a_second = lines.a_second(name);
            let line = Line { name: name.clone(), a_second, store: store.clone(), lines: Arc::clone(lines) };
            loops.spawn(line.run(wake, stop.subscribe()));
        }
        let (store, stopped) = (store.clone(), stop.subscribe());
        loops.spawn(async move {
            let wake = || {
                wakes.iter().for_each(|wake| wake.notify_one());
                std::future::ready(())
            };
            store.follow(Signal::Outbox, None, stopped, wake).await;
        });
        Self { loops, stop }
    }

    /// Begins nothing more and waits for what is in hand.
    pub async fn stop(mut self) {
        self.stop.send_replace(true);
        while self.loops.join_next().await.is_some() {}
    }
}

/// One line's loop.
struct Line {
    name: String,
    a_second: Option<u32>,
    store: Store,
    lines: Arc<Lines>,
}

impl Line {
    async fn run(self, wake: Arc<Notify>, mut stop: watch::Receiver<bool>) {
        let line = Arc::new(self);
        let look_every = if line.a_second.is_some() { LOOK_EVERY_PACED } else { LOOK_EVERY };
        let mut calls = JoinSet::new();
        loop {
            let free = AT_ONCE - calls.len();
            if free > 0 {
                match line.store.lease(&line.name, free as i64, line.a_second).await {
                    Ok(Leased { leases, is_probe }) => {
                        for lease in leases {
                            calls.spawn(Arc::clone(&line).try_once(lease, is_probe));
                        }
                    }
                    Err(error) => warn!(%error, line = line.name, "nothing could be taken from what is queued"),
                }
            }
            tokio::select! {
                biased;
                _ = stop.wait_for(|stop| *stop) => break,
                // A call that ends makes room, and may let the same number's next reply go.
                Some(_) = calls.join_next() => {}
                () = wake.notified() => {}
                () = tokio::time::sleep(look_every) => {}
            }
        }
        let drained = tokio::time::timeout(DRAIN, async { while calls.join_next().await.is_some() {} }).await;
        if drained.is_err() {
            warn!(line = line.name, "calls were cut off; they are tried again at the next start");
        }
    }

    async fn try_once(self: Arc<Self>, lease: Lease, is_probe: bool) {
        let (id, attempt) = (lease.id, lease.attempts);
        let kept = if lease.opted_out {
            info!(reply = %id, line = self.name, "not sent, the number has opted out");
            meters::tried(&self.name, "stopped");
            self.store.stopped(id, attempt).await
        } else {
            match self.lines.send(&self.name, &outgoing(lease)).await {
                Ok(()) => self.taken(id, attempt).await,
                Err(reason) => self.not_taken(id, attempt, &reason, is_probe).await,
            }
        };
        if let Err(error) = kept {
            // The lease runs out and the same message goes out again under the same id.
            warn!(%error, reply = %id, line = self.name, "the outcome was not stored");
        }
    }

    async fn taken(&self, id: Uuid, attempt: i32) -> Result<(), StoreError> {
        info!(reply = %id, line = self.name, attempt, "taken");
        meters::tried(&self.name, "taken");
        self.store.taken(id, attempt).await?;
        self.line_works().await
    }

    async fn line_works(&self) -> Result<(), StoreError> {
        if self.store.line_works(&self.name).await? {
            warn!(line = self.name, "the line works again");
        }
        Ok(())
    }

    /// What a failure asks for, by its kind.
    async fn not_taken(&self, id: Uuid, attempt: i32, why: &NotTaken, is_probe: bool) -> Result<(), StoreError> {
        let reason = why.to_string();
        meters::tried(&self.name, why.outcome());
        match why {
            NotTaken::Refused(_) | NotTaken::NoWay(_) => {
                warn!(reply = %id, line = self.name, reason, "refused for good");
                self.store.refused(id, attempt, &reason).await?;
                // A gateway that refuses one message is there for the others.
                self.line_works().await
            }
            NotTaken::SlowDown(pause) => {
                info!(line = self.name, pause_s = pause.as_secs(), "the gateway asks for less");
                self.line_works().await?;
                self.store.slow_down(&self.name, *pause, &reason).await?;
                self.store.retry_later(id, attempt, Duration::ZERO, &reason).await
            }
            NotTaken::Status(_) | NotTaken::NoAnswer | NotTaken::NoLine => {
                let pause = pause_after(attempt);
                info!(reply = %id, line = self.name, attempt, reason, pause_s = pause.as_secs(), "not taken, tried again");
                self.store.retry_later(id, attempt, pause, &reason).await?;
                if self.store.line_failed(&self.name, is_probe, &reason).await? && !is_probe {
                    error!(line = self.name, reason, "the line is down; one message at a time tries it");
                }
                Ok(())
            }
        }
    }
}

fn outgoing(lease: Lease) -> Outgoing {
    Outgoing {
        id: lease.id,
        from: lease.sender,
        to: lease.recipient,
        encoding: Encoding::named(&lease.encoding),
        parts: usize::try_from(lease.parts).unwrap_or_default(),
        text: lease.body,
    }
}
