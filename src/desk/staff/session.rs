//! A session that a stream of events belongs to: the stream ends with it.

use std::future::Future;
use std::sync::Arc;

use axum::http::HeaderMap;
use chrono::Utc;
use tokio::sync::watch;
use tokio::time::Instant;

use super::door::session_key;
use super::password::key_hash;
use super::streams::{LOOK_EVERY, Place};
use crate::desk::frame::fault::Fault;
use crate::desk::frame::member::Member;
use crate::desk::state::Desk;

/// What keeps a stream going: its place, its session, and the service.
pub struct Session {
    desk: Arc<Desk>,
    key_hash: Vec<u8>,
    ended: watch::Receiver<u64>,
    look_at: Instant,
    stopping: watch::Receiver<bool>,
    _place: Place,
}

impl Session {
    /// Takes a place for a stream.
    pub fn begin(desk: &Arc<Desk>, member: &Member, headers: &HeaderMap) -> Result<Self, Fault> {
        let place = desk.streams.place(member.id).ok_or(Fault::Crowded)?;
        let key_hash = session_key(headers).map(key_hash).unwrap_or_default();
        let (ended, stopping) = (desk.streams.hear(), desk.stopping.subscribe());
        let look_at = Instant::now() + LOOK_EVERY;
        Ok(Self { desk: Arc::clone(desk), key_hash, ended, look_at, stopping, _place: place })
    }

    /// The event that is waited for; none when the session or the service ends before it comes.
    pub async fn wait<T>(&mut self, event: impl Future<Output = Option<T>>) -> Option<T> {
        let mut event = std::pin::pin!(event);
        loop {
            tokio::select! {
                biased;
                _ = self.stopping.wait_for(|stop| *stop) => return None,
                heard = self.ended.changed() => heard.ok()?,
                () = tokio::time::sleep_until(self.look_at) => {}
                event = &mut event => return event,
            }
            self.look_at = Instant::now() + LOOK_EVERY;
            // A session that cannot be looked up now is looked up the next time.
            if matches!(self.desk.store.session(&self.key_hash, Utc::now()).await, Ok(None)) {
                return None;
            }
        }
    }
}
