//! How often what is told is so.
//!
//! Sheets of every kind, seeded, with gardens near what the set serves; for each, what may really be is drawn from what was not
//! told and from what is known only roughly. Never a clock, a file or the network; chance that repeats itself.

mod dice;
mod kinds;
mod thumb;
mod truth;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

use crate::sizing::advice::advise::advise_with_fixes;
use crate::sizing::advice::choice::choose_pump;
use crate::sizing::advice::proposal::propose;
use crate::sizing::set::site::{Site, Solved};
use crate::sizing::set::spread::{verdict_of, water_range};
use crate::sizing::set::verdict::Verdict;
use crate::sizing::{Climate, Market, Sheet, SizingError, advise};

use dice::Dice;
pub use kinds::Kind;
use thumb::{Rule, area_by};
use truth::true_area_m2;

/// Outcomes drawn for each sheet.
const DRAWS: u32 = 10;

/// Area served over the garden: what is enough in truth, and what is more than too little.
const REALLY_ENOUGH: f64 = 0.9;
const REALLY_MORE: f64 = 1.1;

/// So many of so many.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Share {
    pub of: u32,
    pub held: u32,
}

impl Share {
    fn add(&mut self, held: bool) {
        self.of += 1;
        self.held += u32::from(held);
    }

    /// As a percentage; all of none.
    pub fn percent(&self) -> f64 {
        if self.of == 0 { 100.0 } else { 100.0 * f64::from(self.held) / f64::from(self.of) }
    }
}

/// How a way of sizing does on one kind of sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Tally {
    /// Told enough, and was; told too little, and was.
    pub enough: Share,
    pub short: Share,
    /// Sets told enough that were not, at what they cost.
    pub wasted: f64,
}

/// What came of one kind of sheet.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Report {
    pub kind: &'static str,
    pub sheets: u32,
    pub engine: Tally,
    /// Of all, told that they are just enough.
    pub tight: Share,
    pub unfit: u32,
    /// Changes, cures and proposals that are enough again when they are sent back.
    pub sent_back: Share,
    /// Of those, what may really be reaches nine tenths of the need.
    pub sent_back_really: Share,
    /// Outcomes inside the range that was told.
    pub in_range: Share,
    pub peak_sun_hours: Tally,
    pub no_threshold: Tally,
}

/// Works out so many sheets of a kind.
pub fn simulate(kind: Kind, sheets: u32, climate: &Climate, market: &Market) -> Result<Report, SizingError> {
    let mut dice = Dice::new(20 + kind as u64);
    let mut report = Report { kind: kind.name(), ..Report::default() };
    while report.sheets < sheets {
        let sheet = kind.sheet(&mut dice);
        if kind == Kind::Proposal {
            one_proposal(&mut report, &sheet, climate, market, &mut dice)?;
        } else {
            one_sheet(&mut report, &sheet, climate, market, &mut dice)?;
        }
    }
    Ok(report)
}

