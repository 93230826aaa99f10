//! Chance that repeats itself.

/// A repeatable source of numbers: a linear congruence with the constants of Knuth's MMIX.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Dice(seed)
    }

    /// Evenly between 0 and 1.
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Evenly between two ends.
    pub fn between(&mut self, (low, high): (f64, f64)) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// One of several.
    pub fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        of[((self.uniform() * of.len() as f64) as usize).min(of.len() - 1)]
    }

    /// One of several by how likely each is.
    pub fn weighed<T: Copy>(&mut self, of: &[(T, f64)]) -> T {
        let mut left = self.uniform() * of.iter().map(|(_, share)| share).sum::<f64>();
        for (one, share) in of {
            left -= share;
            if left <= 0.0 {
                return *one;
            }
        }
        of[of.len() - 1].0
    }

    /// Standard normal: the sum of twelve uniform numbers less six.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}
