//! A list's progress as events: looked at once a second for all the pages that follow it.

use std::convert::Infallible;
use std::sync::{Arc, PoisonError};
use std::time::Duration;

use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::response::sse::{Event, Sse};
use futures_util::stream::{Stream, unfold};
use tokio::sync::watch;
use uuid::Uuid;

use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::staff::session::Session;
use crate::desk::state::Desk;
use crate::store::BulkCounts;

const LOOK_EVERY: Duration = Duration::from_secs(1);

/// One event a second while the list is being answered, and one when it is.
pub async fn events(
    State(desk): State<Arc<Desk>>,
    member: Member,
    headers: HeaderMap,
    Path(list): Path<Uuid>,
) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>>>, Fault> {
    let session = Session::begin(&desk, &member, &headers)?;
    let stream = unfold((follow(&desk, list), session), |(mut counts, mut session)| async move {
        session.wait(async { counts.changed().await.ok() }).await?;
        let done = counts.borrow_and_update().map_or(0, |counts| counts.done);
        Some((Ok(Event::default().event("changed").data(done.to_string())), (counts, session)))
    });
    Ok(Sse::new(stream))
}

/// The counts of a list, for one more who follows it.
fn follow(desk: &Arc<Desk>, list: Uuid) -> watch::Receiver<Option<BulkCounts>> {
    let mut followed = desk.followed.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(counts) = followed.get(&list) {
        return counts.subscribe();
    }
    let (counts, receiver) = watch::channel(None);
    followed.insert(list, counts);
    tokio::spawn(look(Arc::clone(desk), list));
    receiver
}

/// Looks at a list until nobody follows it or it is done; the streams end with it.
async fn look(desk: Arc<Desk>, list: Uuid) {
    loop {
        tokio::time::sleep(LOOK_EVERY).await;
        let counts = desk.store.bulk_counts(list).await.ok();
        let mut followed = desk.followed.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(sender) = followed.get(&list) else { return };
        let is_left = sender.receiver_count() == 0;
        sender.send_replace(counts);
        if is_left || counts.is_none_or(|counts| counts.done == counts.rows) {
            followed.remove(&list);
            return;
        }
    }
}
