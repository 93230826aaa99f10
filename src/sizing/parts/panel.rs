//! A crystalline panel by its label: the single-diode model at the label's conditions, carried to others.
//!
//! `I = IL - I0 [exp((V + I Rs)/a) - 1] - (V + I Rs)/Rsh`: De Soto, Klein & Beckman 2006, Solar Energy 80:78-88.

use crate::sizing::error::{SizingError, within};
use crate::units::ZERO_CELSIUS_K;

/// Boltzmann constant over elementary charge, V/K (CODATA 2018, exact).
const BOLTZMANN_V_K: f64 = 8.617_333_262e-5;

/// Reference conditions of a label: 1000 W/m², 25 degC.
const REFERENCE_W_M2: f64 = 1000.0;
const REFERENCE_K: f64 = 25.0 + ZERO_CELSIUS_K;

/// A generic crystalline cell: its constants fitted to the medians of some 20,000 crystalline modules of the table of the
/// California Energy Commission (which the pvlib package ships; `tests/reference/modules.json` holds the medians). Together
/// they return the label's watts at the reference conditions.
const IDEALITY: f64 = 0.975;
const VOC_PER_CELL_V: f64 = 0.615;
const WATTS_PER_CELL_AMP: f64 = 0.461;
const RS_OF_VOC_ISC: f64 = 0.0863;
const RSH_OF_VOC_ISC: f64 = 80.0;

/// Working volts of one cell at full power, of the same generic cell.
pub const WORKING_PER_CELL_V: f64 = 0.492;

/// Short-circuit current's temperature coefficient, 1/K (practice: 0.04 to 0.06 % a kelvin).
const ISC_PER_K: f64 = 0.0005;

/// Band gap of silicon at 25 degC, eV, and its relative change, 1/K (De Soto 2006).
const BAND_GAP_EV: f64 = 1.121;
const BAND_GAP_PER_K: f64 = -0.000_267_7;

/// Cell temperatures that a curve is carried to, degC.
const COLDEST_C: f64 = -40.0;
const HOTTEST_C: f64 = 120.0;

/// Five parameters of a single-diode curve at one irradiance and temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diode {
    pub light_a: f64,
    pub saturation_a: f64,
    pub series_ohm: f64,
    pub shunt_ohm: f64,
    /// Modified ideality factor `n Ns k T/q`, V.
    pub ideality_v: f64,
}

impl Diode {
    /// Current, A, at a terminal voltage, V: the root of the implicit equation, by bisection on the junction voltage,
    /// of which current is an explicit falling function. Plain and slow; negative beyond open circuit.
    pub fn current_a(&self, voltage_v: f64) -> f64 {
        let junction_current = |junction_v: f64| {
            self.light_a - self.saturation_a * (junction_v / self.ideality_v).exp_m1() - junction_v / self.shunt_ohm
        };
        // Terminal voltage `junction - I Rs` rises with the junction voltage, so the root is single.
        let mut low = voltage_v.min(0.0) - 1.0;
        let mut high = voltage_v + self.light_a * self.series_ohm + 1.0;
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if middle - junction_current(middle) * self.series_ohm < voltage_v {
                low = middle;
            } else {
                high = middle;
            }
            if high - low <= 1e-13 * high.abs().max(1.0) {
                break;
            }
        }
        junction_current(0.5 * (low + high))
    }

    /// Open-circuit voltage, V: Newton from above. The current left over is a falling, concave function of voltage, so the
    /// steps come down to the root from one side and never pass it.
    pub fn open_circuit_v(&self) -> f64 {
        let mut v = self.ideality_v * (1.0 + self.light_a / self.saturation_a).ln();
        for _ in 0..100 {
            let grown = self.saturation_a * (v / self.ideality_v).exp();
            let left = self.light_a - (grown - self.saturation_a) - v / self.shunt_ohm;
            let step = left / (grown / self.ideality_v + 1.0 / self.shunt_ohm);
            v += step;
            if step.abs() <= 1e-13 * v.abs() {
                break;
            }
        }
        v.max(0.0)
    }

    /// Greatest power, W, and the voltage and current at which it is given: golden section over the voltage.
    pub fn greatest_power(&self) -> PowerPoint {
        let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
        let power = |v: f64| v * self.current_a(v);
        let (mut low, mut high) = (0.0, self.open_circuit_v());
        let mut left = high - golden * (high - low);
        let mut right = low + golden * (high - low);
        let (mut at_left, mut at_right) = (power(left), power(right));
        for _ in 0..80 {
            if at_left < at_right {
                low = left;
                (left, at_left) = (right, at_right);
                right = low + golden * (high - low);
                at_right = power(right);
            } else {
                high = right;
                (right, at_right) = (left, at_left);
                left = high - golden * (high - low);
                at_left = power(left);
            }
        }
        let voltage_v = 0.5 * (low + high);
        let current_a = self.current_a(voltage_v);
        PowerPoint { voltage_v, current_a, power_w: voltage_v * current_a }
    }
}

/// A point on a panel's curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PowerPoint {
    pub voltage_v: f64,
    pub current_a: f64,
    pub power_w: f64,
}

/// A panel at the reference conditions of its label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    pub watts: f64,
    pub cells: u32,
    reference: Diode,
    isc_a: f64,
}

/// Up to so many watts a panel has 36 cells; above, what its label does not tell is a guess (practice).
pub const SURELY_36_CELLS_UP_TO_W: f64 = 160.0;

/// Cells of a panel that states none, by its watts; modern half-cut panels count their series cells (practice).
pub fn cells_when_not_stated(watts: f64) -> u32 {
    const UP_TO_W: [(f64, u32); 5] = [(220.0, 36), (330.0, 60), (400.0, 72), (440.0, 54), (500.0, 60)];
    UP_TO_W.into_iter().find(|(most_w, _)| watts <= *most_w).map_or(72, |(_, cells)| cells)
}

