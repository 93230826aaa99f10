//! Reference evapotranspiration of short grass, and the radiation that stands behind it.
//!
//! Source throughout: Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56 (FAO-56).

use std::f64::consts::PI;

use crate::sizing::error::{SizingError, within};

/// Solar constant as FAO-56 writes it, MJ/m²/min (chapter 3, eq. 21).
const SOLAR_CONSTANT_MJ_M2_MIN: f64 = 0.0820;

/// Stefan-Boltzmann constant, MJ/K⁴/m²/day (FAO-56 eq. 39).
const STEFAN_BOLTZMANN: f64 = 4.903e-9;

/// Albedo of the reference grass (FAO-56 eq. 38).
const GRASS_ALBEDO: f64 = 0.23;

/// Megajoules in a kilowatt hour.
pub const MJ_PER_KWH: f64 = 3.6;

/// Extraterrestrial radiation of a day and its length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extraterrestrial {
    /// MJ/m²/day (FAO-56 eq. 21).
    pub ra_mj_m2_day: f64,
    /// Hours (FAO-56 eq. 34).
    pub day_length_h: f64,
}

/// Extraterrestrial radiation and day length at a latitude (-60..60) on a day of the year (1..366): FAO-56 eqs. 21-25, 34.
pub fn extraterrestrial(lat_deg: f64, day_of_year: u16) -> Result<Extraterrestrial, SizingError> {
    let latitude = within("lat_deg", lat_deg, -60.0, 60.0)?.to_radians();
    let j = within("day_of_year", f64::from(day_of_year), 1.0, 366.0)?;
    let turn = 2.0 * PI * j / 365.0;
    let distance = 1.0 + 0.033 * turn.cos();
    let declination = 0.409 * (turn - 1.39).sin();
    let sunset = (-latitude.tan() * declination.tan()).acos();
    let ra_mj_m2_day = 24.0 * 60.0 / PI
        * SOLAR_CONSTANT_MJ_M2_MIN
        * distance
        * (sunset * latitude.sin() * declination.sin() + latitude.cos() * declination.cos() * sunset.sin());
    Ok(Extraterrestrial { ra_mj_m2_day, day_length_h: 24.0 / PI * sunset })
}

/// Solar radiation from sunshine hours, MJ/m²/day: Angstrom, `Rs = (0.25 + 0.50 n/N) Ra` (FAO-56 eq. 35).
///
/// `sunshine_h` 0..`day_length_h`; a quarter of an hour above the computed day is taken as a full day, since
/// published means are rounded.
pub fn radiation_from_sunshine(sunshine_h: f64, sky: Extraterrestrial) -> Result<f64, SizingError> {
    let n = within("sunshine_h", sunshine_h, 0.0, sky.day_length_h + 0.25)?;
    Ok((0.25 + 0.50 * (n / sky.day_length_h).min(1.0)) * sky.ra_mj_m2_day)
}

/// Solar radiation from the day's temperature range, MJ/m²/day: Hargreaves, `Rs = k sqrt(Tmax - Tmin) Ra`
/// (FAO-56 eq. 50), `k` 0.16 inland and 0.19 on the coast, never above the clear sky of `altitude_m`.
pub fn radiation_from_temperatures(
    t_min_c: f64,
    t_max_c: f64,
    coastal: bool,
    altitude_m: f64,
    sky: Extraterrestrial,
) -> Result<f64, SizingError> {
    let range = within("t_max_c", t_max_c - t_min_c, 0.0, 40.0)?;
    let k = if coastal { 0.19 } else { 0.16 };
    Ok((k * range.sqrt() * sky.ra_mj_m2_day).min(clear_sky_radiation(altitude_m, sky)))
}

/// Clear-sky radiation, MJ/m²/day: `Rso = (0.75 + 2e-5 z) Ra` (FAO-56 eq. 37).
pub fn clear_sky_radiation(altitude_m: f64, sky: Extraterrestrial) -> f64 {
    (0.75 + 2e-5 * altitude_m) * sky.ra_mj_m2_day
}

/// Saturation vapour pressure, kPa, at a temperature in degC (FAO-56 eq. 11).
pub fn saturation_kpa(t_c: f64) -> f64 {
    0.6108 * (17.27 * t_c / (t_c + 237.3)).exp()
}

/// Slope of the saturation curve, kPa/K (FAO-56 eq. 13).
pub fn saturation_slope_kpa_k(t_c: f64) -> f64 {
    4098.0 * saturation_kpa(t_c) / (t_c + 237.3).powi(2)
}

/// Air pressure, kPa, at an altitude in metres (FAO-56 eq. 7); -430..6000 m.
pub fn air_pressure_kpa(altitude_m: f64) -> Result<f64, SizingError> {
    let z = within("alt_m", altitude_m, -430.0, 6000.0)?;
    Ok(101.3 * ((293.0 - 0.0065 * z) / 293.0).powf(5.26))
}

