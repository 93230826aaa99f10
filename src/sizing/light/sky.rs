//! A month's light on the panels: ten day types in quarter-hour steps, with the temperature of the cells.

use crate::sizing::sun::beam::greatest_beam_share_quickly;
use crate::sizing::sun::day_types::BRIGHT_DAY;
use crate::sizing::weather::climate::Climate;
use std::f64::consts::{FRAC_1_SQRT_2, PI};
use std::sync::LazyLock;

use super::stance::{PlaneView, Stance, plane_at};
use crate::sizing::error::{SizingError, within};
use crate::sizing::sun::day_types::ClearnessDistribution;
use crate::sizing::sun::diffuse::{DayShape, daily_diffuse_fraction};
use crate::sizing::sun::position::{Direction, SunDay, hour_angle_rad};
use crate::sizing::weather::place::Weather;

/// Solar noon, hours.
const NOON_H: f64 = 12.0;

/// Length of a step, hours; the first midpoint lies half a step after midnight, solar time.
pub const STEP_H: f64 = 0.25;

/// Steps of a whole day.
pub const STEPS: usize = (24.0 / STEP_H) as usize;

/// Faiman's coefficients of cell temperature, W/m²/K and W s/m³/K (Faiman 2008; pvlib's defaults).
const FAIMAN_U0: f64 = 25.0;
const FAIMAN_U1: f64 = 6.84;

/// Light on the panels, before dust, and how warm the cells are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Light {
    pub poa_w_m2: f64,
    pub cell_c: f64,
}

/// Global and diffuse radiation of a day type on the flat, Wh/m².
#[derive(Debug, Clone, Copy)]
struct DayType {
    global_wh_m2: f64,
    diffuse_wh_m2: f64,
}

impl DayType {
    /// Light on the panels, W/m², in a step of the day. Diffuse is never above global; beam above what the air lets through
    /// counts as diffuse, for the shapes of the day leave an impossible beam at sunrise.
    fn poa_w_m2(&self, step: &Step) -> f64 {
        let global = self.global_wh_m2 * step.global_ratio;
        let beam = (global - self.diffuse_wh_m2 * step.diffuse_ratio).clamp(0.0, step.greatest_beam_w_m2);
        step.view.on_plane_w_m2(global, global - beam)
    }
}

/// What one moment of the day gives to every day type.
#[derive(Debug, Clone, Copy)]
struct Step {
    global_ratio: f64,
    diffuse_ratio: f64,
    view: PlaneView,
    /// Of the beam on the flat, by the air that it comes through.
    greatest_beam_w_m2: f64,
}

impl Step {
    const DARK: Step = Step { global_ratio: 0.0, diffuse_ratio: 0.0, view: PlaneView::DARK, greatest_beam_w_m2: 0.0 };
}

/// A month's light on panels in one stance.
#[derive(Debug, Clone)]
pub struct MonthSky {
    day: SunDay,
    shape: DayShape,
    /// Where the panels face before 10:00, until 14:00 and after.
    normals: [Direction; 3],
    weather: Weather,
    day_types: [DayType; 10],
    global_scale: f64,
    diffuse_scale: f64,
    /// Cells above air per light on the panels, K m²/W.
    heating: f64,
    /// The light of each quarter hour between sunrise and sunset of the dullest day type, then of the next.
    lights: Vec<Light>,
}

/// Cosine and sine of the hour angle in the middle of every quarter hour of a day.
static QUARTER_HOURS: LazyLock<[(f64, f64); STEPS]> = LazyLock::new(|| {
    std::array::from_fn(|step| {
        let angle = hour_angle_rad((step as f64 + 0.5) * STEP_H);
        (angle.cos(), angle.sin())
    })
});

impl MonthSky {
    /// From a latitude (-60..60), a month's weather and how the panels stand.
    ///
    /// Each day type's global radiation is its clearness times H0, its diffuse by Erbs; within the day `r_t` and `r_d`,
    /// scaled so that the steps add up to the day. Temperatures and wind within the ranges of a place: -40..45 and -40..55
    /// degC, 0..20 m/s.
    pub fn new(lat_deg: f64, weather: &Weather, stance: Stance) -> Result<Self, SizingError> {
        within("t_min_c", weather.t_min_c, -40.0, 45.0)?;
        within("t_max_c", weather.t_max_c, -40.0, 55.0)?;
        within("u2_m_s", weather.u2_m_s, 0.0, 20.0)?;
        let day = SunDay::of_month(lat_deg, weather.month)?;
        let sunset = day.sunset_rad();
        let h0 = day.extraterrestrial_kwh_m2() * 1000.0;
        let clearness = ClearnessDistribution::new(weather.h_kwh_m2_day * 1000.0 / h0)?.day_types();
        let mut day_types = [DayType { global_wh_m2: 0.0, diffuse_wh_m2: 0.0 }; 10];
        for (kind, k) in day_types.iter_mut().zip(clearness) {
            kind.global_wh_m2 = k * h0;
            kind.diffuse_wh_m2 = kind.global_wh_m2 * daily_diffuse_fraction(k, sunset)?;
        }
        let (shape, path) = (DayShape::new(sunset)?, day.path());
        let normals = stance.planes(&day).map(|plane| plane.normal());
        let extraterrestrial = day.extraterrestrial_normal_w_m2();
        // The quarter hours whose middle lies between sunrise and sunset, as far before noon as after it.
        let half = ((sunset / hour_angle_rad(12.0 + STEP_H) + 0.5).ceil() as usize - 1).min(STEPS / 2);
        let daylight = STEPS / 2 - half..STEPS / 2 + half;
        let mut steps = [Step::DARK; STEPS];
        let mut air_c = [0.0; STEPS];
        let (mut global_sum, mut diffuse_sum) = (0.0, 0.0);
        let hours = &*QUARTER_HOURS;
        for step in daylight.clone() {
            let (cos_hour, sin_hour) = hours[step];
            let (global_ratio, diffuse_ratio) = shape.ratios(cos_hour);
            global_sum += global_ratio * STEP_H;
            diffuse_sum += diffuse_ratio * STEP_H;
            let normal = normals[plane_at((step as f64 + 0.5) * STEP_H)];
            let sun = path.direction(sin_hour, cos_hour);
            let view = PlaneView::facing(sun, normal, extraterrestrial);
            let greatest_beam_w_m2 = extraterrestrial * sun.up.max(0.0) * greatest_beam_share_quickly(sun.up);
            steps[step] = Step { global_ratio, diffuse_ratio, view, greatest_beam_w_m2 };
            air_c[step] = air(weather, cos_hour, sin_hour);
        }
        let (global_scale, diffuse_scale) = (1.0 / global_sum, 1.0 / diffuse_sum);
        for step in &mut steps[daylight.clone()] {
            step.global_ratio *= global_scale;
            step.diffuse_ratio *= diffuse_scale;
        }
        let heating = heating(weather.u2_m_s);
        let mut lights = Vec::with_capacity(day_types.len() * daylight.len());
        for kind in &day_types {
            lights.extend(daylight.clone().map(|step| {
                let poa_w_m2 = kind.poa_w_m2(&steps[step]);
                Light { poa_w_m2, cell_c: air_c[step] + poa_w_m2 * heating }
            }));
        }
        Ok(MonthSky { day, shape, normals, weather: *weather, day_types, global_scale, diffuse_scale, heating, lights })
    }

