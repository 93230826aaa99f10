//! The pump of a set: the one that was told, or the class that stands in for it.

use rust_decimal::Decimal;

use crate::sizing::error::SizingError;
use crate::sizing::money::market::Market;
use crate::sizing::parts::pump_class::PumpClass;
use crate::sizing::set::over_drive::Drive;
use crate::sizing::set::site::{Site, Solved};

/// The pump that was told; else the class that serves the largest area, one that is not over-driven before one that is, and
/// of equals the cheaper. Classes without a price count as dearer than those with one, in the market's order.
pub fn choose_pump<'m>(site: &Site<'_>, market: &'m Market) -> Result<(Solved, Option<&'m PumpClass>), SizingError> {
    if let Some(label) = &site.filled.pump {
        return Ok((site.solve(label)?, None));
    }
    let price = |class: &PumpClass| -> (bool, Option<Decimal>) {
        let price = market.prices.pump.get(&class.name).copied();
        (price.is_none(), price)
    };
    let mut best: Option<(Drive, f64, &PumpClass)> = None;
    for class in &market.classes {
        let (area_m2, drive) = site.weigh(&class.label)?;
        let is_better = best.is_none_or(|(best_drive, best_m2, best_class)| {
            let by_drive = best_drive.cmp(&drive);
            let by_area = by_drive.then(area_m2.total_cmp(&best_m2));
            by_area.then_with(|| price(best_class).cmp(&price(class))).is_gt()
        });
        if is_better {
            best = Some((drive, area_m2, class));
        }
    }
    let (_, _, class) = best.ok_or(SizingError::Missing { name: "pump" })?;
    Ok((site.solve(&class.label)?, Some(class)))
}
