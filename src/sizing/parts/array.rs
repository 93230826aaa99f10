//! How one pump's panels are joined: so many in a row, so many rows side by side.

use serde::Serialize;

use super::panel::WORKING_PER_CELL_V;

/// Working volts wanted of the array over the label volts of the pump.
const WORKING_OVER_LABEL: f64 = 1.4;

/// Working volts over the label's beyond which panels and pump do not belong together.
const MISMATCH_ABOVE: f64 = 1.9;

/// The panels of one pump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Array {
    /// Panels in a row.
    pub series: u32,
    /// Rows side by side.
    pub parallel: u32,
    /// Panels that this leaves over.
    pub unused: u32,
    /// Cells in series in one panel.
    pub cells: u32,
}

impl Array {
    /// The best of the series counts from one to all of a pump's panels: the one whose working voltage `series 0.492 V cells`
    /// lies nearest to 1.4 times the pump's label voltage, the smaller on a tie; as many rows of it as there are panels for.
    pub fn of(panels: u32, cells: u32, label_v: f64) -> Array {
        let wanted_v = WORKING_OVER_LABEL * label_v;
        let distance = |series: &u32| (f64::from(series * cells) * WORKING_PER_CELL_V - wanted_v).abs();
        // `min_by` keeps the first of equals, and the smaller counts come first.
        let series = (1..=panels).min_by(|a, b| distance(a).total_cmp(&distance(b))).unwrap_or(1);
        let parallel = panels / series;
        Array { series, parallel, unused: panels - series * parallel, cells }
    }

    /// Working voltage at full power, V.
    pub fn working_v(&self) -> f64 {
        f64::from(self.series * self.cells) * WORKING_PER_CELL_V
    }

    /// Whether panels and pump are of different voltages: the array works below the label's volts, or far above.
    pub fn is_mismatched(&self, label_v: f64) -> bool {
        !(label_v..=MISMATCH_ABOVE * label_v).contains(&self.working_v())
    }
}
