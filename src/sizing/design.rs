//! From a filled sheet and a pump to a set: the split of the array, the bore, the cable.

use super::array::series_count;
use super::circuit::Circuit;
use super::crop::need_l_m2_day;
use super::daytypes::BRIGHT_DAY;
use super::error::SizingError;
use super::holding::{meet, meet_near};
use super::panel::Panel;
use super::pipe::{BORES_MM, Pipe, PipeKind};
use super::place::{MonthClimate, Place, PlaceError, Weather, last_of};
use super::pump::{Pump, PumpLabel};
use super::sheet::Filled;
use super::sky::{Light, MonthSky};
use super::stance::Stance;
use super::wire::{Conductor, cable_ohm, choose_conductor, conductor};

/// Solar noon, hours.
const NOON_H: f64 = 12.0;

/// Largest pipe loss of a bore chosen for the grower: this many metres or this share of the lift (practice).
const LOSS_ALLOWED_M: f64 = 0.5;
const LOSS_ALLOWED_SHARE: f64 = 0.10;

/// A month belongs to a season that the place does not state when the crop wants more than this, mm/day.
const SEASON_NEED_MM_DAY: f64 = 1.0;

/// Relative half-width of monthly radiation, nine cases in ten, by where it comes from: measured or from satellites, from
/// sunshine hours, from temperatures or from a station some way off (practice).
const RADIATION_SPREAD_GIVEN: f64 = 0.05;
const RADIATION_SPREAD_SUNSHINE: f64 = 0.07;
pub const RADIATION_SPREAD_TEMPERATURES: f64 = 0.10;

/// A place with its weather worked out: done once, used by every sheet.
#[derive(Debug, Clone)]
pub struct Climate {
    pub place: Place,
    pub weather: Vec<Weather>,
    /// Relative half-width that the true radiation keeps to in nine cases of ten.
    pub radiation_spread: f64,
}

impl Climate {
    /// Checks the place and fills its months.
    pub fn new(place: Place) -> Result<Self, PlaceError> {
        let weather = place.weather()?;
        let spread = |month: &MonthClimate| match (month.h_kwh_m2_day, month.sunshine_h) {
            (Some(_), _) => RADIATION_SPREAD_GIVEN,
            (None, Some(_)) => RADIATION_SPREAD_SUNSHINE,
            (None, None) => RADIATION_SPREAD_TEMPERATURES,
        };
        let radiation_spread = place.months.iter().map(spread).fold(0.0, f64::max);
        Ok(Climate { place, weather, radiation_spread })
    }

    /// The light of the twelve months on panels that stand so.
    pub fn skies(&self, stance: Stance) -> Result<Vec<MonthSky>, SizingError> {
        self.weather.iter().map(|month| MonthSky::new(self.place.lat_deg, month, stance)).collect()
    }
}

/// What the crop wants month by month, and which months are watered.
#[derive(Debug, Clone)]
pub struct Demand {
    /// Litres per square metre and day, January first.
    pub need_l_m2_day: Vec<f64>,
    /// Months watered, 1..12.
    pub season: Vec<u8>,
    /// Month in which the water stands lowest, 1..12.
    pub low_water_month: u8,
}

impl Demand {
    /// From the place's season, or where it states none the months in which the crop wants more than 1 mm a day.
    pub fn new(filled: &Filled, climate: &Climate) -> Result<Self, SizingError> {
        let need_l_m2_day = climate
            .weather
            .iter()
            .map(|w| need_l_m2_day(filled.crop, filled.stage, filled.watering, w.eto_mm_day, w.rain_mm, w.month))
            .collect::<Result<Vec<_>, _>>()?;
        let mut season = climate.place.season_months.clone();
        if season.is_empty() {
            let threshold = SEASON_NEED_MM_DAY / filled.watering.efficiency();
            season = (1u8..).zip(&need_l_m2_day).filter(|(_, need)| **need > threshold).map(|(m, _)| m).collect();
        }
        if season.is_empty() {
            season = (1..=12).collect();
        }
        let low_water_month = climate.place.low_water_month.unwrap_or_else(|| last_of(&season));
        Ok(Demand { need_l_m2_day, season, low_water_month })
    }

    /// Need of a month (1..12), litres per square metre and day.
    pub fn of(&self, month: u8) -> f64 {
        self.need_l_m2_day[usize::from(month.clamp(1, 12)) - 1]
    }

    /// The season's month with the greatest need; the first of equals.
    pub fn thirstiest(&self) -> u8 {
        let mut best = self.season[0];
        for &month in &self.season {
            if self.of(month) > self.of(best) {
                best = month;
            }
        }
        best
    }
}

/// A set worked out: its circuit at the lift of the season and at the lift of the other months.
#[derive(Debug, Clone)]
pub struct Design {
    pub pump_label: PumpLabel,
    pub series: u32,
    /// Strings of the whole array.
    pub strings: u32,
    pub bore_mm: f64,
    pub conductor: Conductor,
    /// Every month of the season, at low water where that was told.
    pub season_circuit: Circuit,
    /// Every other month.
    pub other_circuit: Circuit,
}

/// The light at solar noon of the bright day type.
pub fn bright_noon(sky: &MonthSky) -> Light {
    sky.at(BRIGHT_DAY, NOON_H)
}

impl Design {
    /// Joins the panels, chooses the bore and the cable where they are not stated.
    ///
    /// Bright noon is found without the cable first. `design_months` are the months among which the design month
    /// will be: the cable must serve the bright noon of that one, which `design_month` names from a set without cable.
    pub fn new(
        filled: &Filled,
        pump_label: &PumpLabel,
        skies: &[MonthSky],
        demand: &Demand,
        design_month: impl FnOnce(&Design) -> Result<u8, SizingError>,
    ) -> Result<Self, SizingError> {
        let panel = Panel::new(filled.panel_w, filled.cells())?;
        let series = series_count(filled.panel_count, filled.cells(), pump_label);
        let strings = filled.panel_count / series;
        let outlet_m = filled.watering.outlet_head_m();
        let circuit = |lift_m: f64, bore_mm: f64| -> Result<Circuit, SizingError> {
            Ok(Circuit {
                panel,
                series: f64::from(series),
                parallel: f64::from(strings) / f64::from(filled.pump_count),
                pump: Pump::from_label(pump_label, filled.label_share)?,
                pipe: Pipe::new(filled.pipe_m, bore_mm, PipeKind::default())?,
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
            series,
            strings,
            bore_mm,
            conductor: super::wire::CONDUCTORS[0],
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
        filled: &Filled,
        skies: &[MonthSky],
        demand: &Demand,
        design_month: impl FnOnce(&Design) -> Result<u8, SizingError>,
    ) -> Result<Conductor, SizingError> {
        // One noon is much like the next, so each is looked for near the last.
        let mut near_m3_s = 0.0;
        let mut cable_for = |month: u8| -> Result<Conductor, SizingError> {
            let circuit = self.circuit_of(month, demand);
            let light = bright_noon(sky_of(skies, month));
            let noon = meet_near(circuit, light, near_m3_s)?;
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
    let flow_m3_s = meet(&steady, light)?.flow_m3_s;
    for bore_mm in BORES_MM {
        if circuit(bore_mm)?.pipe.loss_m(flow_m3_s) <= allowed_m {
            return Ok(bore_mm);
        }
    }
    Ok(BORES_MM[BORES_MM.len() - 1])
}

/// The sky of a month, 1..12.
pub fn sky_of(skies: &[MonthSky], month: u8) -> &MonthSky {
    &skies[usize::from(month.clamp(1, 12)) - 1]
}
