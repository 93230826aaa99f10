//! What every turn may look things up in, read from the database and the language folders, and replaced whole when
//! that changes.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Arc, PoisonError, RwLock};

use chrono::{DateTime, Utc};
use tracing::info;

use crate::atlas::name_key;
use crate::config::Config;
use crate::demo::{PLACE_JSON, PRICES_TOML};
use crate::language::{Language, Languages, TOPICS_FOLDER, shipped};
use crate::placefile::{self, PlaceFileError};
use crate::pricefile::{self, PriceFile, PriceFileError};
use crate::reply::{REQUIRED, too_long};
use crate::sizing::money::costs::PriceList;
use crate::sizing::parts::pump::PumpLabel;
use crate::sizing::parts::pump_class::{PumpClass, starting_classes};
use crate::sizing::weather::place::MonthClimate;
use crate::sizing::{Climate, Market, Place};
use crate::store::{PlaceRow, PumpClassRow, Signal, Step, Store, StoreError};
use crate::turn::World;

#[derive(Debug, thiserror::Error)]
pub enum WorldError {
    #[error(transparent)]
    Store(#[from] StoreError),
    #[error("the language folders have faults: {0}")]
    Languages(String),
    #[error("no language `{0}` is loaded; set `home_language` to one of: {1}")]
    HomeLanguage(String, String),
    #[error(
        "no place `{0}` is known; import it, or set `home_place` to one of these: {1}, or to a town of the shipped atlas or to degrees, as `Dodoma` or `-8.2 35.1 1200m`"
    )]
    HomePlace(String, String),
    #[error("a stored place is not sound: {0}")]
    Place(#[from] PlaceFileError),
    #[error("a price list is not sound: {0}")]
    Prices(#[from] PriceFileError),
}

/// The language folders shipped and those of `folder`, which stand in for shipped ones of the same name, checked against
/// all that the program says.
pub fn languages(folder: Option<&Path>) -> Result<Languages, WorldError> {
    let mut folders = shipped::folders();
    if let Some(folder) = folder {
        let own = folders_in(folder)?;
        folders.retain(|(shipped, _)| own.iter().all(|(name, _)| name != shipped));
        folders.extend(own);
        folders.sort();
    }
    let languages = Languages::from_folders(folders).map_err(|troubles| {
        WorldError::Languages(troubles.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
    })?;
    let faults: Vec<String> = languages.iter().flat_map(|language| faults_of(language, folder)).collect();
    if faults.is_empty() { Ok(languages) } else { Err(WorldError::Languages(faults.join("; "))) }
}

fn faults_of(language: &Language, own: Option<&Path>) -> Vec<String> {
    // An operator finds the fault by the path of the folder that he gave.
    let folder = own.map(|own| own.join(&language.code)).filter(|own| own.is_dir());
    let folder = folder.unwrap_or_else(|| Path::new("dialogs").join(&language.code));
    let file = folder.join("replies.ftl").display().to_string();
    let missing: Vec<String> =
        language.replies.check(REQUIRED).iter().map(|trouble| format!("{file}: {trouble}")).collect();
    if !missing.is_empty() {
        return missing;
    }
    too_long(language).iter().map(|trouble| format!("{file}: {trouble}")).collect()
}

/// A language folder: its name, its files by name.
type Folder = (String, BTreeMap<String, String>);

/// An operator's own language folders: each folder within, its files by name.
fn folders_in(folder: &Path) -> Result<Vec<Folder>, WorldError> {
    let unreadable = |error: std::io::Error| {
        WorldError::Languages(format!("`dialogs_dir` {} cannot be read ({})", folder.display(), error.kind()))
    };
    let mut folders = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(unreadable)? {
        let entry = entry.map_err(unreadable)?;
        if !entry.file_type().map_err(unreadable)?.is_dir() {
            continue;
        }
        let mut files = BTreeMap::new();
        texts_in(&entry.path(), "", &mut files).map_err(unreadable)?;
        let topics = entry.path().join(TOPICS_FOLDER);
        if topics.is_dir() {
            texts_in(&topics, TOPICS_FOLDER, &mut files).map_err(unreadable)?;
        }
        folders.push((entry.file_name().to_string_lossy().into_owned(), files));
    }
    folders.sort();
    Ok(folders)
}

/// The files of a folder, by their names behind `within`.
fn texts_in(folder: &Path, within: &str, files: &mut BTreeMap<String, String>) -> std::io::Result<()> {
    for file in std::fs::read_dir(folder)? {
        let file = file?;
        if file.file_type()?.is_file() {
            let text = std::fs::read_to_string(file.path())?;
            files.insert(format!("{within}{}", file.file_name().to_string_lossy()), text);
        }
    }
    Ok(())
}

/// Puts the demo place and its prices into a database without places, and into one without classes of pump those that every
/// deployment starts with.
pub async fn stock(store: &Store, now: DateTime<Utc>) -> Result<(), WorldError> {
    if store.places().await?.is_empty() {
        let demo = placefile::parse(PLACE_JSON, false)?;
        put_places(store, &[demo.place], now).await?;
        put_market(store, &PriceFile { prices: pricefile::parse(PRICES_TOML, false)?, classes: None }, now).await?;
    }
    if store.pump_classes().await?.is_empty() {
        let mut step = store.begin().await?;
        for class in starting_classes() {
            step.add_pump_class(&row_of_class(&class)).await?;
        }
        step.commit().await?;
    }
    Ok(())
}

/// Builds the world from the database as it stands.
pub async fn load(store: &Store, config: &Config) -> Result<World, WorldError> {
    load_at(store, config, None).await
}

/// The same for growers at `place`, which goes before a stored place by its name.
pub async fn load_at(store: &Store, config: &Config, place: Option<Climate>) -> Result<World, WorldError> {
    let market = market_in(store).await?;
    let stored = store.places().await?.into_iter().map(|row| Ok(placefile::check(place_of(row)?)?));
    let mut climates = stored.collect::<Result<Vec<Climate>, WorldError>>()?;
    let home_place = place.as_ref().map_or(&config.home_place, |climate| &climate.place.name).clone();
    if let Some(place) = place {
        climates.retain(|stored| name_key(&stored.place.name) != name_key(&home_place));
        climates.push(place);
    }
    let languages = languages(config.dialogs_dir.as_deref())?;
    let mut world = build(languages, config.home_language.as_deref(), climates, &home_place, market)?;
    world.emergency.clone_from(&config.emergency);
    info!(places = world.place_names().count(), languages = world.languages.iter().count(), "world loaded");
    Ok(world)
}

/// A world from its parts; the home language and the home place must be among them. Prices alone go with the classes that
/// every deployment starts with.
pub fn build(
    languages: Languages,
    home_language: Option<&str>,
    climates: Vec<Climate>,
    home_place: &str,
    market: impl Into<Market>,
) -> Result<World, WorldError> {
    let codes: Vec<&str> = languages.iter().map(|language| language.code.as_str()).collect();
    let home_language = home_language.or_else(|| codes.first().copied()).unwrap_or_default().to_owned();
    if !codes.contains(&home_language.as_str()) {
        return Err(WorldError::HomeLanguage(home_language, codes.join(", ")));
    }
    let world = World::new(languages, home_language, climates, home_place.to_owned(), market.into());
    if world.place(home_place).is_none() {
        let known = world.place_names().collect::<Vec<_>>().join(", ");
        return Err(WorldError::HomePlace(home_place.to_owned(), known));
    }
    Ok(world)
}

/// The prices in force and the classes of pump.
pub async fn market_in(store: &Store) -> Result<Market, StoreError> {
    let classes = store.pump_classes().await?.into_iter().map(class_of).collect();
    let prices = store.prices().await?.map(|row| prices_of(&row.prices)).transpose()?.unwrap_or_default();
    Ok(Market { classes, prices })
}

/// Puts prices in force, and in the stead of the classes of pump those of the file if it has them.
pub async fn put_market(store: &Store, file: &PriceFile, now: DateTime<Utc>) -> Result<(), StoreError> {
    let mut step = store.begin().await?;
    step.lock_prices().await?;
    put_market_in(&mut step, file, now).await?;
    step.commit().await?;
    store.signal(Signal::World).await
}

/// The same as one part of what else is done.
pub async fn put_market_in(step: &mut Step<'_>, file: &PriceFile, now: DateTime<Utc>) -> Result<(), StoreError> {
    step.put_prices(&prices_row(&file.prices)?, now).await?;
    if let Some(classes) = &file.classes {
        step.clear_pump_classes().await?;
        for class in classes {
            step.add_pump_class(&row_of_class(class)).await?;
        }
    }
    Ok(())
}

/// The price list that a row holds.
pub fn prices_of(prices: &serde_json::Value) -> Result<PriceList, StoreError> {
    serde_json::from_value(prices.clone()).map_err(|_| StoreError::Refused("prices".to_owned()))
}

/// A price list as a row.
pub fn prices_row(prices: &PriceList) -> Result<serde_json::Value, StoreError> {
    serde_json::to_value(prices).map_err(|_| StoreError::Refused("prices".to_owned()))
}

/// A class of pump as a row.
pub fn row_of_class(class: &PumpClass) -> PumpClassRow {
    let PumpLabel { label_v, flow_l_h, head_m, amps, electronics, displacement: _ } = class.label;
    PumpClassRow { name: class.name.clone(), label_v, flow_l_h, head_m, amps, electronics, life_h: class.life_h }
}

fn class_of(row: PumpClassRow) -> PumpClass {
    let PumpClassRow { name, label_v, flow_l_h, head_m, amps, electronics, life_h } = row;
    PumpClass { name, label: PumpLabel { label_v, flow_l_h, head_m, amps, electronics, displacement: false }, life_h }
}

/// Stores places, all or none.
pub async fn put_places(store: &Store, places: &[Place], now: DateTime<Utc>) -> Result<(), StoreError> {
    let mut step = store.begin().await?;
    for place in places {
        step.put_place(&row_of(place)?, now).await?;
    }
    step.commit().await?;
    store.signal(Signal::World).await
}

/// A place as a row.
pub fn row_of(place: &Place) -> Result<PlaceRow, StoreError> {
    let unwritable = |_| StoreError::Place("months".to_owned());
    Ok(PlaceRow {
        name: place.name.clone(),
        lat_deg: place.lat_deg,
        lon_deg: place.lon_deg,
        alt_m: place.alt_m,
        utc_offset_h: place.utc_offset_h,
        coastal: place.coastal,
        season_months: serde_json::to_value(&place.season_months).map_err(unwritable)?,
        low_water_month: place.low_water_month.map(i16::from),
        source: place.source.clone(),
        months: serde_json::to_value(&place.months).map_err(unwritable)?,
    })
}

/// The place that a row holds.
pub fn place_of(row: PlaceRow) -> Result<Place, StoreError> {
    let unreadable = |_| StoreError::Place(row.name.clone());
    let season_months: Vec<u8> = serde_json::from_value(row.season_months.clone()).map_err(unreadable)?;
    let months: Vec<MonthClimate> = serde_json::from_value(row.months.clone()).map_err(unreadable)?;
    let low_water_month =
        row.low_water_month.map(u8::try_from).transpose().map_err(|_| StoreError::Place(row.name.clone()))?;
    Ok(Place {
        name: row.name,
        lat_deg: row.lat_deg,
        lon_deg: row.lon_deg,
        alt_m: row.alt_m,
        utc_offset_h: row.utc_offset_h,
        coastal: row.coastal,
        season_months,
        low_water_month,
        source: row.source,
        months,
    })
}

/// The world of now. A turn keeps the one that it began with.
pub struct Shelf {
    world: RwLock<Arc<World>>,
    /// Held while a world is loaded, so that an older one never takes the place of a newer.
    loading: tokio::sync::Mutex<()>,
}

impl Shelf {
    pub fn new(world: World) -> Self {
        Self { world: RwLock::new(Arc::new(world)), loading: tokio::sync::Mutex::new(()) }
    }

    pub fn now(&self) -> Arc<World> {
        Arc::clone(&self.world.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// Puts what the database and the language folders hold now in the stead of what was loaded before.
    pub async fn reload(&self, store: &Store, config: &Config) -> Result<(), WorldError> {
        let _turn = self.loading.lock().await;
        let world = load(store, config).await?;
        *self.world.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(world);
        Ok(())
    }
}
