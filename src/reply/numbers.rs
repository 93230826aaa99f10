//! How exactly a reply states a number.

/// Two significant figures below a hundred, and above it as many as leave two: what "about" can honestly carry.
pub fn about(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return 0.0;
    }
    let digits = value.abs().log10().floor();
    rounded(value, 1.0 - digits)
}

/// To a hundredth: a centimetre of a metre.
pub fn hundredths(value: f64) -> f64 {
    rounded(value, 2.0)
}

/// A number as it was told: three decimals at most.
pub fn plain(value: f64) -> f64 {
    rounded(value, 3.0)
}

fn rounded(value: f64, decimals: f64) -> f64 {
    // Dividing by a whole power of ten keeps 0.1 from printing as 0.1000000001.
    let power = 10_f64.powf(decimals.abs());
    if decimals >= 0.0 { (value * power).round() / power } else { (value / power).round() * power }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn about_keeps_two_figures() {
        for (value, kept) in [(5160.1, 5200.0), (47.4, 47.0), (9.26, 9.3), (0.2258, 0.23), (141.3, 140.0), (0.0, 0.0)] {
            assert_eq!(about(value), kept, "{value}");
        }
    }
}
