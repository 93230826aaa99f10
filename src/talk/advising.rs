//! From what is known to an advice.

use std::borrow::Cow;

use super::known::{Known, PumpGap};
use super::world::World;
use crate::sizing::advice::advise::advise_with_fixes;
use crate::sizing::advice::proposal::propose;
use crate::sizing::bucket::judging::with_tests;
use crate::sizing::set::sheet::CompleteSheet;
use crate::sizing::{Advice, Climate, Market, SizingError, advise};

/// Why no advice could be worked out.
#[derive(Debug, Clone, PartialEq)]
pub enum AnswerError {
    UnknownPlace(String),
    Pump(PumpGap),
    /// No set of what the market has is enough for the garden.
    NoSet,
    Sizing(SizingError),
}

impl From<SizingError> for AnswerError {
    fn from(error: SizingError) -> Self {
        AnswerError::Sizing(error)
    }
}

/// How far an advice is worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    Answer,
    /// With what would make the set enough: a search that takes some milliseconds.
    WithFixes,
}

/// What is known, ready to be worked out.
struct Ready<'w> {
    climate: Cow<'w, Climate>,
    complete: CompleteSheet,
    market: Market,
    is_proposal: bool,
}

/// What is known made whole; the place is the one told, else the deployment's own.
fn make_whole<'w>(world: &'w World, known: &Known) -> Result<Ready<'w>, AnswerError> {
    let name = known.place.as_deref().unwrap_or(&world.home_place);
    let climate = world.place(name).ok_or_else(|| AnswerError::UnknownPlace(name.to_owned()))?;
    let (sheet, market) = known.sheet_with_pump(&world.market).map_err(AnswerError::Pump)?;
    let is_proposal = sheet.lacks_panels() && sheet.garden_m2.is_some();
    let lat_deg = climate.place.lat_deg;
    let complete = if is_proposal { sheet.fill_for_proposal(lat_deg)? } else { sheet.fill(lat_deg)? };
    Ok(Ready { climate, complete, market, is_proposal })
}

/// Why nothing can be worked out from what is known; none where something can.
pub fn why_not(world: &World, known: &Known) -> Option<AnswerError> {
    make_whole(world, known).err()
}

/// The advice on what is known. Without panels, but with a garden, the whole set is proposed.
pub fn answer_sheet(world: &World, known: &Known, depth: Depth) -> Result<Advice, AnswerError> {
    let Ready { climate, complete, market, is_proposal } = make_whole(world, known)?;
    if is_proposal {
        return propose(&complete, &climate, &market)?.ok_or(AnswerError::NoSet);
    }
    let (complete, tested) = with_tests(&known.tests, complete, &climate)?;
    let advice = match depth {
        Depth::Answer => advise(&complete, &climate, &market)?,
        Depth::WithFixes => advise_with_fixes(&complete, &climate, &market)?,
    };
    Ok(Advice { tested, ..advice })
}
