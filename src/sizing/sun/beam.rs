//! The most beam that the air lets through.

use std::sync::LazyLock;

/// Share of the extraterrestrial light that one air mass lets through as beam, and the exponent of the air mass.
const THROUGH_ONE_AIR_MASS: f64 = 0.7;
const AIR_MASS_EXPONENT: f64 = 0.678;

/// Steps of the table over the cosine of the zenith angle.
const STEPS: usize = 2048;

/// Relative air mass at the cosine of a zenith angle (0..1, so down to the horizon).
///
/// `1/(cos z + 0.50572 (96.07995 - z)^-1.6364)`, z in degrees: Kasten & Young 1989, Applied Optics 28:4735-4738.
pub fn air_mass(cos_zenith: f64) -> f64 {
    let cos_zenith = cos_zenith.clamp(0.0, 1.0);
    let zenith_deg = cos_zenith.acos().to_degrees();
    1.0 / (cos_zenith + 0.505_72 * (96.079_95 - zenith_deg).powf(-1.6364))
}

/// The greatest beam facing the sun over the extraterrestrial one: `0.7^(AM^0.678)` (Meinel & Meinel 1976, Applied Solar
/// Energy).
pub fn greatest_beam_share(cos_zenith: f64) -> f64 {
    THROUGH_ONE_AIR_MASS.powf(air_mass(cos_zenith).powf(AIR_MASS_EXPONENT))
}

static SHARES: LazyLock<[f64; STEPS + 1]> =
    LazyLock::new(|| std::array::from_fn(|step| greatest_beam_share(step as f64 / STEPS as f64)));

/// [`greatest_beam_share`] off a table, within a ten-thousandth above 1 degree: it is asked for in every quarter hour of a year.
pub fn greatest_beam_share_quickly(cos_zenith: f64) -> f64 {
    let place = cos_zenith.clamp(0.0, 1.0) * STEPS as f64;
    let below = (place as usize).min(STEPS - 1);
    let shares = &*SHARES;
    shares[below] + (shares[below + 1] - shares[below]) * (place - below as f64)
}
