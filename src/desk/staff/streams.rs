//! Streams of events that pages keep open: how many there may be, and when each looks whether its session still goes on.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use tokio::sync::watch;
use uuid::Uuid;

/// Streams at once, and of one account: one a browser, and one a list that is looked at.
const MOST: usize = 512;
const MOST_OF_ONE: usize = 32;

/// How often a stream looks by itself whether its session goes on: it may have been ended by another process.
pub const LOOK_EVERY: Duration = Duration::from_secs(30);

/// The places, by account, and the word that sessions have ended.
#[derive(Default)]
pub struct Streams {
    taken: Arc<Mutex<HashMap<Uuid, usize>>>,
    ended: watch::Sender<u64>,
}

/// The place of one stream, until it is dropped.
pub struct Place {
    taken: Arc<Mutex<HashMap<Uuid, usize>>>,
    staff: Uuid,
}

impl Streams {
    /// A place for a stream of this account; none when there are enough.
    pub fn place(&self, staff: Uuid) -> Option<Place> {
        let mut taken = self.taken.lock().unwrap_or_else(PoisonError::into_inner);
        let all: usize = taken.values().sum();
        let own = taken.get(&staff).copied().unwrap_or_default();
        if all >= MOST || own >= MOST_OF_ONE {
            return None;
        }
        taken.insert(staff, own + 1);
        Some(Place { taken: Arc::clone(&self.taken), staff })
    }

    /// Sessions have ended: each stream looks whether its own has.
    pub fn look_again(&self) {
        self.ended.send_modify(|times| *times += 1);
    }

    /// Hears that sessions have ended.
    pub fn hear(&self) -> watch::Receiver<u64> {
        self.ended.subscribe()
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut taken = self.taken.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(own) = taken.get_mut(&self.staff) {
            *own -= 1;
            if *own == 0 {
                taken.remove(&self.staff);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_by_account_and_given_back() {
        let streams = Streams::default();
        let asha = Uuid::now_v7();
        let mut places: Vec<Place> = (0..MOST_OF_ONE).map_while(|_| streams.place(asha)).collect();
        assert_eq!(places.len(), MOST_OF_ONE);
        assert!(streams.place(asha).is_none() && streams.place(Uuid::now_v7()).is_some());
        places.pop();
        assert!(streams.place(asha).is_some());
        drop(places);
        let others: Vec<Place> = (0..MOST + 1).map_while(|_| streams.place(Uuid::now_v7())).collect();
        assert_eq!(others.len(), MOST);
    }
}
