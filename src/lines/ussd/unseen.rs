//! Calls of menu sessions whose answer nobody has seen. A gateway whose call broke off makes it again, and the same key must
//! then not be taken for the answer to the next question: the call made again has the name of the first.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use uuid::Uuid;

/// A session is over long before.
const KEPT: Duration = Duration::from_secs(120);

struct Call {
    input: String,
    external_id: String,
    at: Instant,
}

/// The newest call of each session, until its answer is handed over.
#[derive(Clone, Default)]
pub struct Unseen(Arc<Mutex<HashMap<String, Call>>>);

/// A call whose answer is being made. Dropped without a word, its answer was not seen.
pub struct Answering {
    calls: Unseen,
    session: String,
    external_id: String,
}

impl Unseen {
    /// Begins a call. One by the gateway's own name is the same wherever it comes again; one without is the same as the
    /// session's last if that was not seen and keyed the same.
    pub fn begin(&self, session: &str, input: &str, id: Option<&str>) -> Answering {
        let mut calls = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        calls.retain(|_, call| call.at.elapsed() < KEPT);
        let again = calls.get(session).filter(|call| call.input == input).map(|call| call.external_id.clone());
        let external_id = match id {
            Some(id) => format!("{session} {id}"),
            None => again.unwrap_or_else(|| format!("{session} {}", Uuid::now_v7())),
        };
        let call = Call { input: input.to_owned(), external_id: external_id.clone(), at: Instant::now() };
        calls.insert(session.to_owned(), call);
        Answering { calls: self.clone(), session: session.to_owned(), external_id }
    }
}

impl Answering {
    pub fn external_id(&self) -> &str {
        &self.external_id
    }

    /// The caller has the answer: the same key again is another one.
    pub fn mark_seen(self) {
        let mut calls = self.calls.0.lock().unwrap_or_else(PoisonError::into_inner);
        if calls.get(&self.session).is_some_and(|call| call.external_id == self.external_id) {
            calls.remove(&self.session);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_call_made_again_before_its_answer_was_seen_is_the_same_call() {
        let calls = Unseen::default();
        let first = calls.begin("s", "1", None);
        let name = first.external_id().to_owned();
        drop(first);
        assert_eq!(calls.begin("s", "1", None).external_id(), name);
        assert_ne!(calls.begin("t", "1", None).external_id(), name, "another session");
        assert_ne!(calls.begin("s", "2", None).external_id(), name, "another key");
        let seen = calls.begin("s", "3", None);
        let name = seen.external_id().to_owned();
        seen.mark_seen();
        assert_ne!(calls.begin("s", "3", None).external_id(), name, "it was seen");
        assert_eq!(calls.begin("s", "3", Some("g-1")).external_id(), calls.begin("s", "3", Some("g-1")).external_id());
    }
}
