//! What spares a pump that its panels drive too hard, and what that does to the verdict.

use serde::Serialize;

use crate::sizing::error::SizingError;
use crate::sizing::parts::pump::PumpLabel;
use crate::sizing::set::over_drive::Drive;
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::set::site::Site;
use crate::sizing::set::spread::verdict_of;
use crate::sizing::set::verdict::Verdict;

/// Fewer panels, and how the set does with them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Cure {
    pub panel_count: u32,
    pub verdict: Option<Verdict>,
    /// None when nothing is needed.
    pub area_m2: Option<f64>,
}

/// The most panels of the same kind, fewer than now and as many for each pump, that do not over-drive the pump.
pub fn cure_of(site: &Site<'_>, label: &PumpLabel) -> Result<Option<Cure>, SizingError> {
    let pumps = site.filled.pump_count;
    for each in (1..site.filled.panels_each()).rev() {
        let panel_count = each * pumps;
        let fewer = Site { filled: CompleteSheet { panel_count, ..site.filled.clone() }, ..site.clone() };
        if fewer.drive(&fewer.design(label)?)? == Drive::Fit {
            let solved = fewer.solve(label)?;
            let verdict = verdict_of(&fewer, &solved)?;
            return Ok(Some(Cure { panel_count, verdict, area_m2: solved.month().area_m2 }));
        }
    }
    Ok(None)
}
