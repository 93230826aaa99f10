//! Whether the panels drive a brushed pump over its voltage, and how many would not.

use super::design::Design;
use super::sheet::CompleteSheet;
use super::site::Site;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::{bright_noon, sky_of};
use crate::sizing::operating::point::operating_point;
use crate::sizing::parts::pump::PumpLabel;

/// The most panels of the same kind, fewer than now, that do not over-drive the pump at the bright noon of a month.
pub fn cure_over_drive(site: &Site<'_>, label: &PumpLabel, month: u8) -> Result<Option<u32>, SizingError> {
    for panel_count in (1..site.filled.panel_count).rev() {
        let filled = CompleteSheet { panel_count, ..site.filled.clone() };
        let fewer = Site { filled, ..site.clone() };
        if !is_over_driven(&fewer, &fewer.design(label)?, month)? {
            return Ok(Some(panel_count));
        }
    }
    Ok(None)
}

/// Whether the bright noon of a month drives a brushed pump over its limit.
pub fn is_over_driven(site: &Site<'_>, design: &Design, month: u8) -> Result<bool, SizingError> {
    let circuit = design.circuit_of(month, &site.demand);
    let noon = operating_point(circuit, bright_noon(sky_of(&site.skies, month)))?;
    Ok(circuit.pump.over_drive_v().is_some_and(|limit| noon.pump_v > limit))
}
