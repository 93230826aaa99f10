//! What may really be of a set: everything that was not told, or is known only roughly, drawn from its range.

use super::dice::Dice;
use crate::sizing::SizingError;
use crate::sizing::light::sky::MonthSky;
use crate::sizing::operating::flow_table::{Dusty, FlowTable};
use crate::sizing::operating::year::month_water;
use crate::sizing::parts::circuit::{Circuit, SOILING_DERATE};
use crate::sizing::parts::panel::Panel;
use crate::sizing::parts::pipe::{BORES_MM, Pipe};
use crate::sizing::parts::pump::Pump;
use crate::sizing::set::guess;
use crate::sizing::set::site::{Site, Solved};
use crate::sizing::weather::place::Weather;
use crate::terms::PipeKind;

/// Standard deviations in the half-width that nine cases in ten keep to (normal distribution).
const NINE_IN_TEN: f64 = 1.645;

/// The area, m², that the design month's water of a set may really serve; without limit where nothing is needed.
pub fn true_area_m2(site: &Site<'_>, solved: &Solved, dice: &mut Dice) -> Result<f64, SizingError> {
    let month = solved.design_month;
    let need_l_m2_day = solved.month().need_l_m2_day;
    if need_l_m2_day <= 0.0 {
        return Ok(f64::INFINITY);
    }
    let circuit = drawn(site, solved, dice)?;
    let weather = &site.climate.weather[usize::from(month) - 1];
    let radiation = 1.0 + dice.normal() * site.climate.radiation_spread / NINE_IN_TEN;
    let brighter = Weather { h_kwh_m2_day: weather.h_kwh_m2_day * radiation, ..*weather };
    let sky = MonthSky::new(site.climate.place.lat_deg, &brighter, site.filled.stance)?;
    let (coldest_c, hottest_c) = sky.cell_range_c();
    let table = FlowTable::new(&circuit, coldest_c, hottest_c)?;
    let light = dice.between(guess::PANEL_SHARE) * dice.between(guess::SOILING) / SOILING_DERATE;
    let dusty = Dusty { table: &table, light };
    let water = month_water(&sky, &dusty, f64::from(site.filled.pump_count), site.cap_m3_s(month))?;
    Ok(water.water_m3_day * dice.between(guess::MIXED_DAYS) * 1000.0 / need_l_m2_day)
}

/// The circuit as it may really be; its wiring is as it was told.
fn drawn(site: &Site<'_>, solved: &Solved, dice: &mut Dice) -> Result<Circuit, SizingError> {
    let filled = &site.filled;
    let circuit = solved.design.circuit_of(solved.design_month, &site.demand);
    let amps = dice.between(guess::amps_range(&solved.design.pump_label));
    let current_speed = dice.between(guess::CURRENT_SPEED);
    let head_linear = dice.between(guess::HEAD_LINEAR);
    let pump = circuit.pump.with_rated_a(circuit.pump.rated_a * amps);
    let pump = if pump.displacement { pump } else { Pump { current_speed, head_linear, ..pump } };
    let here = BORES_MM.iter().position(|bore_mm| *bore_mm == solved.design.bore_mm).unwrap_or(0);
    let beside = if filled.bore_mm.is_none() { dice.weighed(&guess::BORES_BESIDE) } else { 0 };
    let bore_mm = match filled.bore_mm {
        Some(bore_mm) => bore_mm,
        None => BORES_MM[here.saturating_add_signed(isize::from(beside)).min(BORES_MM.len() - 1)],
    };
    let lay_flat = dice.uniform() < guess::LAY_FLAT;
    let kind = filled.pipe_kind.unwrap_or(if lay_flat { PipeKind::LayFlat } else { PipeKind::default() });
    let pipe = Pipe { minor_loss: dice.between(guess::MINOR_LOSS), ..Pipe::new(filled.pipe_m, bore_mm, kind)? };
    let cells = if filled.cells_are_guessed { dice.weighed(&guess::CELLS) } else { filled.cells };
    let static_head_m = (circuit.static_head_m + dice.between(guess::LIFT_M)).max(0.0);
    Ok(Circuit { panel: Panel::new(filled.panel_w, cells)?, pump, pipe, static_head_m, ..*circuit })
}