/// A sheet whose set gives water gets a garden near what it serves, and is judged.
fn one_sheet(
    report: &mut Report,
    sheet: &Sheet,
    climate: &Climate,
    market: &Market,
    dice: &mut Dice,
) -> Result<(), SizingError> {
    let (solved, area_m2) = {
        let site = Site::new(sheet.fill(climate.place.lat_deg)?, climate)?;
        let (solved, _) = choose_pump(&site, market)?;
        let area_m2 = solved.area_m2();
        (solved, area_m2)
    };
    if !(1.0..1e6).contains(&area_m2) {
        return Ok(());
    }
    let garden_m2 = area_m2 / dice.between((0.8, 1.5));
    let sheet = Sheet { garden_m2: Some(garden_m2), ..sheet.clone() };
    let site = Site::new(sheet.fill(climate.place.lat_deg)?, climate)?;
    let verdict = verdict_of(&site, &solved)?;
    report.sheets += 1;
    report.tight.add(verdict == Some(Verdict::Tight));
    if verdict == Some(Verdict::Unfit) {
        report.unfit += 1;
        return Ok(());
    }
    let cost = market.first_cost(&site, &solved);
    let range = water_range(&site, &solved)?;
    let need_l_m2_day = solved.month().need_l_m2_day;
    let inside = |area_m2: f64| {
        let water_m3_day = area_m2 * need_l_m2_day / 1000.0;
        (range.low_m3_day..=range.high_m3_day).contains(&water_m3_day)
    };
    let thumbs = [Rule::PeakSunHours, Rule::NoThreshold].map(|rule| area_by(rule, &site, &solved));
    for _ in 0..DRAWS {
        let really_m2 = true_area_m2(&site, &solved, dice)?;
        report.in_range.add(inside(really_m2));
        let share = really_m2 / garden_m2;
        tally(&mut report.engine, verdict, share, cost);
        for (tally_of, area) in [&mut report.peak_sun_hours, &mut report.no_threshold].into_iter().zip(&thumbs) {
            let area_m2 = area.as_ref().copied().unwrap_or_default();
            let told = if area_m2 >= garden_m2 { Verdict::Enough } else { Verdict::Short };
            tally(tally_of, Some(told), share, cost);
        }
    }
    let advice = advise_with_fixes(&site.filled, climate, market)?;
    for fix in &advice.fixes {
        let mut filled = site.filled.clone();
        fix.changes.iter().for_each(|change| change.apply(&mut filled));
        send_back(report, Site::new(filled, climate)?, market, dice)?;
    }
    if let Some(cure) = advice.over_driven_cure.filter(|cure| cure.verdict == Some(Verdict::Enough)) {
        let mut filled = site.filled.clone();
        filled.panel_count = cure.panel_count;
        send_back(report, Site::new(filled, climate)?, market, dice)?;
    }
    Ok(())
}

/// A set that is proposed is told as it was bought.
fn one_proposal(
    report: &mut Report,
    sheet: &Sheet,
    climate: &Climate,
    market: &Market,
    dice: &mut Dice,
) -> Result<(), SizingError> {
    report.sheets += 1;
    let Some(set) = propose(&sheet.fill_for_proposal(climate.place.lat_deg)?, climate, market)? else { return Ok(()) };
    let used = &set.sheet;
    let label = market.classes.iter().find(|class| Some(&class.name) == used.pump.class.as_ref()).map(|class| class.label);
    let bought = Sheet {
        bore_mm: Some(used.bore_mm),
        panel_count: Some(used.panel_count),
        panel_w: Some(used.panel_w),
        pump: label,
        pump_count: Some(used.pump.count),
        wire_mm2: Some(used.wire_mm2),
        ..sheet.clone()
    };
    let filled = bought.fill(climate.place.lat_deg)?;
    let again = advise(&filled, climate, market)?;
    let same = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-9;
    let is_same = again.verdict == set.verdict && same(again.design().water.water_m3_day, set.design().water.water_m3_day);
    report.sent_back.add(is_same && again.verdict == Some(Verdict::Enough));
    let site = Site::new(filled, climate)?;
    let (solved, _) = choose_pump(&site, market)?;
    really(report, &site, &solved, dice)
}

/// Whether a changed sheet is enough again, and how often it really is.
fn send_back(report: &mut Report, site: Site<'_>, market: &Market, dice: &mut Dice) -> Result<(), SizingError> {
    let (solved, _) = choose_pump(&site, market)?;
    report.sent_back.add(verdict_of(&site, &solved)? == Some(Verdict::Enough));
    really(report, &site, &solved, dice)
}

fn really(report: &mut Report, site: &Site<'_>, solved: &Solved, dice: &mut Dice) -> Result<(), SizingError> {
    let garden_m2 = site.filled.garden_m2.unwrap_or(f64::INFINITY);
    for _ in 0..DRAWS {
        report.sent_back_really.add(true_area_m2(site, solved, dice)? >= REALLY_ENOUGH * garden_m2);
    }
    Ok(())
}

/// What one outcome makes of a verdict.
fn tally(tally: &mut Tally, verdict: Option<Verdict>, share: f64, cost: Option<Decimal>) {
    match verdict {
        Some(Verdict::Enough) => {
            let held = share >= REALLY_ENOUGH;
            tally.enough.add(held);
            if !held {
                tally.wasted += cost.and_then(|cost| cost.to_f64()).unwrap_or_default() / f64::from(DRAWS);
            }
        }
        Some(Verdict::Short) => tally.short.add(share < REALLY_MORE),
        _ => {}
    }
}
