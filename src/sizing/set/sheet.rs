//! What is known of a site and its set, and what is taken for granted where nothing was said.

use serde::{Deserialize, Serialize};

use crate::sizing::error::{SizingError, within};
use crate::sizing::light::stance::{Stance, TURNED_TILT_CAP_DEG};
use crate::sizing::need::crop::{CROP_WHEN_NOT_STATED, Crop, Stage, crop_named};
use crate::sizing::need::soil::{SOIL_WHEN_NOT_STATED, Soil, soil_named};
use crate::sizing::parts::panel::{
    SURELY_36_CELLS_UP_TO_W, cells_of_open_circuit_volts, cells_of_volts, cells_when_not_stated,
};
use crate::sizing::parts::pump::{LabelShare, PumpLabel};
use crate::sizing::parts::wire::{LENGTH_WHEN_NOT_STATED_M, conductor};
use crate::sizing::sun::position::GREATEST_LATITUDE_DEG;
use crate::terms::{PipeKind, StanceKind, Watering};

/// Watts of each panel where only the sum is known (practice: the commonest small panel).
const PANEL_W_WHEN_NOT_STATED: f64 = 100.0;

/// Least tilt of panels fixed for good where none is stated, so that rain washes them (practice).
const LEAST_FIXED_TILT_DEG: f64 = 10.0;

/// What a grower has told, in SI or the units of the names; nothing is filled in yet.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Sheet {
    pub lift_m: Option<f64>,
    pub low_m: Option<f64>,
    pub pipe_m: Option<f64>,
    pub bore_mm: Option<f64>,
    pub pipe_kind: Option<PipeKind>,
    pub panel_count: Option<u32>,
    pub panel_w: Option<f64>,
    /// Volts of one panel: a nominal 12, 24 or 48, or the working voltage at full power.
    pub panel_v: Option<f64>,
    /// Open-circuit volts of one panel.
    pub panel_voc_v: Option<f64>,
    /// Watts of all panels together, where they were not told apart.
    pub panel_total_w: Option<f64>,
    pub stance: Option<StanceKind>,
    pub tilt_deg: Option<f64>,
    pub pump: Option<PumpLabel>,
    pub pump_count: Option<u32>,
    /// Height of the pump above the water; under water where not told.
    pub suction_m: Option<f64>,
    pub well_l_h: Option<f64>,
    pub garden_m2: Option<f64>,
    pub crop: Option<String>,
    pub soil: Option<String>,
    pub month: Option<u8>,
    pub watering: Option<Watering>,
    pub wire_m: Option<f64>,
    pub wire_mm2: Option<f64>,
}

/// A sheet with every gap filled but the three that are designed (pump class, bore, cable).
#[derive(Debug, Clone, PartialEq)]
pub struct CompleteSheet {
    pub lift_m: f64,
    pub low_m: f64,
    pub pipe_m: f64,
    pub bore_mm: Option<f64>,
    pub panel_count: u32,
    pub panel_w: f64,
    /// Cells in series in one panel.
    pub cells: u32,
    /// Whether the cells are a guess that might as well be another.
    pub cells_are_guessed: bool,
    pub pipe_kind: Option<PipeKind>,
    pub stance: Stance,
    pub pump: Option<PumpLabel>,
    pub pump_count: u32,
    pub label_share: LabelShare,
    /// Whether that share comes of bucket tests.
    pub is_tested: bool,
    pub suction_m: Option<f64>,
    pub well_l_h: Option<f64>,
    pub garden_m2: Option<f64>,
    pub crop: &'static Crop,
    pub soil: &'static Soil,
    pub stage: Stage,
    pub month: Option<u8>,
    pub watering: Watering,
    pub wire_m: f64,
    pub wire_mm2: Option<f64>,
    /// Names of what was not stated, in the order of the sheet.
    pub assumed: Vec<&'static str>,
}

impl Sheet {
    /// Checks what is there and fills the gaps; lift, pipe and panels must be known.
    ///
    /// Ranges: latitude -60..60, lift 0..150 m, pipe 0.5..5000 m, bore 5..500 mm, 1..500 panels of 5..1000 W, tilt 0..90 degrees, 1..20
    /// pumps, suction 0..20 m, well 1..1e6 l/h, garden 0.1..1e7 m², cable 0.5..500 m.
    pub fn fill(&self, lat_deg: f64) -> Result<CompleteSheet, SizingError> {
        within("lat_deg", lat_deg, -GREATEST_LATITUDE_DEG, GREATEST_LATITUDE_DEG)?;
        let mut assumed = Vec::new();
        let lift_m = required("lift_m", self.lift_m, 0.0, 150.0)?;
        let low_m = or_assume(self.low_m, "low_m", lift_m, &mut assumed);
        within("low_m", low_m, 0.0, 150.0)?;
        let pipe_m = required("pipe_m", self.pipe_m, 0.5, 5000.0)?;
        let bore_mm = optional("bore_mm", self.bore_mm, 5.0, 500.0)?;
        if bore_mm.is_none() {
            assumed.push("bore_mm");
        }
        let (panel_count, panel_w) = self.panels(&mut assumed)?;
        let cells_are_guessed = self.panel_v.is_none() && self.panel_voc_v.is_none() && panel_w > SURELY_36_CELLS_UP_TO_W;
        if cells_are_guessed {
            assumed.push("panel_v");
        }
        let stance = self.stance(lat_deg, &mut assumed)?;
        if self.pump.is_none() {
            assumed.push("pump");
        }
        let pump_count = self.pump_count.unwrap_or(1);
        within("pump_count", f64::from(pump_count), 1.0, 20.0)?;
        within("panel_count", f64::from(panel_count), f64::from(pump_count), 500.0)?;
        let crop = crop_named(self.crop.as_deref().unwrap_or_else(|| {
            assumed.push("crop");
            CROP_WHEN_NOT_STATED
        }))?;
        let soil = soil_named(self.soil.as_deref().unwrap_or_else(|| {
            assumed.push("soil");
            SOIL_WHEN_NOT_STATED
        }))?;
        if let Some(month) = self.month {
            within("month", f64::from(month), 1.0, 12.0)?;
        } else {
            assumed.push("month");
        }
        let watering = or_assume(self.watering, "watering", Watering::Furrow, &mut assumed);
        let wire_m = or_assume(self.wire_m, "wire_m", LENGTH_WHEN_NOT_STATED_M, &mut assumed);
        within("wire_m", wire_m, 0.5, 500.0)?;
        match self.wire_mm2 {
            Some(size) => conductor(size).map(|_| ())?,
            None => assumed.push("wire_mm2"),
        }
        Ok(CompleteSheet {
            lift_m,
            low_m,
            pipe_m,
            bore_mm,
            panel_count,
            panel_w,
            cells: self.cells(panel_w)?,
            cells_are_guessed,
            pipe_kind: self.pipe_kind,
            stance,
            pump: self.pump,
            pump_count,
            label_share: LabelShare::default(),
            is_tested: false,
            suction_m: optional("suction_m", self.suction_m, 0.0, 20.0)?,
            well_l_h: optional("well_l_h", self.well_l_h, 1.0, 1e6)?,
            garden_m2: optional("garden_m2", self.garden_m2, 0.1, 1e7)?,
            crop,
            soil,
            stage: Stage::Mid,
            month: self.month,
            watering,
            wire_m,
            wire_mm2: self.wire_mm2,
            assumed,
        })
    }

