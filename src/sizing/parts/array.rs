//! How panels are joined: so many in series, so many strings side by side.

use super::pump::PumpLabel;

/// Working volts of one cell near its greatest power.
const CELL_WORKING_V: f64 = 0.5;

/// Working volts wanted of the array over the label volts of the pump.
const WORKING_OVER_LABEL: f64 = 1.4;

/// Panels in series in a string.
///
/// Of the whole-number splits of `panel_count`, the one whose working voltage `series 0.5 V cells` lies nearest to 1.4
/// times the pump's label voltage; the smaller series count on a tie.
pub fn series_count(panel_count: u32, cells: u32, pump: &PumpLabel) -> u32 {
    let wanted = WORKING_OVER_LABEL * pump.label_v;
    let distance = |series: u32| (f64::from(series * cells) * CELL_WORKING_V - wanted).abs();
    (1..=panel_count)
        .filter(|series| panel_count.is_multiple_of(*series))
        // `min_by` keeps the first of equals, and the smaller series counts come first.
        .min_by(|&a, &b| distance(a).total_cmp(&distance(b)))
        .unwrap_or(1)
}
