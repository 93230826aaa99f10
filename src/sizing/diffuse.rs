//! How a day's radiation divides into beam and diffuse, and over the day.

use std::f64::consts::PI;

use super::error::{SizingError, within};

/// Sunset hour angle, degrees, at which the season of the daily and monthly diffuse correlations changes.
const SEASON_SPLIT_DEG: f64 = 81.4;

/// Daily diffuse fraction `Hd/H` from the day's clearness `kt` (0..1) and the sunset hour angle.
///
/// Erbs, Klein & Duffie 1982 as given in Duffie & Beckman 4th ed. eq. 2.11.1.
pub fn daily_diffuse_fraction(kt: f64, sunset_rad: f64) -> Result<f64, SizingError> {
    let k = within("daily_clearness", kt, 0.0, 1.0)?;
    Ok(if sunset_rad.to_degrees() <= SEASON_SPLIT_DEG {
        if k < 0.715 { 1.0 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879))) } else { 0.143 }
    } else if k < 0.722 {
        1.0 + k * (0.2832 + k * (-2.5557 + k * 0.8448))
    } else {
        0.175
    })
}

/// Hourly diffuse fraction `Id/I` from the hour's clearness `kt` (0..1.2).
///
/// Erbs, Klein & Duffie 1982, Solar Energy 28:293-302 (Duffie & Beckman eq. 2.10.1).
pub fn hourly_diffuse_fraction(kt: f64) -> Result<f64, SizingError> {
    let k = within("hourly_clearness", kt, 0.0, 1.2)?;
    Ok(if k <= 0.22 {
        1.0 - 0.09 * k
    } else if k <= 0.80 {
        0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
    } else {
        0.165
    })
}

/// Ratio of an hour's global radiation to the day's, at the hour's mid hour angle.
///
/// `r_t = pi/24 (a + b cos w)(cos w - cos ws)/(sin ws - ws cos ws)`, `a = 0.409 + 0.5016 sin(ws - 60)`,
/// `b = 0.6609 - 0.4767 sin(ws - 60)`: Collares-Pereira & Rabl 1979 (Duffie & Beckman eq. 2.13.1). Zero at night.
pub fn global_hour_ratio(hour_angle_rad: f64, sunset_rad: f64) -> f64 {
    let shift = (sunset_rad - PI / 3.0).sin();
    let a = 0.409 + 0.5016 * shift;
    let b = 0.6609 - 0.4767 * shift;
    (a + b * hour_angle_rad.cos()) * diffuse_hour_ratio(hour_angle_rad, sunset_rad)
}

/// Ratio of an hour's diffuse radiation to the day's, at the hour's mid hour angle.
///
/// `r_d = pi/24 (cos w - cos ws)/(sin ws - ws cos ws)`: Liu & Jordan 1960 (Duffie & Beckman eq. 2.13.2). Zero at night.
pub fn diffuse_hour_ratio(hour_angle_rad: f64, sunset_rad: f64) -> f64 {
    let above = (hour_angle_rad.cos() - sunset_rad.cos()).max(0.0);
    PI / 24.0 * above / (sunset_rad.sin() - sunset_rad * sunset_rad.cos())
}
