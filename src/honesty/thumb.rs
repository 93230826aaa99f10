//! Two rules of thumb, for comparison.

use crate::sizing::SizingError;
use crate::sizing::light::sky::Light;
use crate::sizing::operating::point::operating_point;
use crate::sizing::set::site::{Site, Solved};

/// Light and warmth of the label's own hour, in which the second rule asks for the flow.
const FULL_LIGHT: Light = Light { poa_w_m2: 1000.0, cell_c: 50.0 };

/// A rule of thumb.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// Kilowatt hours of sun a day times the label's litres an hour.
    PeakSunHours,
    /// The flow in full light, in proportion to the day's light: no threshold, no bad days.
    NoThreshold,
}

/// The area, m², that the design month's water serves by a rule of thumb.
pub fn area_by(rule: Rule, site: &Site<'_>, solved: &Solved) -> Result<f64, SizingError> {
    let month = solved.month();
    let pumps = f64::from(site.filled.pump_count);
    let water_m3_day = match rule {
        Rule::PeakSunHours => month.sun_kwh_m2_day * solved.design.pump_label.flow_l_h / 1000.0,
        Rule::NoThreshold => {
            let circuit = solved.design.circuit_of(solved.design_month, &site.demand);
            operating_point(circuit, FULL_LIGHT)?.flow_m3_s * 3600.0 * month.water.panel_kwh_m2_day
        }
    };
    Ok(pumps * water_m3_day * 1000.0 / month.need_l_m2_day)
}
