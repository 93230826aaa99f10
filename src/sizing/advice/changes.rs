//! What to change when a set falls short: the smallest changes that make it enough, by what they cost.

use std::rc::Rc;

use rust_decimal::Decimal;
use serde::Serialize;

use super::choice::choose_pump;
use super::cure::cure_of;
use crate::sizing::error::SizingError;
use crate::sizing::light::sky::{MonthSky, skies_of};
use crate::sizing::light::stance::{Stance, TURNED_TILT_CAP_DEG};
use crate::sizing::money::market::Market;
use crate::sizing::parts::pipe::BORES_MM;
use crate::sizing::parts::pump::PumpLabel;
use crate::sizing::parts::wire::{CONDUCTORS, is_too_thin, thick_enough};
use crate::sizing::set::over_drive::Drive;
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::set::site::{Site, Solved};
use crate::sizing::set::spread::{garden_served_m2, verdict_of, water_range};
use crate::sizing::set::verdict::Verdict;
use crate::terms::{StanceKind, Watering};

/// Bores and cables tried: so many sizes up.
const SIZES_UP: usize = 2;

/// Panels added, at most.
const PANELS_MORE: u32 = 4;

/// Fixes given.
const FIXES: usize = 3;

/// Pumps that a sheet may have.
const MOST_PUMPS: u32 = 20;

/// A garden that is cut is cut to a multiple of this, m².
const GARDEN_STEP_M2: f64 = 10.0;

/// One thing to do differently.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "what", content = "to", rename_all = "snake_case")]
pub enum Change {
    BoreMm(f64),
    PanelCount(u32),
    /// Turn the cart by hand.
    Turned,
    /// As many sets again: so many pumps, each with panels, pipe and cable of its own.
    #[serde(rename = "sets")]
    PumpCount(u32),
    WireMm2(f64),
    Watering(Watering),
    GardenM2(f64),
}

/// Changes that together make a set enough.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fix {
    pub changes: Vec<Change>,
    /// Area that the changed set serves.
    pub area_m2: f64,
    /// None where a price is missing.
    pub added_cost: Option<Decimal>,
}

impl Change {
    /// Writes the change into a sheet.
    pub fn apply(self, filled: &mut CompleteSheet) {
        match self {
            Change::BoreMm(bore_mm) => filled.bore_mm = Some(bore_mm),
            Change::PanelCount(count) => filled.panel_count = count,
            Change::Turned => filled.stance = Stance { kind: StanceKind::Turned, tilt_deg: TURNED_TILT_CAP_DEG },
            Change::PumpCount(count) => {
                filled.panel_count = filled.panel_count * count / filled.pump_count;
                filled.pump_count = count;
            }
            Change::WireMm2(size_mm2) => filled.wire_mm2 = Some(size_mm2),
            Change::Watering(watering) => filled.watering = watering,
            Change::GardenM2(garden_m2) => filled.garden_m2 = Some(garden_m2),
        }
    }

    /// The kind's name, as in JSON.
    pub fn code(self) -> &'static str {
        match self {
            Change::BoreMm(_) => "bore_mm",
            Change::PanelCount(_) => "panel_count",
            Change::Turned => "turned",
            Change::PumpCount(_) => "sets",
            Change::WireMm2(_) => "wire_mm2",
            Change::Watering(_) => "watering",
            Change::GardenM2(_) => "garden_m2",
        }
    }

    /// Two changes of one kind are no pair.
    fn kind(self) -> std::mem::Discriminant<Change> {
        std::mem::discriminant(&self)
    }
}

