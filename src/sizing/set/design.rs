//! From a filled sheet and a pump to a set: the split of the array, the bore, the cable.

use super::demand::Demand;
use super::sheet::CompleteSheet;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::bright_noon;
use crate::sizing::light::sky::sky_of;
use crate::sizing::light::sky::{Light, MonthSky};
use crate::sizing::operating::point::{operating_point, operating_point_near};
use crate::sizing::parts::array::Array;
use crate::sizing::parts::circuit::Circuit;
use crate::sizing::parts::panel::Panel;
use crate::sizing::parts::pipe::{BORES_MM, Pipe};
use crate::sizing::parts::pump::{Pump, PumpLabel};
use crate::sizing::parts::wire::{Conductor, cable_ohm, choose_conductor, conductor};

/// Largest pipe loss of a bore chosen for the grower: this many metres or this share of the lift (practice).
const LOSS_ALLOWED_M: f64 = 0.5;
const LOSS_ALLOWED_SHARE: f64 = 0.10;

/// A set worked out: its circuit at the lift of the season and at the lift of the other months.
#[derive(Debug, Clone)]
pub struct Design {
    pub pump_label: PumpLabel,
    /// The panels of each pump.
    pub array: Array,
    pub bore_mm: f64,
    pub conductor: Conductor,
    /// Every month of the season, at low water where that was told.
    pub season_circuit: Circuit,
    /// Every other month.
    pub other_circuit: Circuit,
}

impl Design {
    /// Joins the panels, chooses the bore and the cable where they are not stated.
    ///
    /// Bright noon is found without the cable first. `design_months` are the months among which the design month
    /// will be: the cable must serve the bright noon of that one, which `design_month` names from a set without cable.
    pub fn new(
        filled: &CompleteSheet,
        pump_label: &PumpLabel,
        skies: &[MonthSky],
        demand: &Demand,
        design_month: impl FnOnce(&Design) -> Result<u8, SizingError>,
    ) -> Result<Self, SizingError> {
        let panel = Panel::new(filled.panel_w, filled.cells)?;
        let array = Array::of(filled.panels_each(), filled.cells, pump_label.label_v);
        let outlet_m = filled.watering.outlet_head_m();
        let circuit = |lift_m: f64, bore_mm: f64| -> Result<Circuit, SizingError> {
            Ok(Circuit {
                panel,
                series: f64::from(array.series),
                parallel: f64::from(array.parallel),
                pump: Pump::from_label(pump_label, filled.label_share)?,
                pipe: Pipe::new(filled.pipe_m, bore_mm, filled.pipe_kind.unwrap_or_default())?,
                static_head_m: lift_m + outlet_m,
                cable_ohm: 0.0,
            })
        };
        let bore_mm = match filled.bore_mm {
            Some(bore_mm) => bore_mm,
            None => {
                let light = bright_noon(sky_of(skies, demand.thirstiest()));
                choose_bore(filled.low_m, light, |bore_mm| circuit(filled.low_m, bore_mm))?
            }
        };
        let mut design = Design {
            pump_label: *pump_label,
            array,
            bore_mm,
            conductor: crate::sizing::parts::wire::CONDUCTORS[0],
            season_circuit: circuit(filled.low_m, bore_mm)?,
            other_circuit: circuit(filled.lift_m, bore_mm)?,
        };
        design.conductor = match filled.wire_mm2 {
            Some(size) => conductor(size)?,
            None => design.choose_cable(filled, skies, demand, design_month)?,
        };
        let ohm = cable_ohm(&design.conductor, filled.wire_m)?;
        design.season_circuit.cable_ohm = ohm;
        design.other_circuit.cable_ohm = ohm;
        Ok(design)
    }

    /// The circuit of a month: the lift at low water in the season, the lift now outside it.
    pub fn circuit_of(&self, month: u8, demand: &Demand) -> &Circuit {
        if demand.season.contains(&month) { &self.season_circuit } else { &self.other_circuit }
    }

    /// The cable for the bright noon of the design month. Noons differ little over a season, so mostly every candidate
    /// month asks for the same cable and the year need not be worked out to know which one it is.
    fn choose_cable(
        &self,
        filled: &CompleteSheet,
        skies: &[MonthSky],
        demand: &Demand,
        design_month: impl FnOnce(&Design) -> Result<u8, SizingError>,
    ) -> Result<Conductor, SizingError> {
        // One noon is much like the next, so each is looked for near the last.
        let mut near_m3_s = 0.0;
        let mut cable_for = |month: u8| -> Result<Conductor, SizingError> {
            let circuit = self.circuit_of(month, demand);
            let light = bright_noon(sky_of(skies, month));
            let noon = operating_point_near(circuit, light, near_m3_s)?;
            near_m3_s = noon.flow_m3_s;
            choose_conductor(filled.wire_m, noon.pump_a, noon.pump_v, self.pump_label.label_v, circuit.isc_a())
        };
        if let Some(month) = filled.month {
            return cable_for(month);
        }
        let first = cable_for(demand.season[0])?;
        for &month in &demand.season[1..] {
            if cable_for(month)? != first {
                return cable_for(design_month(self)?);
            }
        }
        Ok(first)
    }
}

/// The smallest bore whose loss at bright noon is small enough; the widest there is where none is.
///
/// A pipe's loss at the flow that it lets through passes what is allowed just when it does so at the flow that the pump would give
/// with exactly that loss, whatever the bore: with more loss there is less flow, and less flow loses less. So bright noon is
/// solved once, against a head that does not go with flow.
fn choose_bore(
    lift_m: f64,
    light: Light,
    circuit: impl Fn(f64) -> Result<Circuit, SizingError>,
) -> Result<f64, SizingError> {
    let allowed_m = LOSS_ALLOWED_M.max(LOSS_ALLOWED_SHARE * lift_m);
    let narrow = circuit(BORES_MM[0])?;
    let steady = Circuit { pipe: Pipe::WITHOUT_LOSS, static_head_m: narrow.static_head_m + allowed_m, ..narrow };
    let flow_m3_s = operating_point(&steady, light)?.flow_m3_s;
    for bore_mm in BORES_MM {
        if circuit(bore_mm)?.pipe.loss_m(flow_m3_s) <= allowed_m {
            return Ok(bore_mm);
        }
    }
    Ok(BORES_MM[BORES_MM.len() - 1])
}
