//! How a day's radiation divides into beam and diffuse, and over the day.

use std::f64::consts::PI;

use crate::sizing::error::{SizingError, within};

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

/// How a day's radiation is spread over its hours, as ratios of an hour's to the day's.
///
/// Global by Collares-Pereira & Rabl 1979 (Duffie & Beckman eq. 2.13.1): `r_t = (a + b cos w) r_d`,
/// `a = 0.409 + 0.5016 sin(ws - 60)`, `b = 0.6609 - 0.4767 sin(ws - 60)`. Diffuse by Liu & Jordan 1960 (eq. 2.13.2):
/// `r_d = pi/24 (cos w - cos ws)/(sin ws - ws cos ws)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayShape {
    a: f64,
    b: f64,
    cos_sunset: f64,
    per_day: f64,
}

impl DayShape {
    /// Of a day by its sunset hour angle (0.01..pi).
    pub fn new(sunset_rad: f64) -> Result<Self, SizingError> {
        within("sunset_rad", sunset_rad, 0.01, PI)?;
        let shift = (sunset_rad - PI / 3.0).sin();
        let (sin_sunset, cos_sunset) = sunset_rad.sin_cos();
        Ok(DayShape {
            a: 0.409 + 0.5016 * shift,
            b: 0.6609 - 0.4767 * shift,
            cos_sunset,
            per_day: PI / 24.0 / (sin_sunset - sunset_rad * cos_sunset),
        })
    }

    /// Ratios of global and of diffuse radiation at the hour's mid hour angle, by its cosine; zero at night.
    pub fn ratios(&self, cos_hour: f64) -> (f64, f64) {
        let diffuse = self.per_day * (cos_hour - self.cos_sunset).max(0.0);
        ((self.a + self.b * cos_hour) * diffuse, diffuse)
    }
}

/// Ratio of an hour's global radiation to the day's, at the hour's mid hour angle (-pi..pi); zero at night. See [`DayShape`].
pub fn global_hour_ratio(hour_angle_rad: f64, sunset_rad: f64) -> Result<f64, SizingError> {
    Ok(hour_ratios(hour_angle_rad, sunset_rad)?.0)
}

/// Ratio of an hour's diffuse radiation to the day's, at the hour's mid hour angle (-pi..pi); zero at night. See [`DayShape`].
pub fn diffuse_hour_ratio(hour_angle_rad: f64, sunset_rad: f64) -> Result<f64, SizingError> {
    Ok(hour_ratios(hour_angle_rad, sunset_rad)?.1)
}

fn hour_ratios(hour_angle_rad: f64, sunset_rad: f64) -> Result<(f64, f64), SizingError> {
    within("hour_angle_rad", hour_angle_rad, -PI, PI)?;
    Ok(DayShape::new(sunset_rad)?.ratios(hour_angle_rad.cos()))
}
