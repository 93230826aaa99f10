//! What to buy: from a lift, a pipe and a garden to the whole set.

use crate::sizing::light::sky::skies_of;
use crate::sizing::set::spread::verdict_of;
use crate::sizing::weather::climate::Climate;
use std::rc::Rc;

use rust_decimal::Decimal;

use super::advise::{Advice, advice_of};
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::MonthSky;
use crate::sizing::money::costs::three_year_cost;
use crate::sizing::money::market::Market;
use crate::sizing::parts::panel::cells_when_not_stated;
use crate::sizing::parts::pump_class::PumpClass;
use crate::sizing::parts::wire::is_too_thin;
use crate::sizing::set::over_drive::Drive;
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::set::site::{Site, Solved};
use crate::sizing::set::verdict::Verdict;

/// Panels of each pump of a proposed set, at most.
const MOST_PANELS: u32 = 12;

/// Pumps of a proposed set, at most: whoever wants more of them wants another kind of pump.
const MOST_PUMPS: u32 = 4;

/// How a set is ranked: a price it has before one it lacks, then what it costs over three years, then its watts and its
/// class's place in the list.
type Rank = (bool, Option<Decimal>, u32, usize);

/// The cheapest set of the market over three years (purchase, and pumps replaced by running hours) that is enough for the
/// garden of a sheet without panels: of one pump, and only where no such set is, of more, each with its pipe and its share
/// of the panels; none where four are not enough either. The sheet's own panels are not looked at.
pub fn propose(filled: &CompleteSheet, climate: &Climate, market: &Market) -> Result<Option<Advice>, SizingError> {
    let skies = Rc::new(skies_of(climate, filled.stance)?);
    for pump_count in filled.pump_count..=MOST_PUMPS.max(filled.pump_count) {
        let filled = CompleteSheet { pump_count, ..filled.clone() };
        if let Some(advice) = propose_of(&filled, climate, market, &skies)? {
            return Ok(Some(advice));
        }
    }
    Ok(None)
}

/// The same for so many pumps as the sheet has.
///
/// Of each class and each size of panel the fewest panels a pump that are enough are taken, found from one upward since
/// more panels never give less below over-drive, and over-driven sets are passed over.
fn propose_of(
    filled: &CompleteSheet,
    climate: &Climate,
    market: &Market,
    skies: &Rc<Vec<MonthSky>>,
) -> Result<Option<Advice>, SizingError> {
    let Some(garden_m2) = filled.garden_m2 else { return Ok(None) };
    let mut best: Option<(Rank, Site<'_>, Solved, &PumpClass)> = None;
    let classes = market.classes.iter().enumerate().filter(|(_, class)| can_stand_in(filled, class));
    for (place, class) in classes {
        for panel_w in market.panel_sizes_w() {
            for panels_each in 1..=MOST_PANELS {
                let panel_count = panels_each * filled.pump_count;
                let cells = cells_when_not_stated(panel_w);
                // The label of what is bought tells its volts.
                let with_panels = CompleteSheet { panel_count, panel_w, cells, cells_are_guessed: false, ..filled.clone() };
                let site = Site::under(with_panels, climate, Rc::clone(skies))?;
                let is_enough = |area_m2: f64| Verdict::of(area_m2, garden_m2) == Verdict::Enough;
                let Some(solved) = site.solve_if(&class.label, is_enough)? else { continue };
                let site = as_bought(site, &solved, class);
                if verdict_of(&site, &solved)? != Some(Verdict::Enough) {
                    continue;
                }
                let isc_a = solved.design.season_circuit.isc_a();
                if solved.drive == Drive::Fit && !is_too_thin(&solved.design.conductor, isc_a) {
                    let cost =
                        three_year_cost(&market.prices, &market.parts(&site, &solved), &market.usage(&site, &solved));
                    let watts = (panel_w * f64::from(panel_count)) as u32;
                    let rank = (cost.is_none(), cost, watts, place);
                    if best.as_ref().is_none_or(|(so_far, ..)| rank < *so_far) {
                        best = Some((rank, site, solved, class));
                    }
                }
                break;
            }
        }
    }
    best.map(|(_, site, solved, class)| advice_of(&site, &solved, Some(class), market)).transpose()
}

/// The sheet of a set that is bought as it was proposed: nothing of it is guessed any more.
fn as_bought<'a>(site: Site<'a>, solved: &Solved, class: &PumpClass) -> Site<'a> {
    let design = &solved.design;
    let filled = CompleteSheet {
        pump: Some(class.label),
        bore_mm: Some(design.bore_mm),
        wire_mm2: Some(design.conductor.size_mm2),
        ..site.filled.clone()
    };
    Site { filled, ..site }
}

/// A pump that was told is kept; otherwise every class that lifts so high at all.
fn can_stand_in(filled: &CompleteSheet, class: &PumpClass) -> bool {
    let static_m = filled.low_m + filled.watering.outlet_head_m();
    match &filled.pump {
        Some(label) => *label == class.label,
        // Half again its speed is more than any set here drives a pump to.
        None => class.label.head_m * filled.label_share.head * 2.25 > static_m,
    }
}
