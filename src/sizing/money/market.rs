//! What the nearest town sells and for how much: the deployment's pump classes, its panels, its prices.

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use super::costs::{Money, Parts, PriceList, Use, first_cost, money};
use crate::sizing::parts::pump_class::{PumpClass, starting_classes};
use crate::sizing::parts::wire::{breaker_a, string_fuse_a};
use crate::sizing::set::site::{MonthAdvice, Site, Solved};
use crate::sizing::set::verdict::Verdict;
use crate::sizing::weather::place::DAYS_IN_MONTH;

/// Watts of the panels that are proposed where the price list names none (practice: the common sizes).
const PANELS_WHEN_NOT_LISTED_W: [f64; 4] = [50.0, 80.0, 100.0, 150.0];

/// Ropes of a pump, one to hang by and one to a stake, each this much longer than the lift at low water (practice).
const ROPES: f64 = 2.0;
const ROPE_TO_TIE_M: f64 = 5.0;

/// Pump classes and prices of a deployment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Market {
    /// Cheapest first where they have no price.
    pub classes: Vec<PumpClass>,
    pub prices: PriceList,
}

/// Share of a mean day's hours, and so of its water, that a garden needs in a month, at the month's own flow; all of it where no
/// garden is told or the set is too small.
pub fn needed_share(month: &MonthAdvice, garden_m2: Option<f64>) -> f64 {
    let lifted_m3 = month.water.water_m3_day;
    let Some(garden_m2) = garden_m2.filter(|_| lifted_m3 > 0.0) else { return 1.0 };
    (garden_m2 * month.need_l_m2_day / 1000.0 / lifted_m3).min(1.0)
}

impl Default for Market {
    fn default() -> Self {
        Market { classes: starting_classes(), prices: PriceList::default() }
    }
}

impl From<PriceList> for Market {
    /// Prices with the classes that a deployment starts with.
    fn from(prices: PriceList) -> Self {
        Market { prices, ..Market::default() }
    }
}

impl Market {
    /// The class whose label this is.
    pub fn class_of(&self, label: &crate::sizing::parts::pump::PumpLabel) -> Option<&PumpClass> {
        self.classes.iter().find(|class| class.has_label(label))
    }

    /// Watts of the panels on sale.
    pub fn panel_sizes_w(&self) -> Vec<f64> {
        let mut listed: Vec<f64> = self.prices.panel.keys().filter_map(|watts| watts.parse().ok()).collect();
        if listed.is_empty() {
            listed = PANELS_WHEN_NOT_LISTED_W.to_vec();
        }
        listed.sort_by(f64::total_cmp);
        listed
    }

    /// What a set is made of.
    pub fn parts(&self, site: &Site<'_>, solved: &Solved) -> Parts {
        let filled = &site.filled;
        let design = &solved.design;
        let circuit = &design.season_circuit;
        let hangs = filled.suction_m.is_none();
        Parts {
            panel_count: filled.panel_count,
            panel_w: filled.panel_w,
            pump_class: self.class_of(&design.pump_label).map(|class| class.name.clone()),
            pump_count: filled.pump_count,
            pipe_m: filled.pipe_m,
            bore_mm: design.bore_mm,
            wire_m: filled.wire_m,
            wire_mm2: design.conductor.size_mm2,
            breaker_a: breaker_a(circuit.isc_a()),
            string_fuse_a: string_fuse_a(circuit.parallel, circuit.panel.isc_a()),
            strings: circuit.parallel as u32,
            rope_m: if hangs { ROPES * (filled.low_m.max(filled.lift_m) + ROPE_TO_TIE_M) } else { 0.0 },
            floats: hangs && filled.well_l_h.is_none(),
        }
    }

    /// How a set is used in a year: the season's days, and of each month the hours that the garden needs and their water, or all
    /// that it lifts where no garden is told.
    pub fn usage(&self, site: &Site<'_>, solved: &Solved) -> Use {
        let garden_m2 = site.filled.garden_m2;
        let (mut running_h, mut water_m3) = (0.0, 0.0);
        for month in solved.months.iter().filter(|month| site.in_season(month.month)) {
            let of_month = DAYS_IN_MONTH[usize::from(month.month) - 1];
            let share = needed_share(month, garden_m2);
            running_h += share * month.water.pumping_hours * of_month;
            water_m3 += share * month.water.water_m3_day * of_month;
        }
        let pump_life_h = self.class_of(&solved.design.pump_label).map(|class| class.life_h);
        Use { running_h, pump_life_h, water_m3 }
    }

    /// First cost of a set; none where a price is missing.
    pub fn first_cost(&self, site: &Site<'_>, solved: &Solved) -> Option<Decimal> {
        first_cost(&self.prices, &self.parts(site, solved)).0
    }

    /// The money of a set. One that waters too little for its garden is not held against a pump that does.
    pub fn money(&self, site: &Site<'_>, solved: &Solved) -> Money {
        let money = money(&self.prices, &self.parts(site, solved), &self.usage(site, solved));
        let is_short = |garden_m2: f64| Verdict::of(solved.area_m2(), garden_m2) == Verdict::Short;
        if site.filled.garden_m2.is_some_and(is_short) {
            return Money { payback_months: None, payback_days: None, ..money };
        }
        money
    }
}
