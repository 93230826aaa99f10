//! What to buy: from a lift, a pipe and a garden to the whole set.

use std::rc::Rc;

use rust_decimal::Decimal;

use super::advice::{Advice, advice_of, is_over_driven};
use super::catalog::PumpClass;
use super::design::Climate;
use super::error::SizingError;
use super::market::Market;
use super::money::three_year_cost;
use super::sheet::Filled;
use super::site::{Site, Solved};
use super::verdict::Verdict;

/// Panels of a proposed set, at most.
const MOST_PANELS: u32 = 12;

/// How a set is ranked: a price it has before one it lacks, then what it costs over three years, then its watts and its
/// class's place in the list.
type Rank = (bool, Option<Decimal>, u32, usize);

/// The cheapest set of the market over three years (purchase, and pumps replaced by running hours) that is enough for the
/// garden of a sheet without panels; none where no set of one pump is. The sheet's own panels are not looked at.
///
/// Of each class and each size of panel the fewest panels that are enough are taken, found from one upward since more
/// panels never give less below over-drive, and over-driven sets are passed over.
pub fn propose(filled: &Filled, climate: &Climate, market: &Market) -> Result<Option<Advice>, SizingError> {
    let Some(garden_m2) = filled.garden_m2 else { return Ok(None) };
    let skies = Rc::new(climate.skies(filled.stance)?);
    let mut best: Option<(Rank, Site<'_>, Solved, &PumpClass)> = None;
    let classes = market.classes.iter().enumerate().filter(|(_, class)| can_stand_in(filled, class));
    for (place, class) in classes {
        for panel_w in market.panel_sizes_w() {
            for panel_count in 1..=MOST_PANELS {
                let with_panels = Filled { panel_count, panel_w, ..filled.clone() };
                let site = Site::under(with_panels, climate, Rc::clone(&skies))?;
                let is_enough = |area_m2: f64| Verdict::of(area_m2, garden_m2) == Verdict::Enough;
                let Some(solved) = site.solve_if(&class.label, is_enough)? else { continue };
                if site.verdict(&solved)? != Some(Verdict::Enough) {
                    continue;
                }
                if !is_over_driven(&site, &solved.design, solved.design_month)? {
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

/// A pump that was told is kept; otherwise every class that lifts so high at all.
fn can_stand_in(filled: &Filled, class: &PumpClass) -> bool {
    let static_m = filled.low_m + filled.watering.outlet_head_m();
    match &filled.pump {
        Some(label) => *label == class.label,
        // Half again its speed is more than any set here drives a pump to.
        None => class.label.head_m * filled.label_share.head * 2.25 > static_m,
    }
}