/// Cells of a panel whose volts are told (1..90 V): 12, 24 and 48 are the trade's nominal volts, of 36, 72 and 144 cells; any
/// other is the working voltage at full power, 0.492 V a cell.
pub fn cells_of_volts(volts: f64) -> Result<u32, SizingError> {
    let volts = within("panel_v", volts, 1.0, 90.0)?;
    let nominal = [(12.0, 36), (24.0, 72), (48.0, 144)].into_iter().find(|(nominal, _)| volts == *nominal);
    Ok(nominal.map_or_else(|| ((volts / WORKING_PER_CELL_V).round() as u32).clamp(1, MOST_CELLS), |(_, cells)| cells))
}

/// Cells of a panel whose open-circuit volts are told (1..110 V): 0.615 V a cell.
pub fn cells_of_open_circuit_volts(volts: f64) -> Result<u32, SizingError> {
    let volts = within("panel_voc_v", volts, 1.0, 110.0)?;
    Ok(((volts / VOC_PER_CELL_V).round() as u32).clamp(1, MOST_CELLS))
}

/// Most cells in series in one panel.
const MOST_CELLS: u32 = 180;

impl Panel {
    /// A generic crystalline panel of `watts` (5..1000) and `cells` (1..180) in series.
    ///
    /// `Voc = 0.615 cells`, `Isc = W/(0.461 cells)`, `Rs = 0.0863 Voc/Isc`, `Rsh = 80 Voc/Isc`; `IL` and `I0` from
    /// the short-circuit and the open-circuit condition.
    pub fn new(watts: f64, cells: u32) -> Result<Self, SizingError> {
        within("panel_w", watts, 5.0, 1000.0)?;
        let count = within("cells", f64::from(cells), 1.0, f64::from(MOST_CELLS))?;
        let voc_v = VOC_PER_CELL_V * count;
        let isc_a = watts / (WATTS_PER_CELL_AMP * count);
        let series_ohm = RS_OF_VOC_ISC * voc_v / isc_a;
        let shunt_ohm = RSH_OF_VOC_ISC * voc_v / isc_a;
        let ideality_v = IDEALITY * count * BOLTZMANN_V_K * REFERENCE_K;
        let at_short = isc_a * series_ohm;
        let saturation_a =
            (isc_a - (voc_v - at_short) / shunt_ohm) / ((voc_v / ideality_v).exp() - (at_short / ideality_v).exp());
        let light_a = saturation_a * (voc_v / ideality_v).exp_m1() + voc_v / shunt_ohm;
        let reference = Diode { light_a, saturation_a, series_ohm, shunt_ohm, ideality_v };
        Ok(Panel { watts, cells, reference, isc_a })
    }

    /// Working voltage at full power, V: 0.492 V a cell.
    pub fn working_v(&self) -> f64 {
        WORKING_PER_CELL_V * f64::from(self.cells)
    }

    /// Short-circuit current of the label, A.
    pub fn isc_a(&self) -> f64 {
        self.isc_a
    }

    /// The curve at an irradiance (0..1500 W/m², already less dust and the like) and a cell temperature (-40..120 degC).
    pub fn at(&self, irradiance_w_m2: f64, cell_c: f64) -> Result<Diode, SizingError> {
        let irradiance = within("irradiance_w_m2", irradiance_w_m2, 0.0, 1500.0)?;
        let warm = self.at_temperature(within("cell_c", cell_c, COLDEST_C, HOTTEST_C)?);
        let suns = irradiance / REFERENCE_W_M2;
        Ok(Diode {
            light_a: suns * warm.light_a,
            // No light leaves no shunt path either; a tiny one keeps the resistance finite.
            shunt_ohm: warm.shunt_ohm / suns.max(1e-9),
            ..warm
        })
    }

    /// The curve at the reference irradiance and another cell temperature: light current and shunt conductance are
    /// both proportional to irradiance, so this is all that a search over irradiance needs.
    pub(in crate::sizing) fn at_temperature(&self, cell_c: f64) -> Diode {
        de_soto(&self.reference, ISC_PER_K * self.isc_a, cell_c)
    }

    /// Open-circuit voltage, V, in full light at a cell temperature (-40..120 degC): what a cold morning brings.
    pub fn open_circuit_v(&self, cell_c: f64) -> Result<f64, SizingError> {
        Ok(self.at_temperature(within("cell_c", cell_c, COLDEST_C, HOTTEST_C)?).open_circuit_v())
    }
}

/// A reference curve carried to another cell temperature at the same irradiance.
///
/// `a` as T, `IL + alpha (T - Tref)`, `I0` as `T^3 exp(Eg_ref/kT_ref - Eg/kT)`, `Eg = 1.121 (1 - 0.0002677 (T - Tref))`
/// (De Soto 2006 eqs. 8-12).
pub fn de_soto(reference: &Diode, isc_a_per_k: f64, cell_c: f64) -> Diode {
    let kelvin = cell_c + ZERO_CELSIUS_K;
    let ratio = kelvin / REFERENCE_K;
    let warmer = kelvin - REFERENCE_K;
    let gap_ev = BAND_GAP_EV * (1.0 + BAND_GAP_PER_K * warmer);
    let growth = ratio.powi(3) * (BAND_GAP_EV / (BOLTZMANN_V_K * REFERENCE_K) - gap_ev / (BOLTZMANN_V_K * kelvin)).exp();
    Diode {
        light_a: reference.light_a + isc_a_per_k * warmer,
        saturation_a: reference.saturation_a * growth,
        ideality_v: reference.ideality_v * ratio,
        ..*reference
    }
}
