//! What every step may look things up in.

use std::collections::BTreeMap;

use crate::language::Languages;
use crate::sizing::{Climate, Market};

/// Languages, places, pump classes and prices of a deployment: loaded once, replaced whole when one of them changes.
#[derive(Debug, Default)]
pub struct World {
    pub languages: Languages,
    /// The language of a talk that has shown none.
    pub home_language: String,
    places: BTreeMap<String, Climate>,
    pub home_place: String,
    /// Pump classes and prices.
    pub market: Market,
}

impl World {
    /// From its parts; a place is found by its name whatever its case.
    pub fn new(
        languages: Languages,
        home_language: String,
        places: impl IntoIterator<Item = Climate>,
        home_place: String,
        market: Market,
    ) -> Self {
        let places = places.into_iter().map(|climate| (climate.place.name.to_lowercase(), climate)).collect();
        World { languages, home_language, places, home_place, market }
    }

    /// The place of a name.
    pub fn place(&self, name: &str) -> Option<&Climate> {
        self.places.get(&name.trim().to_lowercase())
    }

    /// Names of the places, in alphabetical order.
    pub fn place_names(&self) -> impl Iterator<Item = &str> {
        self.places.values().map(|climate| climate.place.name.as_str())
    }
}
