//! Answers the rows of bulk lists. A batch is taken, answered and kept in one transaction: a stop gives it back whole.

use std::sync::Arc;
use std::time::Duration;

use chrono::Utc;
use tokio::sync::Notify;
use tracing::{info, warn};

use super::background::{Background, Stopped};
use crate::many;
use crate::store::{BulkAnswer, BulkWork, Signal, Store, StoreError};
use crate::turn::World;
use crate::world::Shelf;

/// Rows in one transaction: little is done twice after a stop, and an open page sees the list move.
const BATCH: i64 = 200;

/// How often the loop looks by itself.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// Takes what waits for as long as the service runs.
pub fn start(store: Store, shelf: Arc<Shelf>) -> Background {
    Background::start(async move |stopped| {
        let wake = Notify::new();
        let listening = store.follow(Signal::Bulk, None, stopped.clone(), || {
            wake.notify_one();
            std::future::ready(())
        });
        tokio::join!(listening, answer_all(&store, &shelf, &wake, stopped));
    })
}

async fn answer_all(store: &Store, shelf: &Shelf, wake: &Notify, mut stopped: Stopped) {
    loop {
        match batch(store, shelf).await {
            Ok(0) => {}
            Ok(rows) => {
                info!(rows, "bulk rows answered");
                if *stopped.borrow() {
                    return;
                }
                continue;
            }
            Err(error) => warn!(%error, "bulk rows not answered"),
        }
        tokio::select! {
            biased;
            _ = stopped.wait_for(|stop| *stop) => return,
            () = wake.notified() => {}
            () = tokio::time::sleep(LOOK_EVERY) => {}
        }
    }
}

async fn batch(store: &Store, shelf: &Shelf) -> Result<usize, StoreError> {
    let mut step = store.begin().await?;
    let rows = step.take_bulk_rows(BATCH).await?;
    if rows.is_empty() {
        return Ok(0);
    }
    let world = shelf.now();
    // The year of a set takes a processor for a while: each has its share, and other work goes on beside them.
    let processors = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let share = rows.len().div_ceil(processors).max(1);
    let mut rows = rows.into_iter();
    let mut shares = Vec::new();
    loop {
        let some: Vec<BulkWork> = rows.by_ref().take(share).collect();
        if some.is_empty() {
            break;
        }
        let world = Arc::clone(&world);
        shares.push(tokio::task::spawn_blocking(move || {
            some.into_iter().map(|row| (row.list, row.n, answer(&world, &row))).collect::<Vec<_>>()
        }));
    }
    let mut answers = Vec::new();
    for share in shares {
        let Ok(some) = share.await else { return Ok(0) };
        answers.extend(some);
    }
    step.bulk_rows_done(&answers).await?;
    step.commit().await?;
    Ok(answers.len())
}

fn answer(world: &World, row: &BulkWork) -> BulkAnswer {
    let work = || many::answer(world, &row.text, row.language.as_deref(), row.place.as_deref(), Utc::now());
    // One row that fails the core must not hold up the others for ever.
    let Ok(answer) = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work)) else {
        return BulkAnswer {
            trouble: Some("failed".to_owned()),
            problem: Some("no answer could be made; a human must answer".to_owned()),
            ..BulkAnswer::default()
        };
    };
    let (code, sentence) = answer.refused.map(|refused| (refused.code, refused.message)).unzip();
    BulkAnswer {
        encoding: answer.reply.as_ref().map(|(_, encoding, _)| encoding.name()),
        parts: answer.reply.as_ref().and_then(|(.., parts)| i32::try_from(*parts).ok()),
        reply: answer.reply.map(|(text, ..)| text),
        verdict: answer.verdict,
        water_m3_day: answer.water_m3_day,
        area_m2: answer.area_m2,
        trouble: code,
        problem: sentence,
    }
}
