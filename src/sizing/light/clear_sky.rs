//! The light on the panels at one moment of the clock under a sky without clouds: what a bucket test is judged against.

use crate::sizing::weather::climate::Climate;
use std::f64::consts::FRAC_PI_2;

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use solar_positioning::{Location, SolarPositions, delta_t};

use super::sky::{Light, air_c, faiman_c};
use super::stance::{PlaneView, Stance, plane_at};
use crate::sizing::error::{SizingError, within};
use crate::sizing::sun::diffuse::hourly_diffuse_fraction;
use crate::sizing::sun::position::{SunDay, SunPosition};

/// Share of the beam that thin cloud, dust or smoke lets through (practice).
const HAZY_BEAM_SHARE: f64 = 0.5;

/// Years for which the sun's place is asked.
const YEARS: (i32, i32) = (1990, 2150);

/// The sun over a place, and the solar hour there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunThen {
    pub position: SunPosition,
    pub solar_hour: f64,
    /// Sun over the horizon, degrees, without refraction.
    pub elevation_deg: f64,
}

/// Where the sun stands over a place (latitude -60..60, longitude -180..180 degrees, altitude in m) at a moment of the
/// years 1990 to 2150, by the NREL solar position algorithm (Reda & Andreas 2008, NREL/TP-560-34302).
///
/// The solar hour follows from the sun's direction: `tan w = west / (up cos phi + south sin phi)`.
pub fn sun_then(lat_deg: f64, lon_deg: f64, alt_m: f64, at: DateTime<Utc>) -> Result<SunThen, SizingError> {
    within("lat_deg", lat_deg, -60.0, 60.0)?;
    within("lon_deg", lon_deg, -180.0, 180.0)?;
    let year = within("year", f64::from(at.year()), f64::from(YEARS.0), f64::from(YEARS.1))?;
    let refused = |_| SizingError::OutOfRange { name: "alt_m", value: alt_m, low: -430.0, high: 6000.0 };
    let location = Location { latitude: lat_deg, longitude: lon_deg };
    let delta_t_s = delta_t::estimate(year).map_err(refused)?;
    let seen = SolarPositions::new().at(&at, location, alt_m, delta_t_s, None).map_err(refused)?;
    let (sin_zenith, cos_zenith) = seen.zenith_angle().to_radians().sin_cos();
    let (sin_azimuth, cos_azimuth) = seen.azimuth().to_radians().sin_cos();
    let (south, west) = (-sin_zenith * cos_azimuth, -sin_zenith * sin_azimuth);
    let (sin_lat, cos_lat) = lat_deg.to_radians().sin_cos();
    let hour_angle = west.atan2(cos_zenith * cos_lat + south * sin_lat);
    Ok(SunThen {
        position: SunPosition { cos_zenith, azimuth_rad: west.atan2(south) },
        solar_hour: 12.0 + hour_angle * 6.0 / FRAC_PI_2,
        elevation_deg: seen.elevation_angle(),
    })
}

/// Global irradiance on the flat under a clear sky, W/m², from the cosine of the sun's zenith angle (0..1).
///
/// `1098 cos z exp(-0.059/cos z)`: Haurwitz 1945, Journal of Meteorology 2:154-166, in the units of Ren et al. (pvlib).
pub fn haurwitz_w_m2(cos_zenith: f64) -> Result<f64, SizingError> {
    let cos_zenith = within("cos_zenith", cos_zenith, -1.0, 1.0)?;
    Ok(if cos_zenith > 0.0 { 1098.0 * cos_zenith * (-0.059 / cos_zenith).exp() } else { 0.0 })
}

/// The light on panels that stand so, at a moment with the sun over the horizon; `hazy` halves the beam.
///
/// Haurwitz for global, Erbs' hourly fraction for diffuse, Hay-Davies on the panel, Faiman with the month's air and wind
/// for the cells.
pub fn light_then(
    climate: &Climate,
    stance: Stance,
    sun: &SunThen,
    at: DateTime<Utc>,
    hazy: bool,
) -> Result<Light, SizingError> {
    let place = &climate.place;
    // Within -12..14 h, so the seconds are whole and few.
    let local = at + TimeDelta::seconds((place.utc_offset_h * 3600.0).round() as i64);
    let day = SunDay::new(place.lat_deg, local.ordinal() as u16)?;
    let normal_w_m2 = day.extraterrestrial_normal_w_m2();
    let clear_w_m2 = haurwitz_w_m2(sun.position.cos_zenith)?;
    let top_w_m2 = normal_w_m2 * sun.position.cos_zenith;
    let clearness = if top_w_m2 > 0.0 { clear_w_m2 / top_w_m2 } else { 0.0 };
    let diffuse_w_m2 = clear_w_m2 * hourly_diffuse_fraction(clearness)?;
    let beam_share = if hazy { HAZY_BEAM_SHARE } else { 1.0 };
    let global_w_m2 = diffuse_w_m2 + beam_share * (clear_w_m2 - diffuse_w_m2);
    let plane = stance.planes(&day)[plane_at(sun.solar_hour)];
    let poa_w_m2 = PlaneView::new(sun.position, plane, normal_w_m2).on_plane_w_m2(global_w_m2, diffuse_w_m2);
    let weather = &climate.weather[local.month0() as usize];
    Ok(Light { poa_w_m2, cell_c: faiman_c(poa_w_m2, air_c(weather, sun.solar_hour), weather.u2_m_s) })
}
