//! Hashing passwords in the memory of a few fixed buffers. Each hash fills 19 MiB; taken anew for every try, on whichever
//! thread, they would stay with the process for good.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use argon2::Block;
use tokio::sync::Semaphore;

use super::password::{self, PasswordError, blocks};

/// Passwords hashed at once: each takes a processor for a while.
const AT_ONCE: usize = 2;

/// Tries that wait for their turn; more are told to come back.
const WAITING_MOST: usize = 64;

/// The turns and the buffers.
pub struct Hashing {
    turns: Semaphore,
    waiting: AtomicUsize,
    buffers: Arc<Mutex<Vec<Vec<Block>>>>,
}

/// Too many wait already.
#[derive(Debug)]
pub struct Busy;

impl Default for Hashing {
    fn default() -> Self {
        Self { turns: Semaphore::new(AT_ONCE), waiting: AtomicUsize::new(0), buffers: Arc::default() }
    }
}

/// One who waits, until it is dropped.
struct Place<'h>(&'h AtomicUsize);

impl Drop for Place<'_> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

impl Hashing {
    /// Whether a password is the one of a hash; as long in the taking where there is none.
    pub async fn verify(&self, password: String, hash: Option<String>) -> Result<bool, Busy> {
        self.work(move |blocks| password::verify(&password, hash.as_deref(), blocks)).await
    }

    /// The hash of a password.
    pub async fn hash(&self, password: String) -> Result<Result<String, PasswordError>, Busy> {
        self.work(move |blocks| password::hash_in(&password, blocks)).await
    }

    async fn work<T: Send + 'static>(&self, work: impl FnOnce(&mut [Block]) -> T + Send + 'static) -> Result<T, Busy> {
        let _place = Place(&self.waiting);
        if self.waiting.fetch_add(1, Ordering::Relaxed) >= WAITING_MOST {
            return Err(Busy);
        }
        let _turn = self.turns.acquire().await.map_err(|_| Busy)?;
        let buffers = Arc::clone(&self.buffers);
        let worked = tokio::task::spawn_blocking(move || {
            let free = buffers.lock().unwrap_or_else(PoisonError::into_inner).pop();
            let mut buffer = free.unwrap_or_else(blocks);
            let done = work(&mut buffer);
            // As many as there are turns, and never more.
            let mut free = buffers.lock().unwrap_or_else(PoisonError::into_inner);
            if free.len() < AT_ONCE {
                free.push(buffer);
            }
            done
        });
        worked.await.map_err(|_| Busy)
    }
}
