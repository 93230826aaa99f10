//! Ten equally likely days that stand for a month: a directly coupled pump has a threshold, so the mean day is not
//! enough.

use crate::sizing::error::{SizingError, within};

/// Probabilities, in the distribution of daily clearness, of the ten day types.
pub const DAY_PROBABILITY: [f64; 10] = [0.05, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95];

/// Index in [`DAY_PROBABILITY`] of the bright day (probability 0.75).
pub const BRIGHT_DAY: usize = 7;

/// Range into which monthly clearness is clamped before the distribution is taken.
pub const MONTHLY_CLEARNESS: (f64, f64) = (0.2, 0.75);

/// Smallest daily clearness of the distribution.
const K_MIN: f64 = 0.05;

/// The distribution of daily clearness within a month.
///
/// Bendt, Collares-Pereira & Rabl 1981 (Solar Energy 27:1-5): `f(K) = (e^(g Kmin) - e^(g K))/(e^(g Kmin) - e^(g Kmax))`
/// with `Kmax = 0.6313 + 0.267 K - 11.9 (K - 0.75)^8` (Hollands & Huget 1983) and Herzog's 1985 fit of `g`
/// (Duffie & Beckman 4th ed. section 2.9).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearnessDistribution {
    k_max: f64,
    gamma: f64,
}

impl ClearnessDistribution {
    /// From the month's clearness, clamped to 0.2..0.75; a clearness outside 0..1 is an error.
    pub fn new(monthly_clearness: f64) -> Result<Self, SizingError> {
        let k = within("monthly_clearness", monthly_clearness, 0.0, 1.0)?.clamp(MONTHLY_CLEARNESS.0, MONTHLY_CLEARNESS.1);
        let k_max = 0.6313 + 0.267 * k - 11.9 * (k - 0.75).powi(8);
        let xi = (k_max - K_MIN) / (k_max - k);
        let gamma = -1.498 + (1.184 * xi - 27.182 * (-1.5 * xi).exp()) / (k_max - K_MIN);
        Ok(ClearnessDistribution { k_max, gamma })
    }

    /// Share of days with a clearness of at most `k`.
    pub fn share_below(&self, k: f64) -> f64 {
        let k = k.clamp(K_MIN, self.k_max);
        if self.gamma.abs() < 1e-9 {
            return (k - K_MIN) / (self.k_max - K_MIN);
        }
        (self.gamma * (k - K_MIN)).exp_m1() / self.growth()
    }

    /// The clearness that a share `probability` (0..1) of days stays below: the inverse of [`Self::share_below`].
    pub fn clearness_at(&self, probability: f64) -> Result<f64, SizingError> {
        let p = within("probability", probability, 0.0, 1.0)?;
        Ok(self.inverse(p, self.growth()))
    }

    /// `exp(gamma (Kmax - Kmin)) - 1`.
    fn growth(&self) -> f64 {
        (self.gamma * (self.k_max - K_MIN)).exp_m1()
    }

    fn inverse(&self, probability: f64, growth: f64) -> f64 {
        if self.gamma.abs() < 1e-9 {
            return K_MIN + probability * (self.k_max - K_MIN);
        }
        K_MIN + (probability * growth).ln_1p() / self.gamma
    }

    /// Greatest daily clearness of the distribution.
    pub fn k_max(&self) -> f64 {
        self.k_max
    }

    /// Shape of the distribution.
    pub fn gamma(&self) -> f64 {
        self.gamma
    }

    /// The ten day types' clearness, dullest first.
    pub fn day_types(&self) -> [f64; 10] {
        let growth = self.growth();
        DAY_PROBABILITY.map(|probability| self.inverse(probability, growth))
    }
}