/// Up to three fixes, the least added cost first, then the fewest changes; a smaller garden last of all.
///
/// Single changes and pairs are tried: wider bores, one to four more panels of the same kind (never into over-drive), fewer
/// where the set is over-driven, turning by hand, a second set, thicker cable, hose or a drum kit of drip in place of furrow. A
/// cable that can burn is changed in every one of them. A fix is given only where the set is `enough` both with the pipe that
/// lies there and when the changed sheet is told anew. Nothing to fix, or no garden: none.
pub fn find_fixes(site: &Site<'_>, solved: &Solved, market: &Market) -> Result<Vec<Fix>, SizingError> {
    let Some(garden_m2) = site.filled.garden_m2 else { return Ok(Vec::new()) };
    let search = Search::new(site, solved, market, garden_m2)?;
    let is_driven_well = solved.drive == Drive::Fit;
    if is_driven_well && search.must.is_none() && verdict_of(site, solved)? == Some(Verdict::Enough) {
        return Ok(Vec::new());
    }
    let moves = search.moves(solved)?;
    let mut found = Vec::new();
    let mut not_alone = Vec::new();
    // The thicker cable that must be taken may be all that there is to do.
    if let Some(must) = search.must
        && let Some((fix, solved)) = search.try_changes(&[must])?
        && search.is_sure(&fix, &solved)?
    {
        found.push((fix, None));
    }
    for &change in &moves {
        match search.try_changes(&search.with_must(&[change]))? {
            Some((fix, solved)) if search.is_sure(&fix, &solved)? => found.push((fix, None)),
            _ => not_alone.push(change),
        }
    }
    // A change that is enough alone is not made better by another one beside it.
    for (at, &first) in not_alone.iter().enumerate() {
        for &second in not_alone[at + 1..].iter().filter(|second| second.kind() != first.kind()) {
            let changes = search.with_must(&[first, second]);
            found.extend(search.try_changes(&changes)?.map(|(fix, solved)| (fix, Some(solved))));
        }
    }
    found.sort_by_key(|(fix, _)| (fix.added_cost.is_none(), fix.added_cost, fix.changes.len()));
    // How sure a pair is takes a while to find out: only of those that come first is it asked.
    let mut fixes = Vec::new();
    for (fix, to_ask) in found {
        if to_ask.map_or(Ok(true), |solved| search.is_sure(&fix, &solved))? && search.holds_when_told(&fix.changes)? {
            fixes.push(fix);
        }
        if fixes.len() == FIXES {
            break;
        }
    }
    if fixes.len() < FIXES && is_driven_well && search.must.is_none() {
        fixes.extend(search.smaller_garden(solved)?);
    }
    Ok(fixes)
}

struct Search<'s> {
    site: &'s Site<'s>,
    market: &'s Market,
    label: PumpLabel,
    /// The sheet with pump and bore as they are now, so that a change is a change of this set and not of another.
    base: CompleteSheet,
    base_cost: Option<Decimal>,
    garden_m2: f64,
    turned: Rc<Vec<MonthSky>>,
    /// The cable that must be taken, where the one that is told can burn.
    must: Option<Change>,
}

impl<'s> Search<'s> {
    fn new(site: &'s Site<'s>, solved: &Solved, market: &'s Market, garden_m2: f64) -> Result<Self, SizingError> {
        let label = solved.design.pump_label;
        // A set that lifts nothing has no pipe yet that would have to stay.
        let laid_mm = (solved.month().water.water_m3_day > 0.0).then_some(solved.design.bore_mm);
        let bore_mm = site.filled.bore_mm.or(laid_mm);
        let base = CompleteSheet { pump: Some(label), bore_mm, ..site.filled.clone() };
        let circuit = solved.design.circuit_of(solved.design_month, &site.demand);
        let must = if is_too_thin(&solved.design.conductor, circuit.isc_a()) {
            thick_enough(circuit.isc_a()).map(|conductor| Change::WireMm2(conductor.size_mm2))
        } else {
            None
        };
        let base_cost = market.first_cost(site, solved);
        let turned = Rc::new(skies_of(site.climate, Stance::turned(TURNED_TILT_CAP_DEG)?)?);
        Ok(Search { site, market, label, base, base_cost, garden_m2, turned, must })
    }

    fn moves(&self, solved: &Solved) -> Result<Vec<Change>, SizingError> {
        let base = &self.base;
        let mut moves = Vec::new();
        if solved.drive == Drive::Fit {
            let more = (1..=PANELS_MORE).map(|more| base.panel_count + more * base.pump_count);
            moves.extend(more.map(Change::PanelCount));
        } else {
            moves.extend(cure_of(self.site, &self.label)?.map(|cure| Change::PanelCount(cure.panel_count)));
        }
        if base.stance.kind != StanceKind::Turned {
            moves.push(Change::Turned);
        }
        if base.watering == Watering::Furrow {
            moves.extend([Change::Watering(Watering::Hose), Change::Watering(Watering::Drip)]);
        }
        let wider = BORES_MM.into_iter().filter(|bore_mm| *bore_mm > solved.design.bore_mm);
        moves.extend(wider.take(SIZES_UP).map(Change::BoreMm));
        let thicker = CONDUCTORS.iter().filter(|c| c.size_mm2 > solved.design.conductor.size_mm2);
        moves.extend(thicker.take(SIZES_UP).map(|c| Change::WireMm2(c.size_mm2)));
        if base.pump_count * 2 <= MOST_PUMPS {
            moves.push(Change::PumpCount(base.pump_count * 2));
        }
        Ok(moves)
    }

