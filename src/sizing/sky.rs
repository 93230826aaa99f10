//! A month's light on the panels: ten day types in quarter-hour steps, with the temperature of the cells.

use std::f64::consts::PI;

use super::daytypes::ClearnessDistribution;
use super::diffuse::{daily_diffuse_fraction, diffuse_hour_ratio, global_hour_ratio};
use super::error::SizingError;
use super::place::Weather;
use super::stance::{PlaneView, Stance, plane_at};
use super::sun::{SunDay, hour_angle_rad};

/// Length of a step, hours; the first midpoint lies half a step after midnight, solar time.
pub const STEP_H: f64 = 0.25;

/// Solar hour at which the day is warmest.
const WARMEST_H: f64 = 15.0;

/// Faiman's coefficients of cell temperature, W/m²/K and W s/m³/K (Faiman 2008; pvlib's defaults).
const FAIMAN_U0: f64 = 25.0;
const FAIMAN_U1: f64 = 6.84;

/// Light on the panels, before dust, and how warm the cells are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Light {
    pub poa_w_m2: f64,
    pub cell_c: f64,
}

/// One quarter of an hour, whatever the day's brightness.
#[derive(Debug, Clone, Copy)]
struct Step {
    global_ratio: f64,
    diffuse_ratio: f64,
    view: PlaneView,
    air_c: f64,
}

/// Global and diffuse radiation of a day type on the flat, Wh/m².
#[derive(Debug, Clone, Copy)]
struct DayType {
    global_wh_m2: f64,
    diffuse_wh_m2: f64,
}

/// A month's light on panels in one stance.
#[derive(Debug, Clone)]
pub struct MonthSky {
    day: SunDay,
    stance: Stance,
    weather: Weather,
    steps: Vec<Step>,
    day_types: [DayType; 10],
    global_scale: f64,
    diffuse_scale: f64,
}

impl MonthSky {
    /// From a latitude (-60..60), a month's weather and how the panels stand.
    ///
    /// Each day type's global radiation is its clearness times H0, its diffuse by Erbs; within the day `r_t` and `r_d`,
    /// scaled so that the steps add up to the day.
    pub fn new(lat_deg: f64, weather: &Weather, stance: Stance) -> Result<Self, SizingError> {
        let day = SunDay::of_month(lat_deg, weather.month)?;
        let sunset = day.sunset_rad();
        let h0 = day.extraterrestrial_kwh_m2() * 1000.0;
        let clearness = ClearnessDistribution::new(weather.h_kwh_m2_day * 1000.0 / h0)?.day_types()?;
        let mut day_types = [DayType { global_wh_m2: 0.0, diffuse_wh_m2: 0.0 }; 10];
        for (kind, k) in day_types.iter_mut().zip(clearness) {
            kind.global_wh_m2 = k * h0;
            kind.diffuse_wh_m2 = kind.global_wh_m2 * daily_diffuse_fraction(k, sunset)?;
        }
        let planes = stance.planes(&day);
        let normal = day.extraterrestrial_normal_w_m2();
        let mut steps = Vec::with_capacity(64);
        let (mut global_sum, mut diffuse_sum) = (0.0, 0.0);
        for index in 0..(24.0 / STEP_H) as u32 {
            let hour = (f64::from(index) + 0.5) * STEP_H;
            let angle = hour_angle_rad(hour);
            if angle.abs() >= sunset {
                continue;
            }
            let global_ratio = global_hour_ratio(angle, sunset);
            let diffuse_ratio = diffuse_hour_ratio(angle, sunset);
            global_sum += global_ratio * STEP_H;
            diffuse_sum += diffuse_ratio * STEP_H;
            let view = PlaneView::new(day.position(angle), planes[plane_at(hour)], normal);
            steps.push(Step { global_ratio, diffuse_ratio, view, air_c: air_c(weather, hour) });
        }
        let (global_scale, diffuse_scale) = (1.0 / global_sum, 1.0 / diffuse_sum);
        for step in &mut steps {
            step.global_ratio *= global_scale;
            step.diffuse_ratio *= diffuse_scale;
        }
        Ok(MonthSky { day, stance, weather: *weather, steps, day_types, global_scale, diffuse_scale })
    }

    /// The light of every quarter hour between sunrise and sunset of a day type (0 dullest .. 9 brightest).
    pub fn day(&self, day_type: usize) -> impl Iterator<Item = Light> + '_ {
        let kind = self.day_types[day_type.min(9)];
        self.steps.iter().map(move |step| self.light(kind, step.global_ratio, step.diffuse_ratio, &step.view, step.air_c))
    }

    /// The light of a day type at a solar hour (0..24); none outside sunrise to sunset.
    pub fn at(&self, day_type: usize, solar_hour: f64) -> Light {
        let angle = hour_angle_rad(solar_hour);
        let sunset = self.day.sunset_rad();
        let plane = self.stance.planes(&self.day)[plane_at(solar_hour)];
        let view = PlaneView::new(self.day.position(angle), plane, self.day.extraterrestrial_normal_w_m2());
        self.light(
            self.day_types[day_type.min(9)],
            global_hour_ratio(angle, sunset) * self.global_scale,
            diffuse_hour_ratio(angle, sunset) * self.diffuse_scale,
            &view,
            air_c(&self.weather, solar_hour),
        )
    }

    /// Solar hours of sunrise and sunset.
    pub fn daylight_h(&self) -> (f64, f64) {
        let half_day = self.day.sunset_rad() * 12.0 / PI;
        (12.0 - half_day, 12.0 + half_day)
    }

    fn light(&self, kind: DayType, global_ratio: f64, diffuse_ratio: f64, view: &PlaneView, air_c: f64) -> Light {
        let global = kind.global_wh_m2 * global_ratio;
        let diffuse = (kind.diffuse_wh_m2 * diffuse_ratio).min(global);
        let poa_w_m2 = view.on_plane_w_m2(global, diffuse);
        Light { poa_w_m2, cell_c: faiman_c(poa_w_m2, air_c, self.weather.u2_m_s) }
    }
}

/// Air temperature, degC, at a solar hour: a cosine between the month's mean minimum and maximum, warmest at 15:00.
pub fn air_c(weather: &Weather, solar_hour: f64) -> f64 {
    let mean = (weather.t_max_c + weather.t_min_c) / 2.0;
    let swing = (weather.t_max_c - weather.t_min_c) / 2.0;
    mean + swing * (2.0 * PI * (solar_hour - WARMEST_H) / 24.0).cos()
}

/// Cell temperature, degC, by Faiman: `Ta + G/(u0 + u1 v)`.
pub fn faiman_c(poa_w_m2: f64, air_c: f64, wind_m_s: f64) -> f64 {
    air_c + poa_w_m2 / (FAIMAN_U0 + FAIMAN_U1 * wind_m_s)
}
