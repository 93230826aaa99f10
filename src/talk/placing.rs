//! The place of a talk: found by what was typed, and whose climate it has.

use super::known::Known;
use super::say::Say;
use super::state::Asked;
use super::world::{NoSite, World};
use crate::language::Field;
use crate::message::FactValue;

/// Keeps the place that was told by the name it has here. One that is no place is forgotten: the question and what to
/// say come back.
pub fn settle_place(world: &World, known: &mut Known) -> Result<(), Box<(Asked, Say)>> {
    let Some(name) = known.place.take() else { return Ok(()) };
    let again = Asked::Field { field: Field::Place };
    match world.site(&name) {
        // A spot whose air is too thin or too cold for a garden has no climate to work with.
        Ok(site) if world.place(&name).is_some() => {
            known.place = Some(site.name());
            Ok(())
        }
        Err(NoSite::Near(meant)) => {
            let asked = Asked::DidYouMean { facts: vec![FactValue::Place(meant.to_owned())], command: None };
            Err(Box::new((asked, Say::DidYouMean { word: name, meant: meant.to_owned() })))
        }
        Ok(_) | Err(NoSite::Spot) => Err(Box::new((again, Say::SpotRefused))),
        Err(NoSite::Unknown) => {
            let known = world.place_names().map(str::to_owned).collect();
            Err(Box::new((again, Say::PlaceUnknown { name, known })))
        }
    }
}

/// Whether the climate of the place told lies too far off to be trusted.
pub fn is_rough(world: &World, known: &Known) -> bool {
    known.place.as_deref().and_then(|name| world.place_source(name)).is_some_and(|source| source.rough)
}

/// Whose climate is taken: said of a spot, and of a town when it is new to the talk.
pub fn whose_climate(world: &World, known: &Known, is_new: bool) -> Option<Say> {
    let source = world.place_source(known.place.as_deref().unwrap_or(&world.home_place))?;
    let is_said = source.distance_km.is_some_and(|distance_km| distance_km > 0.0 || is_new);
    is_said.then(|| Say::Climate { source: Box::new(source), is_new })
}
