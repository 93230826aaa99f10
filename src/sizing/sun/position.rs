//! Where the sun stands on a month's representative day, and what reaches the top of the air.
//!
//! Angles in radians. Hour angle is zero at solar noon, negative in the morning. Azimuth is zero due south, positive
//! toward west, in both hemispheres (Duffie & Beckman, Solar Engineering of Thermal Processes, 4th ed., section 1.6).

use std::f64::consts::PI;

use crate::sizing::error::{SizingError, within};

/// Solar constant, W/m² (Duffie & Beckman 4th ed., section 1.2).
pub const SOLAR_CONSTANT_W_M2: f64 = 1367.0;

/// Day of the year whose extraterrestrial radiation is nearest the month's mean (Klein 1977; Duffie & Beckman table
/// 1.6.1), January first.
pub const MEAN_DAY: [u16; 12] = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344];

/// Greatest latitude, degrees, for which the engine answers: the daily correlations were made between 60 S and 60 N.
pub const GREATEST_LATITUDE_DEG: f64 = 60.0;

/// A latitude and a day: everything that geometry needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunDay {
    latitude_rad: f64,
    declination_rad: f64,
    sunset_rad: f64,
    distance_factor: f64,
}

/// The sun at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Cosine of the angle from straight up.
    pub cos_zenith: f64,
    /// Azimuth, zero south, positive west.
    pub azimuth_rad: f64,
}

impl SunDay {
    /// The sun's day at `latitude_deg` (-60..60, north positive) on day `day_of_year` (1..366).
    ///
    /// Declination by Cooper (1969): `23.45 sin(360 (284 + n)/365)` degrees (Duffie & Beckman eq. 1.6.1a);
    /// sunset hour angle `acos(-tan(phi) tan(delta))` (eq. 1.6.10).
    pub fn new(latitude_deg: f64, day_of_year: u16) -> Result<Self, SizingError> {
        within("lat_deg", latitude_deg, -GREATEST_LATITUDE_DEG, GREATEST_LATITUDE_DEG)?;
        let day = within("day_of_year", f64::from(day_of_year), 1.0, 366.0)?;
        let latitude_rad = latitude_deg.to_radians();
        let declination_rad = (23.45 * (2.0 * PI * (284.0 + day) / 365.0).sin()).to_radians();
        // Within 60 degrees of the equator the product stays inside -0.76..0.76: the sun rises and sets every day.
        let sunset_rad = (-latitude_rad.tan() * declination_rad.tan()).acos();
        let distance_factor = 1.0 + 0.033 * (2.0 * PI * day / 365.0).cos();
        Ok(SunDay { latitude_rad, declination_rad, sunset_rad, distance_factor })
    }

    /// The representative day of `month` (1..12).
    pub fn of_month(latitude_deg: f64, month: u8) -> Result<Self, SizingError> {
        within("month", f64::from(month), 1.0, 12.0)?;
        SunDay::new(latitude_deg, MEAN_DAY[usize::from(month) - 1])
    }

    /// Declination, radians.
    pub fn declination_rad(&self) -> f64 {
        self.declination_rad
    }

    /// Latitude, radians, north positive.
    pub fn latitude_rad(&self) -> f64 {
        self.latitude_rad
    }

    /// Hour angle of sunset, radians.
    pub fn sunset_rad(&self) -> f64 {
        self.sunset_rad
    }

    /// Extraterrestrial irradiance on a surface facing the sun, W/m² (Duffie & Beckman eq. 1.4.1a).
    pub fn extraterrestrial_normal_w_m2(&self) -> f64 {
        SOLAR_CONSTANT_W_M2 * self.distance_factor
    }

    /// Daily extraterrestrial radiation on the flat, kWh/m² (Duffie & Beckman eq. 1.10.3).
    ///
    /// `H0 = 24/pi Gsc (1 + 0.033 cos(360 n/365)) (cos phi cos delta sin ws + ws sin phi sin delta)`
    pub fn extraterrestrial_kwh_m2(&self) -> f64 {
        let (sin_lat, cos_lat) = self.latitude_rad.sin_cos();
        let (sin_dec, cos_dec) = self.declination_rad.sin_cos();
        24.0 / PI / 1000.0
            * self.extraterrestrial_normal_w_m2()
            * (cos_lat * cos_dec * self.sunset_rad.sin() + self.sunset_rad * sin_lat * sin_dec)
    }

    /// The sun at an hour angle (Duffie & Beckman eqs. 1.6.5 and 1.6.6; the azimuth by the full-circle arctangent of
    /// the same vector, so that it holds inside the tropics too).
    pub fn position(&self, hour_angle_rad: f64) -> SunPosition {
        let (sin_hour, cos_hour) = hour_angle_rad.sin_cos();
        let sun = self.path().direction(sin_hour, cos_hour);
        SunPosition { cos_zenith: sun.up, azimuth_rad: sun.west.atan2(sun.south) }
    }

    /// The sun's path over the day, for as many hours of it as are asked for.
    pub fn path(&self) -> SunPath {
        let (sin_lat, cos_lat) = self.latitude_rad.sin_cos();
        let (sin_dec, cos_dec) = self.declination_rad.sin_cos();
        SunPath {
            up: (sin_lat * sin_dec, cos_lat * cos_dec),
            south: (-cos_lat * sin_dec, sin_lat * cos_dec),
            west: cos_dec,
        }
    }
}

/// The sun's path over one day: what of each direction is the same at every hour, and what goes with the hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPath {
    up: (f64, f64),
    south: (f64, f64),
    west: f64,
}

/// A direction as a vector of length one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Direction {
    pub up: f64,
    pub south: f64,
    pub west: f64,
}

impl SunPath {
    /// Toward the sun, by sine and cosine of the hour angle.
    pub fn direction(&self, sin_hour: f64, cos_hour: f64) -> Direction {
        Direction {
            up: self.up.0 + self.up.1 * cos_hour,
            south: self.south.0 + self.south.1 * cos_hour,
            west: self.west * sin_hour,
        }
    }
}

impl Direction {
    /// Cosine of the angle between two directions.
    pub fn cos_to(&self, other: Direction) -> f64 {
        self.up * other.up + self.south * other.south + self.west * other.west
    }
}

/// Cosine of the angle between the sun's rays and the normal of a plane (Duffie & Beckman eq. 1.6.3).
///
/// `cos theta = cos z cos beta + sin z sin beta cos(gamma_s - gamma)`
pub fn cos_incidence(sun: SunPosition, tilt_rad: f64, azimuth_rad: f64) -> f64 {
    let sin_zenith = (1.0 - sun.cos_zenith * sun.cos_zenith).max(0.0).sqrt();
    sun.cos_zenith * tilt_rad.cos() + sin_zenith * tilt_rad.sin() * (sun.azimuth_rad - azimuth_rad).cos()
}

/// Hour angle, radians, of a solar time in hours: 15 degrees an hour from noon.
pub fn hour_angle_rad(solar_hour: f64) -> f64 {
    (solar_hour - 12.0) * PI / 12.0
}
