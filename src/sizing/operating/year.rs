//! A whole year of one set: water by month on the mean day and on the poor one.

use serde::Serialize;

use crate::sizing::error::{SizingError, within};
use crate::sizing::light::sky::{Light, MonthSky, STEP_H, STEPS};

/// Seconds in a step.
const STEP_S: f64 = STEP_H * 3600.0;

/// Something that lifts water in a given light; the plain solver and the tabulated one both do.
pub trait Lifter {
    /// Flow of one pump, m³/s.
    fn flow_m3_s(&self, light: Light) -> Result<f64, SizingError>;

    /// Flows in the lights of a day, one after the other.
    fn flows_m3_s(&self, lights: &[Light], flows_m3_s: &mut [f64]) -> Result<(), SizingError> {
        for (flow_m3_s, light) in flows_m3_s.iter_mut().zip(lights) {
            *flow_m3_s = self.flow_m3_s(*light)?;
        }
        Ok(())
    }
}

/// One month of a set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MonthWater {
    pub panel_kwh_m2_day: f64,
    pub water_m3_day: f64,
    /// What eight days in ten reach.
    pub poor_day_m3: f64,
    /// Hours a day with water at the outlet.
    pub pumping_hours: f64,
}

/// Water of a month: `pumps` (0..1000) equal pumps, each capped at `cap_m3_s` (from nothing, without end) by the well.
pub fn month_water(sky: &MonthSky, lifter: &impl Lifter, pumps: f64, cap_m3_s: f64) -> Result<MonthWater, SizingError> {
    within("pump_count", pumps, 0.0, 1000.0)?;
    within("well_m3_s", cap_m3_s, 0.0, f64::INFINITY)?;
    let mut volumes = [0.0; 10];
    let (mut steps_running, mut light_wh) = (0_u32, 0.0);
    for (day_type, volume) in volumes.iter_mut().enumerate() {
        let lights = sky.day(day_type);
        let mut flows_m3_s = [0.0; STEPS];
        let flows_m3_s = &mut flows_m3_s[..lights.len()];
        lifter.flows_m3_s(lights, flows_m3_s)?;
        light_wh += lights.iter().map(|light| light.poa_w_m2).sum::<f64>() * STEP_H;
        let mut sum_m3_s = 0.0;
        for flow_m3_s in flows_m3_s {
            let flow_m3_s = if *flow_m3_s < cap_m3_s { *flow_m3_s } else { cap_m3_s };
            steps_running += u32::from(flow_m3_s > 0.0);
            sum_m3_s += flow_m3_s;
        }
        *volume = sum_m3_s * STEP_S * pumps;
    }
    volumes.sort_unstable_by(f64::total_cmp);
    let days = volumes.len() as f64;
    Ok(MonthWater {
        panel_kwh_m2_day: light_wh / days / 1000.0,
        water_m3_day: volumes.iter().sum::<f64>() / days,
        poor_day_m3: poor_day(&volumes),
        pumping_hours: f64::from(steps_running) * STEP_H / days,
    })
}

/// The volume at 0.2 of the sorted day types, on the straight line between those at 0.15 and 0.25.
fn poor_day(sorted: &[f64; 10]) -> f64 {
    0.5 * (sorted[1] + sorted[2])
}
