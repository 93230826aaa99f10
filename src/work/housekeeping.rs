//! Puts before staff what has been tried for too long, and removes what has been kept for long enough.

use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use tracing::{info, warn};

use super::background::Background;
use crate::config::Retention;
use crate::store::{Kind, Store, StoreError};

const LOOK_EVERY: Duration = Duration::from_secs(60);

/// Looks between two removals: an hour.
const REMOVE_EVERY: u32 = 60;

/// How long a last word that a call has shown stays, so that the call may be made again.
const LAST_WORD: TimeDelta = TimeDelta::minutes(10);

/// Looks at once and then every minute for as long as the service runs.
pub fn start(store: Store, retention: Retention) -> Background {
    Background::start(async move |mut stopped| {
        let mut looks = 0;
        loop {
            if let Err(error) = look(&store, Utc::now()).await {
                warn!(%error, "what is too old was not looked through");
            }
            if looks % REMOVE_EVERY == 0
                && let Err(error) = remove(&store, &retention, Utc::now()).await
            {
                warn!(%error, "what is kept for too long was not removed");
            }
            looks += 1;
            tokio::select! {
                biased;
                _ = stopped.wait_for(|stop| *stop) => return,
                () = tokio::time::sleep(LOOK_EVERY) => {}
            }
        }
    })
}

async fn look(store: &Store, now: DateTime<Utc>) -> Result<(), StoreError> {
    loop {
        match store.give_up_old().await? {
            0 => break,
            messages => warn!(messages, "no gateway took them for days; staff see them"),
        }
    }
    store.remove_last_words(now - LAST_WORD).await
}

/// One removal of all kinds.
pub async fn remove(store: &Store, retention: &Retention, now: DateTime<Utc>) -> Result<(), StoreError> {
    let before = |days: u32| now - TimeDelta::days(days.into());
    for kind in Kind::ALL {
        let days = match kind {
            Kind::Messages => retention.messages_days,
            Kind::Lists => retention.lists_days,
            Kind::Counts => retention.counts_days,
            Kind::Audit => retention.audit_days,
        };
        let rows = store.remove_old(kind, before(days)).await?;
        if rows > 0 {
            info!(?kind, rows, "removed, kept long enough");
        }
    }
    let talks = store.remove_quiet_talks(before(retention.talks_days)).await?;
    if talks > 0 {
        info!(talks, "removed, quiet long enough");
    }
    Ok(())
}