    /// Whether nothing was told of the panels.
    pub fn lacks_panels(&self) -> bool {
        self.panel_count.is_none() && self.panel_w.is_none() && self.panel_total_w.is_none()
    }

    /// [`Self::fill`] for a sheet whose panels are still to be proposed: they stand as one, and as assumed.
    pub fn fill_for_proposal(&self, lat_deg: f64) -> Result<CompleteSheet, SizingError> {
        let with_panels = Sheet { panel_total_w: Some(PANEL_W_WHEN_NOT_STATED), ..self.clone() };
        with_panels.fill(lat_deg)
    }

    /// Panels as a count and the watts of each: only a sum is as many of 100 W as it takes, only watts is one panel.
    fn panels(&self, assumed: &mut Vec<&'static str>) -> Result<(u32, f64), SizingError> {
        let (count, watts) = match (self.panel_count, self.panel_w, self.panel_total_w) {
            (Some(count), Some(watts), _) => (count, watts),
            (Some(count), None, Some(total)) => (count, total / f64::from(count.max(1))),
            (None, Some(watts), _) => {
                assumed.push("panel_count");
                (1, watts)
            }
            (None, None, Some(total)) => {
                within("panel_total_w", total, 5.0, 50_000.0)?;
                assumed.push("panel_count");
                assumed.push("panel_w");
                ((total / PANEL_W_WHEN_NOT_STATED).ceil() as u32, PANEL_W_WHEN_NOT_STATED)
            }
            (Some(count), None, None) => {
                assumed.push("panel_w");
                (count, PANEL_W_WHEN_NOT_STATED)
            }
            (None, None, None) => return Err(SizingError::Missing { name: "panel_w" }),
        };
        within("panel_count", f64::from(count), 1.0, 500.0)?;
        within("panel_w", watts, 5.0, 1000.0)?;
        Ok((count, watts))
    }

    fn cells(&self, panel_w: f64) -> Result<u32, SizingError> {
        match (self.panel_voc_v, self.panel_v) {
            (Some(volts), _) => cells_of_open_circuit_volts(volts),
            (None, Some(volts)) => cells_of_volts(volts),
            (None, None) => Ok(cells_when_not_stated(panel_w)),
        }
    }

    fn stance(&self, lat_deg: f64, assumed: &mut Vec<&'static str>) -> Result<Stance, SizingError> {
        let stance = match (self.stance, self.tilt_deg) {
            (None, None) => {
                assumed.push("stance");
                Stance::FLAT
            }
            (Some(StanceKind::Flat), _) => Stance::FLAT,
            (Some(StanceKind::Turned), cap) => Stance::turned(or_assume(cap, "tilt_deg", TURNED_TILT_CAP_DEG, assumed))?,
            (Some(StanceKind::Fixed) | None, tilt) => {
                let usual = lat_deg.abs().max(LEAST_FIXED_TILT_DEG);
                Stance::fixed(or_assume(tilt, "tilt_deg", usual, assumed))?
            }
        };
        Ok(stance)
    }
}

impl CompleteSheet {
    /// Height of a pump above the water when that stands lowest, m.
    pub fn suction_low_m(&self) -> Option<f64> {
        self.suction_m.map(|suction_m| suction_m + (self.low_m - self.lift_m).max(0.0))
    }

    /// Panels of each pump.
    pub fn panels_each(&self) -> u32 {
        self.panel_count / self.pump_count
    }
}

fn required(name: &'static str, value: Option<f64>, low: f64, high: f64) -> Result<f64, SizingError> {
    within(name, value.ok_or(SizingError::Missing { name })?, low, high)
}

fn optional(name: &'static str, value: Option<f64>, low: f64, high: f64) -> Result<Option<f64>, SizingError> {
    value.map(|v| within(name, v, low, high)).transpose()
}

fn or_assume<T>(value: Option<T>, name: &'static str, otherwise: T, assumed: &mut Vec<&'static str>) -> T {
    value.unwrap_or_else(|| {
        assumed.push(name);
        otherwise
    })
}