/// Psychrometric constant, kPa/K (FAO-56 eq. 8).
pub fn psychrometric_kpa_k(pressure_kpa: f64) -> f64 {
    0.665e-3 * pressure_kpa
}

/// Wind at two metres, m/s, from wind at another height over grass: `u2 = uz 4.87/ln(67.8 z - 5.42)` (FAO-56 eq. 47).
pub fn wind_at_2_m(wind_m_s: f64, height_m: f64) -> Result<f64, SizingError> {
    let z = within("wind_height_m", height_m, 0.5, 100.0)?;
    let wind = within("wind_m_s", wind_m_s, 0.0, 60.0)?;
    Ok(wind * 4.87 / (67.8 * z - 5.42).ln())
}

/// Vapour pressure, kPa, from mean relative humidity: `ea = RH/100 (e(Tmax) + e(Tmin))/2` (FAO-56 eq. 19).
pub fn vapour_from_mean_humidity(rh_percent: f64, t_min_c: f64, t_max_c: f64) -> Result<f64, SizingError> {
    let rh = within("rh_percent", rh_percent, 1.0, 100.0)?;
    Ok(rh / 100.0 * mean_saturation_kpa(t_min_c, t_max_c))
}

/// Mean saturation vapour pressure of a day, kPa (FAO-56 eq. 12).
pub fn mean_saturation_kpa(t_min_c: f64, t_max_c: f64) -> f64 {
    (saturation_kpa(t_max_c) + saturation_kpa(t_min_c)) / 2.0
}

/// Net long-wave radiation, MJ/m²/day (FAO-56 eq. 39); `rs/rso` is taken as at most 1.
pub fn net_longwave_mj(t_min_c: f64, t_max_c: f64, vapour_kpa: f64, rs_mj: f64, rso_mj: f64) -> f64 {
    let fourth = ((t_max_c + 273.16).powi(4) + (t_min_c + 273.16).powi(4)) / 2.0;
    let clearness = (rs_mj / rso_mj).min(1.0);
    STEFAN_BOLTZMANN * fourth * (0.34 - 0.14 * vapour_kpa.sqrt()) * (1.35 * clearness - 0.35)
}

/// What the Penman-Monteith equation needs of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayWeather {
    pub t_min_c: f64,
    pub t_max_c: f64,
    /// The day's mean temperature, degC; (Tmax + Tmin)/2 unless the source gives it.
    pub t_mean_c: f64,
    pub vapour_kpa: f64,
    pub wind_2m_m_s: f64,
    pub radiation_mj_m2: f64,
    pub soil_heat_mj_m2: f64,
    pub altitude_m: f64,
}

/// Reference evapotranspiration, mm/day: Penman-Monteith (FAO-56 eq. 6), not below zero.
///
/// `ETo = [0.408 D (Rn - G) + g 900/(T + 273) u2 (es - ea)] / [D + g (1 + 0.34 u2)]`
///
/// Ranges: mean temperature -40..50 degC, vapour 0..13 kPa, wind 0..20 m/s, radiation 0..45 and soil heat -10..10 MJ/m².
pub fn reference_mm_day(weather: &DayWeather, sky: Extraterrestrial) -> Result<f64, SizingError> {
    let t = within("t_mean_c", weather.t_mean_c, -40.0, 50.0)?;
    let wind = within("u2_m_s", weather.wind_2m_m_s, 0.0, 20.0)?;
    let rs = within("radiation_mj_m2", weather.radiation_mj_m2, 0.0, 45.0)?;
    within("t_min_c", weather.t_min_c, -40.0, 50.0)?;
    within("t_max_c", weather.t_max_c, -40.0, 60.0)?;
    within("vapour_kpa", weather.vapour_kpa, 0.0, 13.0)?;
    within("soil_heat_mj_m2", weather.soil_heat_mj_m2, -10.0, 10.0)?;
    let rso = clear_sky_radiation(weather.altitude_m, sky);
    let net = (1.0 - GRASS_ALBEDO) * rs - net_longwave_mj(weather.t_min_c, weather.t_max_c, weather.vapour_kpa, rs, rso);
    let slope = saturation_slope_kpa_k(t);
    let gamma = psychrometric_kpa_k(air_pressure_kpa(weather.altitude_m)?);
    let deficit = mean_saturation_kpa(weather.t_min_c, weather.t_max_c) - weather.vapour_kpa;
    let radiation_part = 0.408 * slope * (net - weather.soil_heat_mj_m2);
    let wind_part = gamma * 900.0 / (t + 273.0) * wind * deficit;
    Ok(((radiation_part + wind_part) / (slope + gamma * (1.0 + 0.34 * wind))).max(0.0))
}