    fn site_with(&self, changes: &[Change]) -> Result<Site<'s>, SizingError> {
        let mut filled = self.base.clone();
        changes.iter().for_each(|change| change.apply(&mut filled));
        let skies = if changes.contains(&Change::Turned) { &self.turned } else { &self.site.skies };
        Site::under(filled, self.site.climate, Rc::clone(skies))
    }

    /// Changes with the cable that must be taken, unless they choose one themselves.
    fn with_must(&self, changes: &[Change]) -> Vec<Change> {
        let must = self.must.filter(|must| changes.iter().all(|change| change.kind() != must.kind()));
        changes.iter().copied().chain(must).collect()
    }

    /// Whether the changed sheet, told anew with what is still left to be chosen, is enough.
    fn holds_when_told(&self, changes: &[Change]) -> Result<bool, SizingError> {
        let mut filled = self.site.filled.clone();
        changes.iter().for_each(|change| change.apply(&mut filled));
        let skies = if changes.contains(&Change::Turned) { &self.turned } else { &self.site.skies };
        let site = Site::under(filled, self.site.climate, Rc::clone(skies))?;
        let (solved, _) = choose_pump(&site, self.market)?;
        Ok(is_safe(&site, &solved) && verdict_of(&site, &solved)? == Some(Verdict::Enough))
    }

    /// The garden that the set as it is serves well.
    fn smaller_garden(&self, solved: &Solved) -> Result<Option<Fix>, SizingError> {
        let served_m2 = garden_served_m2(solved, &water_range(self.site, solved)?);
        let cut_m2 = (served_m2 / GARDEN_STEP_M2).floor() * GARDEN_STEP_M2;
        if !(GARDEN_STEP_M2..self.garden_m2).contains(&cut_m2) {
            return Ok(None);
        }
        let changes = vec![Change::GardenM2(cut_m2)];
        let fix = Fix { changes, area_m2: solved.area_m2(), added_cost: Some(Decimal::ZERO) };
        Ok(self.holds_when_told(&fix.changes)?.then_some(fix))
    }

    /// Whether the changed set is enough even at the low end of its water's range.
    fn is_sure(&self, fix: &Fix, solved: &Solved) -> Result<bool, SizingError> {
        Ok(verdict_of(&self.site_with(&fix.changes)?, solved)? == Some(Verdict::Enough))
    }

    /// The fix, with its year, where the changes make the set enough on the mean day without over-driving it.
    fn try_changes(&self, changes: &[Change]) -> Result<Option<(Fix, Solved)>, SizingError> {
        let site = self.site_with(changes)?;
        let is_enough = |area_m2: f64| Verdict::of(area_m2, self.garden_m2) == Verdict::Enough;
        let Some(solved) = site.solve_if(&self.label, is_enough)? else { return Ok(None) };
        if !is_safe(&site, &solved) {
            return Ok(None);
        }
        let cost = self.market.first_cost(&site, &solved);
        let added_cost = || {
            let kit = if changes.contains(&Change::Watering(Watering::Drip)) {
                self.market.prices.drip_per_m2? * Decimal::try_from(self.garden_m2).ok()?
            } else {
                Decimal::ZERO
            };
            Some((cost? - self.base_cost? + kit).round_dp(2))
        };
        let fix = Fix { changes: changes.to_vec(), area_m2: solved.area_m2(), added_cost: added_cost() };
        Ok(Some((fix, solved)))
    }
}

/// Neither over-driven nor on a cable that can burn.
fn is_safe(site: &Site<'_>, solved: &Solved) -> bool {
    let circuit = solved.design.circuit_of(solved.design_month, &site.demand);
    solved.drive == Drive::Fit && !is_too_thin(&solved.design.conductor, circuit.isc_a())
}
