//! How sure a water figure is: what was guessed, and what is known only roughly, is carried through the engine.

use super::guess::{
    self, BORES_BESIDE, CELLS, CURRENT_SPEED, Guess, HEAD_LINEAR, LAY_FLAT, LIFT_M, MEASURED, MINOR_LOSS, MIXED_DAYS,
    PANEL_SHARE, SOILING, amps_range,
};
use super::over_drive::Drive;
use super::site::{Site, Solved};
use super::verdict::{ENOUGH_FROM, SURE_FROM, Verdict};
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::sky_of;
use crate::sizing::operating::outline::Outline;
use crate::sizing::parts::circuit::{Circuit, SOILING_DERATE};
use crate::sizing::parts::panel::Panel;
use crate::sizing::parts::pipe::{BORES_MM, Pipe};
use crate::sizing::parts::pump::Pump;
use crate::terms::PipeKind;

/// Standard deviations that leave one outcome in ten below, and one in twenty on either side.
const NINE_IN_TEN_ABOVE: f64 = 1.28;
const NINE_IN_TEN_WITHIN: f64 = 1.645;

/// Standard deviations of a range that nine outcomes in ten keep to.
const OF_NINE_IN_TEN: f64 = 1.0 / NINE_IN_TEN_WITHIN;

/// The lift at low water may be so much more than the lift now, m, where nobody told it (practice).
const LOW_WATER_MORE_M: f64 = 1.0;

/// Flows that the outline is laid out to, over the free flow at the label's speed.
const GREATEST_FLOW_SHARE: f64 = 1.7;

/// How the design month's water may turn out.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterRange {
    /// Nine outcomes in ten lie between the two, m³ a day.
    pub low_m3_day: f64,
    pub high_m3_day: f64,
    /// Standard deviation about the water that is told, as a share of it.
    pub deviation: f64,
    /// Of each thing that could still be told: least and most water that it leaves possible, m³ a day.
    pub guesses: Vec<(Guess, f64, f64)>,
}

impl WaterRange {
    /// The water that nine chances in ten reach, m³ a day.
    fn sure_m3_day(&self, believed_m3_day: f64) -> f64 {
        believed_m3_day * (1.0 - NINE_IN_TEN_ABOVE * self.deviation).max(0.0)
    }
}

/// What each uncertain thing does to the water by itself, added up as independent things are: their means and their variances.
struct Sum {
    believed: f64,
    shift: f64,
    variance: f64,
}

impl Sum {
    /// Something that lies evenly between two ends, of which the water there is known; believed at `at` of the way.
    fn even(&mut self, low: f64, high: f64, at: f64) {
        // The parabola through both ends and what is believed, over the range.
        let middle = if (0.05..=0.95).contains(&at) {
            let straight = low + (high - low) * at;
            0.5 * (low + high) + (self.believed - straight) * 0.25 / (at * (1.0 - at))
        } else {
            0.5 * (low + high)
        };
        let mean = (low + 4.0 * middle + high) / 6.0;
        let square = (low - mean).powi(2) + 4.0 * (middle - mean).powi(2) + (high - mean).powi(2);
        self.shift += mean - self.believed;
        // Simpson's rule: exact where the water goes straight.
        self.variance += square / 6.0;
    }

    /// Something that is one of a few, with how likely each is.
    fn one_of(&mut self, outcomes: &[(f64, f64)]) {
        let mean: f64 = outcomes.iter().map(|(water, share)| water * share).sum();
        self.shift += mean - self.believed;
        self.variance += outcomes.iter().map(|(water, share)| share * (water - mean).powi(2)).sum::<f64>();
    }
}

