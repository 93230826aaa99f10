//! Whether the panels drive a brushed pump over its voltage.

use serde::Serialize;

use super::demand::Demand;
use super::design::Design;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::{MonthSky, bright_noon, sky_of};
use crate::sizing::operating::point::operating_point_near;

/// How hard a set's pump is driven at the bright noons that it is used in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Drive {
    Fit,
    /// Above 1.25 times its rated voltage: the brushes wear quickly.
    Over,
    /// Above 1.5 times: it does not last.
    Unfit,
}

/// The hardest drive over the bright noons of the season's months and of the month asked for.
pub fn drive_of(design: &Design, skies: &[MonthSky], demand: &Demand, asked: Option<u8>) -> Result<Drive, SizingError> {
    let pump = &design.season_circuit.pump;
    let (Some(over_v), Some(unfit_v)) = (pump.over_drive_v(), pump.unfit_v()) else { return Ok(Drive::Fit) };
    // One noon is much like the next, so each is looked for near the last.
    let mut near_m3_s = 0.0;
    let mut hardest_v = 0.0_f64;
    for &month in demand.season.iter().chain(asked.iter().filter(|asked| !demand.season.contains(asked))) {
        let light = bright_noon(sky_of(skies, month));
        let noon = operating_point_near(design.circuit_of(month, demand), light, near_m3_s)?;
        near_m3_s = noon.flow_m3_s;
        hardest_v = hardest_v.max(noon.pump_v);
    }
    Ok(if hardest_v > unfit_v {
        Drive::Unfit
    } else if hardest_v > over_v {
        Drive::Over
    } else {
        Drive::Fit
    })
}