    /// The light of every quarter hour between sunrise and sunset of a day type (0 dullest .. 9 brightest).
    pub fn day(&self, day_type: usize) -> &[Light] {
        let steps = self.lights.len() / self.day_types.len();
        let first = day_type.min(9) * steps;
        &self.lights[first..first + steps]
    }

    /// The light of a day type at a solar hour (0..24); none outside sunrise to sunset.
    pub fn at(&self, day_type: usize, solar_hour: f64) -> Light {
        let (sin_hour, cos_hour) = hour_angle_rad(solar_hour).sin_cos();
        let normal = self.normals[plane_at(solar_hour)];
        let sun = self.day.path().direction(sin_hour, cos_hour);
        let view = PlaneView::facing(sun, normal, self.day.extraterrestrial_normal_w_m2());
        let (global, diffuse) = self.shape.ratios(cos_hour);
        let step = Step {
            global_ratio: global * self.global_scale,
            diffuse_ratio: diffuse * self.diffuse_scale,
            view,
            greatest_beam_w_m2: self.day.extraterrestrial_normal_w_m2()
                * sun.up.max(0.0)
                * greatest_beam_share_quickly(sun.up),
        };
        let poa_w_m2 = self.day_types[day_type.min(9)].poa_w_m2(&step);
        Light { poa_w_m2, cell_c: air(&self.weather, cos_hour, sin_hour) + poa_w_m2 * self.heating }
    }

    /// The coldest and the hottest that the cells get, degC.
    pub fn cell_range_c(&self) -> (f64, f64) {
        let cells = self.lights.iter().map(|light| light.cell_c);
        cells.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), cell_c| (low.min(cell_c), high.max(cell_c)))
    }

    /// Solar hours of sunrise and sunset.
    pub fn daylight_h(&self) -> (f64, f64) {
        let half_day = self.day.sunset_rad() * 12.0 / PI;
        (12.0 - half_day, 12.0 + half_day)
    }
}

/// The light of a place's twelve months on panels that stand so.
pub fn skies_of(climate: &Climate, stance: Stance) -> Result<Vec<MonthSky>, SizingError> {
    climate.weather.iter().map(|month| MonthSky::new(climate.place.lat_deg, month, stance)).collect()
}

/// The sky of a month, 1..12.
pub fn sky_of(skies: &[MonthSky], month: u8) -> &MonthSky {
    &skies[usize::from(month.clamp(1, 12)) - 1]
}

/// The light at solar noon of the bright day type.
pub fn bright_noon(sky: &MonthSky) -> Light {
    sky.at(BRIGHT_DAY, NOON_H)
}

/// Air temperature, degC, at a solar hour.
pub fn air_c(weather: &Weather, solar_hour: f64) -> f64 {
    let (sin_hour, cos_hour) = hour_angle_rad(solar_hour).sin_cos();
    air(weather, cos_hour, sin_hour)
}

/// Air temperature, degC, at an hour angle: a cosine between the month's mean minimum and maximum, warmest at 15:00, an eighth
/// of a turn after noon.
fn air(weather: &Weather, cos_hour: f64, sin_hour: f64) -> f64 {
    let mean = (weather.t_max_c + weather.t_min_c) / 2.0;
    let swing = (weather.t_max_c - weather.t_min_c) / 2.0;
    mean + swing * FRAC_1_SQRT_2 * (cos_hour + sin_hour)
}

/// Cell temperature, degC, by Faiman: `Ta + G/(u0 + u1 v)`.
pub fn faiman_c(poa_w_m2: f64, air_c: f64, wind_m_s: f64) -> f64 {
    air_c + poa_w_m2 * heating(wind_m_s)
}

/// Cells above air per light on the panels, K m²/W.
fn heating(wind_m_s: f64) -> f64 {
    1.0 / (FAIMAN_U0 + FAIMAN_U1 * wind_m_s)
}
