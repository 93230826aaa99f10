//! A linear model: a weight for every feature and every kind, learnt from examples.

use super::Vector;

/// How far the weight of nothing in particular moves with each lesson.
const BIAS: f32 = 0.3;

/// How strongly a lesson pulls.
#[derive(Debug, Clone, Copy)]
pub struct Pull {
    /// Towards the example's own kind.
    pub own: f32,
    /// Away from another.
    pub other: f32,
    /// How often all examples are gone through.
    pub rounds: usize,
}

/// The weights of all kinds; see [`Linear::train`].
#[derive(Debug, Default)]
pub struct Linear {
    kinds: usize,
    /// Row by row, a feature's weight for each kind; the last row is the bias.
    weights: Vec<f32>,
}

impl Linear {
    /// Learns from examples, each with the kinds that it is of: one against the rest for every kind, hinge loss, passive-aggressive
    /// steps (Crammer et al. 2006, PA-I), the weights averaged over all steps. Examples come in a fixed mixed order, so that the
    /// same examples always give the same model.
    pub fn train(examples: &[(Vector, Vec<usize>)], features: usize, kinds: usize, pull: Pull) -> Linear {
        let mut model = Linear { kinds, weights: vec![0.0; (features + 1) * kinds] };
        let mut sums = vec![0.0; model.weights.len()];
        let mut order: Vec<usize> = (0..examples.len()).collect();
        let mut mixer = Mixer(20_260_101);
        let mut scores = vec![0.0; kinds];
        let mut steps: Vec<(usize, f32)> = Vec::with_capacity(kinds);
        let mut time = 1.0_f32;
        for _ in 0..pull.rounds {
            mixer.mix(&mut order);
            for &at in &order {
                let (vector, of) = &examples[at];
                model.scores_into(vector, &mut scores);
                steps.clear();
                for (kind, score) in scores.iter().enumerate() {
                    let (sign, most) = if of.contains(&kind) { (1.0, pull.own) } else { (-1.0, pull.other) };
                    let short = 1.0 - sign * score;
                    if short > 0.0 {
                        steps.push((kind, sign * (short / (1.0 + BIAS)).min(most)));
                    }
                }
                if !steps.is_empty() {
                    for &(place, weight) in vector {
                        model.step(&mut sums, place as usize, weight, &steps, time);
                    }
                    model.step(&mut sums, features, BIAS, &steps, time);
                }
                time += 1.0;
            }
        }
        model.weights.iter_mut().zip(&sums).for_each(|(weight, sum)| *weight -= sum / time);
        model
    }

    fn step(&mut self, sums: &mut [f32], place: usize, weight: f32, steps: &[(usize, f32)], time: f32) {
        let row = place * self.kinds..(place + 1) * self.kinds;
        let (own, sums) = (&mut self.weights[row.clone()], &mut sums[row]);
        for &(kind, step) in steps {
            own[kind] += step * weight;
            sums[kind] += time * step * weight;
        }
    }

    /// How much a message is of each kind: above 0 it is more like it than not.
    pub fn scores(&self, vector: &Vector) -> Vec<f32> {
        let mut scores = vec![0.0; self.kinds];
        self.scores_into(vector, &mut scores);
        scores
    }

    fn scores_into(&self, vector: &Vector, scores: &mut [f32]) {
        let bias = self.weights.len() - self.kinds;
        scores.copy_from_slice(&self.weights[bias..]);
        // The bias was learnt by steps of its own size.
        for &(place, weight) in vector {
            let row = place as usize * self.kinds;
            let row = &self.weights[row..row + self.kinds];
            scores.iter_mut().zip(row).for_each(|(score, own)| *score += weight * own);
        }
    }
}

/// A fixed order that looks like none: Knuth's linear congruential generator (MMIX).
struct Mixer(u64);

impl Mixer {
    fn mix(&mut self, order: &mut [usize]) {
        for at in (1..order.len()).rev() {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            order.swap(at, (self.0 >> 33) as usize % (at + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Space, features};
    use super::*;

    #[test]
    fn it_tells_kinds_apart_that_share_words() {
        let texts = [
            ("can i leave the pump alone", 0),
            ("leave it running and go", 0),
            ("may it run alone", 0),
            ("how much does the pump cost", 1),
            ("what is the price", 1),
            ("is the pump dear", 1),
        ];
        let found: Vec<_> = texts.iter().map(|(text, _)| features(text)).collect();
        let space = Space::new(&found);
        let examples: Vec<_> =
            found.iter().zip(texts).map(|(found, (_, kind))| (space.vector(found), vec![kind])).collect();
        let model = Linear::train(&examples, space.len(), 2, Pull { own: 1.0, other: 0.5, rounds: 8 });
        let best = |text: &str| {
            let scores = model.scores(&space.vector(&features(text)));
            if scores[0] > scores[1] { 0 } else { 1 }
        };
        assert_eq!(best("can the pump run alone"), 0);
        assert_eq!(best("waht is teh prise of the pump"), 1);
    }
}