/// The range: each uncertain thing is moved over its own range with the others as believed.
pub fn water_range(site: &Site<'_>, solved: &Solved) -> Result<WaterRange, SizingError> {
    let filled = &site.filled;
    let month = solved.design_month;
    let circuit = solved.design.circuit_of(month, &site.demand);
    let believed = solved.month().water.water_m3_day;
    let outline = Outline::of(sky_of(&site.skies, month));
    let cap_m3_s = site.cap_m3_s(month);
    let water = |circuit: &Circuit, light: f64| {
        let greatest_m3_s = GREATEST_FLOW_SHARE * circuit.pump.free_flow_m3_s;
        outline.water_m3_day(circuit, light, cap_m3_s, greatest_m3_s)
    };
    let outlined = water(circuit, 1.0);
    if believed <= 0.0 || outlined <= 0.0 {
        return Ok(WaterRange { low_m3_day: 0.0, high_m3_day: believed, deviation: 0.0, guesses: Vec::new() });
    }
    // The outline's own error goes out in the ratio.
    let of_circuit = |circuit: &Circuit| water(circuit, 1.0) / outlined * believed;
    let of_light = |light: f64| water(circuit, light) / outlined * believed;
    let mut sum = Sum { believed, shift: 0.0, variance: 0.0 };
    let mut guesses = Vec::new();
    let radiation = OF_NINE_IN_TEN * site.climate.radiation_spread;
    let brighter = 1.0 + 1.5 * radiation;
    sum.variance += ((of_light(brighter) - of_light(2.0 - brighter)) / 3.0).powi(2);
    sum.even(MIXED_DAYS.0 * believed, MIXED_DAYS.1 * believed, share_of(1.0, MIXED_DAYS));
    let rated_a = circuit.pump.rated_a;
    let with_amps = |share: f64| of_circuit(&Circuit { pump: circuit.pump.with_rated_a(rated_a * share), ..*circuit });
    if filled.is_tested {
        sum.even(MEASURED.0 * believed, MEASURED.1 * believed, 0.5);
    } else {
        sum.even(of_light(PANEL_SHARE.0), of_light(PANEL_SHARE.1), 1.0);
        let (least, most) = (SOILING.0 / SOILING_DERATE, SOILING.1 / SOILING_DERATE);
        sum.even(of_light(least), of_light(most), 0.5);
        let range = amps_range(&solved.design.pump_label);
        let (few, many) = (with_amps(range.0), with_amps(range.1));
        sum.even(few, many, 0.5);
        if guess::amps_are_guessed(filled, &solved.design.pump_label) {
            guesses.push((Guess::Amps, few, many));
        }
        if !circuit.pump.displacement {
            let pump = |pump: Pump| of_circuit(&Circuit { pump, ..*circuit });
            let split = |current_speed: f64| pump(Pump { current_speed, ..circuit.pump });
            let curve = |head_linear: f64| pump(Pump { head_linear, ..circuit.pump });
            let at = |believed: f64, range: (f64, f64)| share_of(believed, range);
            sum.even(split(CURRENT_SPEED.0), split(CURRENT_SPEED.1), at(circuit.pump.current_speed, CURRENT_SPEED));
            sum.even(curve(HEAD_LINEAR.0), curve(HEAD_LINEAR.1), at(circuit.pump.head_linear, HEAD_LINEAR));
        }
        let fittings = |minor_loss: f64| of_circuit(&Circuit { pipe: Pipe { minor_loss, ..circuit.pipe }, ..*circuit });
        sum.even(fittings(MINOR_LOSS.0), fittings(MINOR_LOSS.1), share_of(circuit.pipe.minor_loss, MINOR_LOSS));
    }
    let lifted =
        |more_m: f64| of_circuit(&Circuit { static_head_m: (circuit.static_head_m + more_m).max(0.0), ..*circuit });
    sum.even(lifted(LIFT_M.0), lifted(LIFT_M.1), 0.5);
    if filled.assumed.contains(&"low_m") {
        guesses.push((Guess::LowM, lifted(LOW_WATER_MORE_M), believed));
    }
    if filled.cells_are_guessed && !filled.is_tested {
        let of_cells = |cells: u32| -> Result<f64, SizingError> {
            let panel = Panel::new(filled.panel_w, cells)?;
            Ok(of_circuit(&Circuit { panel, ..*circuit }))
        };
        let mut outcomes = [(0.0, 0.0); CELLS.len()];
        for (outcome, (cells, share)) in outcomes.iter_mut().zip(CELLS) {
            *outcome = (of_cells(cells)?, share);
        }
        sum.one_of(&outcomes);
        guesses.push(bounds(Guess::PanelV, &outcomes));
    }
    if filled.bore_mm.is_none() {
        let here = BORES_MM.iter().position(|bore_mm| *bore_mm == solved.design.bore_mm).unwrap_or(0);
        let of_bore = |beside: i8| -> Result<f64, SizingError> {
            let at = here.saturating_add_signed(isize::from(beside)).min(BORES_MM.len() - 1);
            let pipe = Pipe::new(filled.pipe_m, BORES_MM[at], filled.pipe_kind.unwrap_or_default())?;
            Ok(of_circuit(&Circuit { pipe, ..*circuit }))
        };
        let mut outcomes = [(0.0, 0.0); BORES_BESIDE.len()];
        for (outcome, (beside, share)) in outcomes.iter_mut().zip(BORES_BESIDE) {
            *outcome = (of_bore(beside)?, share);
        }
        sum.one_of(&outcomes);
        guesses.push(bounds(Guess::BoreMm, &outcomes));
    }
    if filled.pipe_kind.is_none() && !filled.is_tested {
        let pipe = Pipe::new(filled.pipe_m, solved.design.bore_mm, PipeKind::LayFlat)?;
        sum.one_of(&[(believed, 1.0 - LAY_FLAT), (of_circuit(&Circuit { pipe, ..*circuit }), LAY_FLAT)]);
    }
    let mean = believed + sum.shift;
    let deviation = sum.variance.sqrt();
    Ok(WaterRange {
        low_m3_day: (mean - NINE_IN_TEN_WITHIN * deviation).max(0.0),
        high_m3_day: mean + NINE_IN_TEN_WITHIN * deviation,
        deviation: (sum.shift * sum.shift + sum.variance).sqrt() / believed,
        guesses,
    })
}

