//! A message as its words, its pairs of words and its runs of letters, each weighted by how seldom it comes.

use std::collections::HashMap;
use std::hash::Hasher;

use rustc_hash::{FxBuildHasher, FxHasher};

use super::Vector;
use crate::language::{PieceKind, fold, pieces};

/// What a whole word weighs beside a run of letters.
const WORD: f32 = 2.0;
/// What a pair of words weighs.
const PAIR: f32 = 1.5;
/// Lengths of runs of letters; the ends of a word count as letters.
const RUNS: [usize; 2] = [3, 4];
/// Words looked at, so that the work stays bounded.
const WORDS: usize = 400;

/// A feature by its hash, with its weight.
pub type Feature = (u64, f32);

/// The features of a message.
pub fn features(text: &str) -> Vec<Feature> {
    let words = words(text);
    let mut found = Vec::with_capacity(words.len() * 10);
    let mut before = hash(&[b"^"]);
    for word in &words {
        let this = hash(&[b"w", word.as_bytes()]);
        found.push((this, WORD));
        found.push((pair(before, this), PAIR));
        before = this;
        let ends: Vec<char> = std::iter::once('_').chain(word.chars()).chain(['_']).collect();
        for run in RUNS {
            for letters in ends.windows(run) {
                let mut hasher = FxHasher::default();
                letters.iter().for_each(|&letter| hasher.write_u32(u32::from(letter)));
                found.push((hasher.finish(), 1.0));
            }
        }
    }
    if !words.is_empty() {
        found.push((pair(before, hash(&[b"$"])), PAIR));
    }
    found
}

fn hash(parts: &[&[u8]]) -> u64 {
    let mut hasher = FxHasher::default();
    parts.iter().for_each(|part| hasher.write(part));
    hasher.finish()
}

fn pair(first: u64, second: u64) -> u64 {
    let mut hasher = FxHasher::default();
    hasher.write_u64(first);
    hasher.write_u64(second);
    hasher.finish()
}

/// Words folded, without apostrophes; every number is the same.
fn words(text: &str) -> Vec<String> {
    let folded = fold(text);
    let piece = |piece: &crate::language::Piece| match piece.kind {
        PieceKind::Letters => Some(folded.text[piece.start..piece.end].replace('\'', "")),
        PieceKind::Digits => Some("0".to_owned()),
        PieceKind::Sign => None,
    };
    pieces(&folded.text).filter_map(|each| piece(&each)).take(WORDS).collect()
}

/// The features of a set of examples, each with its place and its weight.
#[derive(Debug, Default)]
pub struct Space {
    places: HashMap<u64, u32, FxBuildHasher>,
    rarity: Vec<f32>,
}

impl Space {
    /// Of these examples.
    pub fn new(examples: &[Vec<Feature>]) -> Space {
        let mut space = Space::default();
        let mut counts: Vec<(u32, usize)> = Vec::new();
        for (at, example) in examples.iter().enumerate() {
            for (feature, _) in example {
                let next = counts.len() as u32;
                let place = *space.places.entry(*feature).or_insert(next) as usize;
                if place == counts.len() {
                    counts.push((0, usize::MAX));
                }
                if counts[place].1 != at {
                    counts[place] = (counts[place].0 + 1, at);
                }
            }
        }
        let all = examples.len() as f32;
        // The smoothed inverse document frequency.
        space.rarity = counts.iter().map(|(count, _)| ((1.0 + all) / (1.0 + *count as f32)).ln() + 1.0).collect();
        space
    }

    /// How many features there are.
    pub fn len(&self) -> usize {
        self.rarity.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.rarity.is_empty()
    }

    /// A message in this space, of length one; what is in no example counts nothing.
    pub fn vector(&self, features: &[Feature]) -> Vector {
        let known = features.iter().filter_map(|(feature, weight)| Some((*self.places.get(feature)?, *weight)));
        let mut vector: Vector = known.collect();
        vector.sort_unstable_by_key(|(place, _)| *place);
        vector.dedup_by(|later, first| {
            let same = later.0 == first.0;
            if same {
                first.1 += later.1;
            }
            same
        });
        for (place, weight) in &mut vector {
            // A feature that comes often counts more, but not in proportion.
            *weight = weight.max(f32::EPSILON).ln().mul_add(1.0, 1.0).max(weight.min(1.0)) * self.rarity[*place as usize];
        }
        let length = vector.iter().map(|(_, weight)| weight * weight).sum::<f32>().sqrt();
        vector.iter_mut().for_each(|(_, weight)| *weight /= length);
        vector
    }
}
