//! What every step may look things up in.

use crate::sizing::weather::climate::RADIATION_SPREAD_TEMPERATURES;
use std::borrow::Cow;
use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, Utc};
use serde::Serialize;

use super::local::local_time;
use crate::atlas::{self, Near, Station};
use crate::danger::Ears;
use crate::language::Languages;
use crate::sizing::{Climate, Market};
use crate::spot::{self, SpotFault};
use crate::topics::Topics;

/// Languages, places, pump classes and prices of a deployment: loaded once, replaced whole when one of them changes.
#[derive(Debug, Default)]
pub struct World {
    pub languages: Languages,
    /// Hears dangers, by the words of all languages.
    pub ears: Ears,
    /// Knows what is asked.
    pub topics: Topics,
    /// The deployment's emergency number.
    pub emergency: Option<String>,
    /// The language of a talk that has shown none.
    pub home_language: String,
    places: BTreeMap<String, Climate>,
    pub home_place: String,
    /// Pump classes and prices.
    pub market: Market,
}

/// What a place's name stands for.
#[derive(Debug, Clone, Copy)]
pub enum Site<'w> {
    /// A place of the deployment.
    Own(&'w Climate),
    /// A town of the atlas.
    Town(&'static Station),
    /// A spot on the map, with the station nearest to it.
    Spot(Near),
}

/// Why a name stands for no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoSite<'w> {
    /// Degrees or metres out of range.
    Spot,
    /// Not known; this name is near.
    Near(&'w str),
    Unknown,
}

/// Whose climate a place has, as JSON readers are told.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlaceSource {
    /// `own`, `town` or `spot`.
    pub kind: &'static str,
    /// Source and period; none where a deployment's place states none.
    pub source: Option<String>,
    /// The station's town and country.
    pub station: Option<String>,
    pub country: Option<String>,
    pub distance_km: Option<f64>,
    pub station_alt_m: Option<f64>,
    pub alt_m: f64,
    /// The altitude was not told and is the station's.
    pub alt_assumed: bool,
    /// Too far from the station, or too much higher or lower, to be trusted.
    pub rough: bool,
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
        let (ears, topics) = (Ears::new(&languages), Topics::new(&languages));
        World { languages, ears, topics, emergency: None, home_language, places, home_place, market }
    }

    /// What a name stands for: a place of the deployment first, then a spot, then a town of the atlas.
    pub fn site(&self, name: &str) -> Result<Site<'_>, NoSite<'_>> {
        if let Some(climate) = self.places.get(&name.trim().to_lowercase()) {
            return Ok(Site::Own(climate));
        }
        match spot::parse(name) {
            Some(Ok(spot)) => return atlas::nearest(spot).map(Site::Spot).ok_or(NoSite::Unknown),
            Some(Err(SpotFault)) => return Err(NoSite::Spot),
            None => {}
        }
        let key = atlas::name_key(name);
        let own = self.places.values().find(|climate| !key.is_empty() && atlas::name_key(&climate.place.name) == key);
        own.map(Site::Own)
            .or_else(|| atlas::town(name).map(Site::Town))
            .ok_or_else(|| atlas::near_name(name, self.place_names()).map_or(NoSite::Unknown, NoSite::Near))
    }

    /// The climate of a name; that of a town or a spot is worked out here and now.
    pub fn place(&self, name: &str) -> Option<Cow<'_, Climate>> {
        match self.site(name).ok()? {
            Site::Own(climate) => Some(Cow::Borrowed(climate)),
            Site::Town(station) => station.climate().ok().map(Cow::Owned),
            Site::Spot(near) => {
                let climate = Climate::new(near.place().ok()?).ok()?;
                // The sky of a station some way off is not this spot's.
                let radiation_spread = climate.radiation_spread.max(RADIATION_SPREAD_TEMPERATURES);
                Some(Cow::Owned(Climate { radiation_spread, ..climate }))
            }
        }
    }

    /// Whose climate the place of a name has.
    pub fn place_source(&self, name: &str) -> Option<PlaceSource> {
        Some(match self.site(name).ok()? {
            Site::Own(climate) => PlaceSource {
                kind: "own",
                source: climate.place.source.clone(),
                station: None,
                country: None,
                distance_km: None,
                station_alt_m: None,
                alt_m: climate.place.alt_m,
                alt_assumed: false,
                rough: false,
            },
            Site::Town(station) => {
                PlaceSource { kind: "town", alt_m: station.alt_m, alt_assumed: false, rough: false, ..of_station(station) }
            }
            Site::Spot(near) => PlaceSource {
                kind: "spot",
                distance_km: Some(near.distance_km),
                alt_m: near.alt_m(),
                alt_assumed: near.spot.alt_m.is_none(),
                rough: near.is_rough(),
                ..of_station(near.station)
            },
        })
    }

    /// Date and time on the clocks of a place, the home place's where the name stands for none.
    pub fn local_time(&self, name: Option<&str>, now: DateTime<Utc>) -> DateTime<FixedOffset> {
        let offset_h = |name: &str| match self.site(name).ok()? {
            Site::Own(climate) => Some(climate.place.utc_offset_h),
            Site::Town(station) => Some(station.utc_offset_h),
            Site::Spot(near) => Some(near.utc_offset_h()),
        };
        let told = name.and_then(offset_h).or_else(|| offset_h(&self.home_place));
        local_time(now, told.unwrap_or_default())
    }

    /// Names of the deployment's places, in alphabetical order.
    pub fn place_names(&self) -> impl Iterator<Item = &str> {
        self.places.values().map(|climate| climate.place.name.as_str())
    }
}

fn of_station(station: &Station) -> PlaceSource {
    PlaceSource {
        kind: "town",
        source: Some(station.source_and_period()),
        station: Some(station.town.clone()),
        country: Some(station.country.clone()),
        distance_km: Some(0.0),
        station_alt_m: Some(station.alt_m),
        alt_m: station.alt_m,
        alt_assumed: false,
        rough: false,
    }
}

impl Site<'_> {
    /// The name under which it is kept: found again whatever was typed.
    pub fn name(&self) -> String {
        match self {
            Site::Own(climate) => climate.place.name.clone(),
            Site::Town(station) => station.town.clone(),
            Site::Spot(near) => near.spot.to_string(),
        }
    }
}
