//! Sends what is queued. Each line has a loop of its own, so that a gateway that is down holds up no other.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::{Notify, watch};
use tokio::task::JoinSet;
use tracing::{info, warn};
use uuid::Uuid;

use crate::answering::encoding_of;
use crate::lines::{Lines, NotTaken, Outgoing};
use crate::store::{Lease, Signal, Store, StoreError};

/// Calls to one gateway at once.
const AT_ONCE: usize = 16;

/// Longer than a gateway's call may take, so that no reply is tried by two senders.
const LEASE: Duration = Duration::from_secs(45);

/// How often a loop looks by itself: for retries that fall due, and wake-ups that were lost.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// Tries, about three hours apart from first to last.
const TRIES: i32 = 15;
const LONGEST_PAUSE: Duration = Duration::from_secs(30 * 60);

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
            let line = Line { name: name.clone(), store: store.clone(), lines: Arc::clone(lines) };
            loops.spawn(line.run(wake, stop.subscribe()));
        }
        loops.spawn(pass_on_wake_ups(store.clone(), wakes, stop.subscribe()));
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
    store: Store,
    lines: Arc<Lines>,
}

impl Line {
    async fn run(self, wake: Arc<Notify>, mut stop: watch::Receiver<bool>) {
        let line = Arc::new(self);
        let mut calls = JoinSet::new();
        loop {
            let free = AT_ONCE - calls.len();
            if free > 0 {
                match line.store.lease(&line.name, free as i64, LEASE).await {
                    Ok(leases) => {
                        for lease in leases {
                            calls.spawn(Arc::clone(&line).try_once(lease));
                        }
                    }
                    Err(error) => warn!(%error, line = line.name, "nothing could be taken from the outbox"),
                }
            }
            tokio::select! {
                biased;
                _ = stop.wait_for(|stop| *stop) => break,
                // A call that ends makes room, and may let the same number's next reply go.
                Some(_) = calls.join_next() => {}
                () = wake.notified() => {}
                () = tokio::time::sleep(LOOK_EVERY) => {}
            }
        }
        let drained = tokio::time::timeout(DRAIN, async { while calls.join_next().await.is_some() {} }).await;
        if drained.is_err() {
            warn!(line = line.name, "calls were cut off; they are tried again at the next start");
        }
    }

    async fn try_once(self: Arc<Self>, lease: Lease) {
        let (id, attempt) = (lease.id, lease.attempts);
        let message = Outgoing {
            id,
            from: lease.sender,
            to: lease.recipient,
            encoding: encoding_of(&lease.encoding),
            parts: usize::try_from(lease.parts).unwrap_or_default(),
            text: lease.body,
        };
        let kept = match self.lines.send(&self.name, &message).await {
            Ok(()) => {
                info!(reply = %id, line = self.name, attempt, "taken");
                self.store.taken(id, attempt).await
            }
            Err(reason) => self.not_taken(id, attempt, &reason).await,
        };
        if let Err(error) = kept {
            // The lease runs out and the same message goes out again under the same id.
            warn!(%error, reply = %id, line = self.name, "the outcome was not stored");
        }
    }

    async fn not_taken(&self, id: Uuid, attempt: i32, reason: &NotTaken) -> Result<(), StoreError> {
        self.store.not_taken(id, attempt, &reason.to_string()).await?;
        if attempt >= TRIES {
            warn!(reply = %id, line = self.name, attempt, %reason, "undelivered, not tried again");
            return self.store.undelivered(id, attempt).await;
        }
        let pause = pause_after(attempt);
        info!(reply = %id, line = self.name, attempt, %reason, pause_s = pause.as_secs(), "not taken, tried again later");
        self.store.retry_later(id, attempt, pause).await
    }
}

/// One second after the first try, twice as long after each next one, at most half an hour.
fn pause_after(attempt: i32) -> Duration {
    let doublings = u32::try_from(attempt - 1).unwrap_or_default().min(20);
    Duration::from_secs(1 << doublings).min(LONGEST_PAUSE)
}

/// Wakes every loop when a reply was queued by anyone on this database.
async fn pass_on_wake_ups(store: Store, wakes: Vec<Arc<Notify>>, mut stop: watch::Receiver<bool>) {
    loop {
        let listen = async {
            let mut waker = store.hear(Signal::Outbox).await?;
            loop {
                waker.wait().await?;
                wakes.iter().for_each(|wake| wake.notify_one());
            }
        };
        let ended: Result<(), StoreError> = tokio::select! {
            biased;
            _ = stop.wait_for(|stop| *stop) => return,
            ended = listen => ended,
        };
        if let Err(error) = ended {
            warn!(%error, "wake-ups not heard; the loops look every few seconds");
        }
        tokio::select! {
            _ = stop.wait_for(|stop| *stop) => return,
            () = tokio::time::sleep(LOOK_EVERY) => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pauses_grow_and_stay_bounded_over_hours() {
        let pauses: Vec<u64> = (1..TRIES).map(|attempt| pause_after(attempt).as_secs()).collect();
        assert_eq!(pauses[..4], [1, 2, 4, 8]);
        assert!(pauses.windows(2).all(|pair| pair[0] <= pair[1]));
        assert_eq!(pauses.last(), Some(&LONGEST_PAUSE.as_secs()));
        let total_h = pauses.iter().sum::<u64>() as f64 / 3600.0;
        assert!((2.0..4.0).contains(&total_h), "{total_h}");
    }
}