/// How far along a range a value lies.
fn share_of(value: f64, (low, high): (f64, f64)) -> f64 {
    (value - low) / (high - low)
}

fn bounds(guess: Guess, outcomes: &[(f64, f64)]) -> (Guess, f64, f64) {
    let waters = outcomes.iter().map(|(water, _)| *water);
    (guess, waters.clone().fold(f64::INFINITY, f64::min), waters.fold(0.0, f64::max))
}

/// The verdict on a set; without a garden none, but that it is unfit. Besides the area on the mean day, `enough` asks for the
/// water that nine chances in ten reach to serve 0.9 of the garden.
pub fn verdict_of(site: &Site<'_>, solved: &Solved) -> Result<Option<Verdict>, SizingError> {
    let garden_m2 = site.filled.garden_m2;
    let is_enough = garden_m2.is_some_and(|garden_m2| Verdict::of(solved.area_m2(), garden_m2) == Verdict::Enough);
    if solved.drive == Drive::Unfit || !is_enough {
        return Ok(verdict_within(site, solved, None));
    }
    Ok(verdict_within(site, solved, Some(&water_range(site, solved)?)))
}

/// The same where the range is known already; without one the mean day alone is looked at.
pub fn verdict_within(site: &Site<'_>, solved: &Solved, range: Option<&WaterRange>) -> Option<Verdict> {
    if solved.drive == Drive::Unfit {
        return Some(Verdict::Unfit);
    }
    let garden_m2 = site.filled.garden_m2?;
    let verdict = Verdict::of(solved.area_m2(), garden_m2);
    let need_l_m2_day = solved.month().need_l_m2_day;
    let sure_m2 = |range: &WaterRange| range.sure_m3_day(solved.month().water.water_m3_day) * 1000.0 / need_l_m2_day;
    let is_unsure = need_l_m2_day > 0.0 && range.is_some_and(|range| sure_m2(range) < SURE_FROM * garden_m2);
    Some(if verdict == Verdict::Enough && is_unsure { Verdict::Tight } else { verdict })
}

/// The largest garden that a set is enough for, m²; without limit where nothing is needed.
pub fn garden_served_m2(solved: &Solved, range: &WaterRange) -> f64 {
    let month = solved.month();
    if month.need_l_m2_day <= 0.0 {
        return f64::INFINITY;
    }
    let sure_m2 = range.sure_m3_day(month.water.water_m3_day) * 1000.0 / month.need_l_m2_day;
    (solved.area_m2() / ENOUGH_FROM).min(sure_m2 / SURE_FROM)
}

/// The thing still to be told that could turn the verdict, and moves the water most; none where none could.
pub fn turning_guess(site: &Site<'_>, solved: &Solved, range: &WaterRange) -> Option<Guess> {
    let garden_m2 = site.filled.garden_m2?;
    let need_l_m2_day = solved.month().need_l_m2_day;
    if need_l_m2_day <= 0.0 || solved.drive == Drive::Unfit {
        return None;
    }
    let verdict = |water_m3_day: f64| Verdict::of(water_m3_day * 1000.0 / need_l_m2_day, garden_m2);
    let turning = range.guesses.iter().filter(|(_, least, most)| verdict(*least) != verdict(*most));
    turning.max_by(|a, b| (a.2 - a.1).abs().total_cmp(&(b.2 - b.1).abs())).map(|(guess, ..)| *guess)
}

/// What would make a set sure that is `tight` only for lack of certainty; none for any other.
pub fn would_make_sure(site: &Site<'_>, solved: &Solved, range: &WaterRange) -> Option<Guess> {
    let garden_m2 = site.filled.garden_m2?;
    let is_unsure_only = verdict_within(site, solved, Some(range)) == Some(Verdict::Tight)
        && Verdict::of(solved.area_m2(), garden_m2) == Verdict::Enough;
    let widest = range.guesses.iter().filter(|(guess, ..)| *guess != Guess::LowM);
    let widest = widest.max_by(|a, b| (a.2 - a.1).abs().total_cmp(&(b.2 - b.1).abs()));
    is_unsure_only.then(|| widest.map_or(Guess::BucketTest, |(guess, ..)| *guess))
}
