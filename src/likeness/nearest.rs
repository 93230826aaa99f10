//! The other way that was measured: the example nearest to a message by the cosine of their weights.

use super::Vector;

/// Examples by their features.
#[derive(Debug, Default)]
pub struct Nearest {
    kinds: Vec<usize>,
    /// For each feature, the examples that have it, with its weight there.
    holders: Vec<Vec<(u32, f32)>>,
}

impl Nearest {
    /// Of these examples, each with its kind.
    pub fn new(examples: &[(Vector, Vec<usize>)], features: usize) -> Nearest {
        let mut holders = vec![Vec::new(); features];
        for (at, (vector, _)) in examples.iter().enumerate() {
            for &(place, weight) in vector {
                holders[place as usize].push((at as u32, weight));
            }
        }
        let kinds = examples.iter().map(|(_, of)| of.first().copied().unwrap_or_default()).collect();
        Nearest { kinds, holders }
    }

    /// The kind of the nearest example, and the cosine; None where no feature is shared.
    pub fn nearest(&self, vector: &Vector) -> Option<(usize, f32)> {
        let mut cosines = vec![0.0_f32; self.kinds.len()];
        for &(place, weight) in vector {
            for &(at, own) in &self.holders[place as usize] {
                cosines[at as usize] += weight * own;
            }
        }
        let best = cosines.iter().copied().enumerate().max_by(|one, other| one.1.total_cmp(&other.1))?;
        (best.1 > 0.0).then(|| (self.kinds[best.0], best.1))
    }
}
