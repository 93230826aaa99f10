//! A model with the space that it was learnt in, learnt once for the same examples however many worlds there are.

use std::collections::HashMap;
use std::hash::{Hash, Hasher};
use std::sync::{Arc, Mutex, PoisonError};

use rustc_hash::{FxBuildHasher, FxHasher};

use super::{Linear, Nearest, Pull, Space, features};

/// Models kept; a deployment has two for each language.
const KEPT: usize = 64;

/// What was learnt from examples.
#[derive(Debug)]
pub struct Learnt {
    pub space: Space,
    pub linear: Linear,
    pub nearest: Nearest,
}

static LEARNT: Mutex<Option<HashMap<u64, Arc<Learnt>, FxBuildHasher>>> = Mutex::new(None);

/// Learns from examples, each with the kinds that it is of. The same examples give the same model, so that it is kept.
pub fn learnt(examples: &[(String, Vec<usize>)], kinds: usize, pull: Pull) -> Arc<Learnt> {
    let mut hasher = FxHasher::default();
    examples.hash(&mut hasher);
    (kinds, pull.rounds).hash(&mut hasher);
    let key = hasher.finish();
    let mut kept = LEARNT.lock().unwrap_or_else(PoisonError::into_inner);
    let kept = kept.get_or_insert_default();
    if let Some(known) = kept.get(&key) {
        return Arc::clone(known);
    }
    let found: Vec<_> = examples.iter().map(|(example, _)| features(example)).collect();
    let space = Space::new(&found);
    let vectors: Vec<_> = found.iter().zip(examples).map(|(found, (_, of))| (space.vector(found), of.clone())).collect();
    let linear = Linear::train(&vectors, space.len(), kinds, pull);
    let nearest = Nearest::new(&vectors, space.len());
    let learnt = Arc::new(Learnt { space, linear, nearest });
    if kept.len() >= KEPT {
        kept.clear();
    }
    kept.insert(key, Arc::clone(&learnt));
    learnt
}
