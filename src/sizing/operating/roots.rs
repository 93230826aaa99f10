//! Two ways to find a root: anywhere in an interval, and near a guess.

/// Root of a rising function on `low..high`, to `tolerance` in its argument: the ITP method (Oliveira & Takahashi 2020, ACM
/// TOMS 47:5), never slower than bisection by more than one step and much faster where the function is smooth.
///
/// Where the function has one sign on the whole interval the end nearer to zero is returned.
pub fn rising_root(low: f64, high: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let mut at_low = f(low);
    if at_low >= 0.0 {
        return low;
    }
    let mut at_high = f(high);
    if at_high <= 0.0 {
        return high;
    }
    // The published choices: truncation 0.2/(b - a), exponent 2, slack of one step.
    let truncation = 0.2 / (high - low);
    let halvings = ((high - low) / tolerance).log2().ceil().max(0.0);
    let mut reach = tolerance * (halvings + 1.0).exp2() / 2.0;
    while high - low > 2.0 * tolerance {
        let middle = 0.5 * (low + high);
        let radius = reach - 0.5 * (high - low);
        let delta = truncation * (high - low) * (high - low);
        let chord = (at_high * low - at_low * high) / (at_high - at_low);
        let side = (middle - chord).signum();
        let truncated = if delta <= (middle - chord).abs() { chord + side * delta } else { middle };
        let x = if (truncated - middle).abs() <= radius { truncated } else { middle - side * radius };
        let at_x = f(x);
        if at_x > 0.0 {
            (high, at_high) = (x, at_x);
        } else if at_x < 0.0 {
            (low, at_low) = (x, at_x);
        } else {
            return x;
        }
        reach *= 0.5;
    }
    0.5 * (low + high)
}

/// Steps from a guess before it is given up.
const STEPS_FROM_GUESS: usize = 8;

/// Root of a rising, smooth function near a positive guess, to `tolerance` in its argument: secants, from the guess and a point
/// a little beside it. None where they do not lead to it at once.
pub fn root_near(guess: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut before, mut now) = (guess * (1.0 + 1e-4), guess);
    let (mut at_before, mut at_now) = (f(before), f(now));
    for _ in 0..STEPS_FROM_GUESS {
        let slope = (at_before - at_now) / (before - now);
        if !(slope > 0.0 && slope.is_finite()) {
            return None;
        }
        let next = now - at_now / slope;
        if !(0.5 * guess..2.0 * guess).contains(&next) {
            return None;
        }
        if (next - now).abs() <= tolerance {
            return Some(next);
        }
        (before, at_before) = (now, at_now);
        (now, at_now) = (next, f(next));
        if at_now == 0.0 {
            return Some(now);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::{rising_root, root_near};

    #[test]
    fn a_root_near_a_guess_takes_a_handful_of_evaluations() {
        let mut calls = 0;
        let root = root_near(4.6, 1e-10, |x: f64| {
            calls += 1;
            x.exp() - 100.0
        });
        assert!((root.expect("a root") - 100.0_f64.ln()).abs() < 1e-10);
        assert!(calls <= 5, "{calls}");
    }

    #[test]
    fn a_guess_far_off_finds_nothing_rather_than_something_else() {
        assert_eq!(root_near(1.0, 1e-9, |x| x - 50.0), None);
        assert_eq!(root_near(1.0, 1e-9, |_| 3.0), None);
        assert_eq!(root_near(1.0, 1e-9, |x| 1.0 - x * x * x), None);
        assert_eq!(root_near(f64::NAN, 1e-9, |x| x), None);
    }

    #[test]
    fn finds_roots_of_smooth_and_of_kinked_functions() {
        // Cube root of two, and a kink: both known in closed form.
        assert!((rising_root(0.0, 2.0, 1e-12, |x| x * x * x - 2.0) - 2.0_f64.cbrt()).abs() < 1e-11);
        let kink = |x: f64| if x < 0.3 { x - 0.3 } else { 50.0 * (x - 0.3) };
        assert!((rising_root(-1.0, 4.0, 1e-12, kink) - 0.3).abs() < 1e-11);
    }

    #[test]
    fn takes_few_evaluations_on_an_exponential() {
        let mut calls = 0;
        let root = rising_root(0.0, 10.0, 1e-9, |x: f64| {
            calls += 1;
            x.exp() - 100.0
        });
        assert!((root - 100.0_f64.ln()).abs() < 1e-8);
        // Bisection needs 34 on the same interval.
        assert!(calls <= 34 + 3, "{calls}");
    }

    #[test]
    fn one_sign_returns_the_nearer_end() {
        assert_eq!(rising_root(1.0, 2.0, 1e-9, |x| x), 1.0);
        assert_eq!(rising_root(1.0, 2.0, 1e-9, |x| x - 5.0), 2.0);
    }
}
