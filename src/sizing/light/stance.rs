//! How the panels stand, and what reaches them on their tilt.

use crate::terms::StanceKind;
use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::sizing::error::{SizingError, within};
use crate::sizing::sun::position::{Direction, SunDay, SunPosition, cos_incidence, hour_angle_rad};

/// Reflectance of the ground before the panels (Duffie & Beckman: 0.2 where nothing better is known).
const GROUND_REFLECTANCE: f64 = 0.2;

/// No beam is divided by a cosine of zenith smaller than that of 89 degrees.
const COS_89_DEG: f64 = 0.017_452_406_437_283_51;

/// Below this cosine of zenith the panels give nothing worth counting.
const COS_ZENITH_LEAST: f64 = 0.01;

/// Steepest tilt to which a cart is turned by hand, degrees (practice: steeper ones fall over).
pub const TURNED_TILT_CAP_DEG: f64 = 45.0;

/// Solar hours at which the cart is turned, and where it then faces (practice).
pub const TURNING_HOURS: [f64; 2] = [10.0, 14.0];
const FACING_HOURS: [f64; 3] = [8.5, 12.0, 15.5];

/// A way of standing with its tilt: of `Fixed` the tilt toward the equator, of `Turned` the steepest tilt used.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stance {
    pub kind: StanceKind,
    pub tilt_deg: f64,
}

/// A plane: tilt from the flat, azimuth zero south, positive west.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    pub tilt_rad: f64,
    pub azimuth_rad: f64,
}

impl Stance {
    /// Lying flat.
    pub const FLAT: Stance = Stance { kind: StanceKind::Flat, tilt_deg: 0.0 };

    /// Tilted toward the equator, `tilt_deg` 0..90.
    pub fn fixed(tilt_deg: f64) -> Result<Self, SizingError> {
        Ok(Stance { kind: StanceKind::Fixed, tilt_deg: within("tilt_deg", tilt_deg, 0.0, 90.0)? })
    }

    /// Turned by hand twice a day, never steeper than `cap_deg` (0..90).
    pub fn turned(cap_deg: f64) -> Result<Self, SizingError> {
        Ok(Stance { kind: StanceKind::Turned, tilt_deg: within("tilt_deg", cap_deg, 0.0, 90.0)? })
    }

    /// The three planes of the day: before 10:00, until 14:00, after, in solar time. Flat and fixed stances have
    /// three times the same.
    pub fn planes(&self, day: &SunDay) -> [Plane; 3] {
        match self.kind {
            StanceKind::Flat => [Plane { tilt_rad: 0.0, azimuth_rad: 0.0 }; 3],
            StanceKind::Fixed => {
                let azimuth_rad = if day.latitude_rad() < 0.0 { PI } else { 0.0 };
                [Plane { tilt_rad: self.tilt_deg.to_radians(), azimuth_rad }; 3]
            }
            StanceKind::Turned => FACING_HOURS.map(|hour| {
                let sun = day.position(hour_angle_rad(hour));
                let tilt_rad = sun.cos_zenith.clamp(-1.0, 1.0).acos().min(self.tilt_deg.to_radians());
                Plane { tilt_rad, azimuth_rad: sun.azimuth_rad }
            }),
        }
    }
}

/// Which of the day's three planes stands at a solar hour.
pub fn plane_at(solar_hour: f64) -> usize {
    TURNING_HOURS.iter().filter(|&&turn| solar_hour >= turn).count()
}

impl Plane {
    /// The direction that the plane faces.
    pub fn normal(&self) -> Direction {
        let (sin_tilt, up) = self.tilt_rad.sin_cos();
        let (sin_azimuth, cos_azimuth) = self.azimuth_rad.sin_cos();
        Direction { up, south: sin_tilt * cos_azimuth, west: sin_tilt * sin_azimuth }
    }
}

/// What a plane sees of beam, sky and ground for one position of the sun: the part of the transposition that does
/// not depend on how bright the day is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaneView {
    /// Beam on the plane over beam on the flat, `cos theta / cos z`; zero with the sun too low or behind the plane.
    beam_ratio: f64,
    /// Sky seen, `(1 + cos beta)/2`.
    sky: f64,
    /// Ground seen times its reflectance, `rho (1 - cos beta)/2`.
    ground: f64,
    /// One over the extraterrestrial irradiance on the flat.
    per_extraterrestrial: f64,
}

impl PlaneView {
    /// With the sun too low: nothing of anything.
    pub const DARK: PlaneView = PlaneView { beam_ratio: 0.0, sky: 0.0, ground: 0.0, per_extraterrestrial: 0.0 };

    /// For a sun and a plane; `extraterrestrial_normal_w_m2` is that of the day.
    pub fn new(sun: SunPosition, plane: Plane, extraterrestrial_normal_w_m2: f64) -> Self {
        let cos_incidence = cos_incidence(sun, plane.tilt_rad, plane.azimuth_rad);
        PlaneView::seen(sun.cos_zenith, cos_incidence, plane.tilt_rad.cos(), extraterrestrial_normal_w_m2)
    }

    /// The same from directions: toward the sun, and the one that the plane faces.
    pub fn facing(sun: Direction, normal: Direction, extraterrestrial_normal_w_m2: f64) -> Self {
        PlaneView::seen(sun.up, sun.cos_to(normal), normal.up, extraterrestrial_normal_w_m2)
    }

    fn seen(cos_zenith: f64, cos_incidence: f64, cos_tilt: f64, extraterrestrial_normal_w_m2: f64) -> Self {
        if cos_zenith < COS_ZENITH_LEAST {
            return PlaneView::DARK;
        }
        let per_cos_zenith = 1.0 / cos_zenith.max(COS_89_DEG);
        PlaneView {
            beam_ratio: cos_incidence.max(0.0) * per_cos_zenith,
            sky: (1.0 + cos_tilt) / 2.0,
            ground: GROUND_REFLECTANCE * (1.0 - cos_tilt) / 2.0,
            per_extraterrestrial: per_cos_zenith / extraterrestrial_normal_w_m2,
        }
    }

    /// Irradiance on the plane, W/m², from global and diffuse on the flat, W/m².
    ///
    /// `G_T = (Gb + Gd A) Rb + Gd (1 - A)(1 + cos beta)/2 + G rho (1 - cos beta)/2`, `A = Gb/G0`: Hay & Davies 1980
    /// (Duffie & Beckman eq. 2.16.4 with the horizon term left out). Nothing with the sun below `cos z = 0.01`.
    pub fn on_plane_w_m2(&self, global_w_m2: f64, diffuse_w_m2: f64) -> f64 {
        let beam = global_w_m2 - diffuse_w_m2;
        let around_sun = diffuse_w_m2 * beam * self.per_extraterrestrial;
        (beam + around_sun) * self.beam_ratio + (diffuse_w_m2 - around_sun) * self.sky + global_w_m2 * self.ground
    }
}
