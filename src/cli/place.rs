//! `noonwater place`: the climates of places, into the database and out.

use std::path::PathBuf;

use chrono::Utc;
use clap::Subcommand;

use super::house::open_store;
use super::{ConfigFile, Failure};
use crate::atlas::{self, nearest, stations, town};
use crate::config;
use crate::placefile::{self, Given, export};
use crate::printable::shown;
use crate::sizing::{Place, SizingError};
use crate::spot::{self, Spot};
use crate::world::{place_of, put_places};

/// Import, export and list the monthly climates of places
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater place import kito.json\n  noonwater place list")]
pub struct Arguments {
    #[command(subcommand)]
    action: Action,
}

#[derive(Subcommand)]
enum Action {
    /// Import places, all or none: place files (JSON or TOML), tables of twelve lines (CSV), or NASA POWER's
    /// climatology of a point (CSV)
    #[command(after_help = "Example:\n  noonwater place import kito.json upper-kito.toml\n  \
                      noonwater place import power.csv --name 'Lower Kito' --utc-offset 3")]
    Import {
        #[command(flatten)]
        file: ConfigFile,
        #[command(flatten)]
        told: Told,
        /// The files
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
    },
    /// Write a place as a place file, to be edited and imported: one of the database, a town of the atlas, or a spot
    #[command(after_help = "Example:\n  noonwater place export Kito kito.csv\n  noonwater place export '-8.2 35.1 1200m'")]
    Export {
        #[command(flatten)]
        file: ConfigFile,
        /// The place's name, or degrees and metres
        #[arg(allow_hyphen_values = true)]
        name: String,
        /// Where to write it, CSV by that ending, JSON otherwise; standard output without it
        #[arg(value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// List the places in the database with the source of each
    #[command(after_help = "Example:\n  noonwater place list\n  noonwater place list --atlas")]
    List {
        #[command(flatten)]
        file: ConfigFile,
        /// The towns of the atlas instead, which need no import
        #[arg(long)]
        atlas: bool,
    },
}

/// What a table or a climatology does not say by itself; goes before what it does say
#[derive(clap::Args)]
struct Told {
    /// The place's name
    #[arg(long)]
    name: Option<String>,
    /// Latitude, degrees, north positive
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    lat: Option<f64>,
    /// Longitude, degrees, east positive
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    lon: Option<f64>,
    /// Altitude, metres
    #[arg(long, value_name = "METRES", allow_negative_numbers = true)]
    alt: Option<f64>,
    /// Hours that clocks are ahead of UTC
    #[arg(long, value_name = "HOURS", allow_negative_numbers = true)]
    utc_offset: Option<f64>,
}

/// Does what was asked.
pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    match arguments.action {
        Action::Import { file, told, files } => import(&file, told, &files).await,
        Action::Export { file, name, to } => export(&file, &name, to).await,
        Action::List { atlas: true, .. } => {
            for station in stations() {
                let Ok(place) = station.place() else { continue };
                println!("{}\t{}", station.country, line(&place));
            }
            Ok(())
        }
        Action::List { file, atlas: false } => {
            for place in stored(&file).await? {
                println!("{}", shown_line(&place));
            }
            Ok(())
        }
    }
}

/// The same as a terminal may see it.
fn shown_line(place: &Place) -> String {
    line(place).split('\t').map(shown).collect::<Vec<_>>().join("\t")
}

fn line(place: &Place) -> String {
    let source = place.source.as_deref().unwrap_or("source not stated");
    format!("{}\t{:.2}\t{:.2}\t{:.0} m\t{source}", place.name, place.lat_deg, place.lon_deg, place.alt_m)
}

async fn import(file: &ConfigFile, told: Told, files: &[PathBuf]) -> Result<(), Failure> {
    let given =
        Given { name: told.name, lat_deg: told.lat, lon_deg: told.lon, alt_m: told.alt, utc_offset_h: told.utc_offset };
    if files.len() > 1 && given != Given::default() {
        return Err(Failure::Input("--name, --lat and the like tell of one file; import the files one by one".to_owned()));
    }
    // Read them all before the database is touched: nothing is imported in part.
    let imported = files
        .iter()
        .map(|path| placefile::import(path, &given).map_err(|error| Failure::Input(error.to_string())))
        .collect::<Result<Vec<_>, _>>()?;
    let places: Vec<Place> = imported.iter().map(|imported| imported.climate.place.clone()).collect();
    let config = config::read(file.config.as_deref())?;
    let (database, store) = open_store(&config).await?;
    let done = put_places(&store, &places, Utc::now()).await;
    store.close().await;
    database.close().await;
    done?;
    for imported in &imported {
        println!("imported {}", imported.climate.place.name);
        for taken in &imported.taken {
            println!("  {taken}");
        }
    }
    Ok(())
}

async fn stored(file: &ConfigFile) -> Result<Vec<Place>, Failure> {
    let config = config::read(file.config.as_deref())?;
    let (database, store) = open_store(&config).await?;
    let rows = store.places().await;
    store.close().await;
    database.close().await;
    Ok(rows?.into_iter().map(place_of).collect::<Result<_, _>>()?)
}

async fn export(file: &ConfigFile, name: &str, to: Option<PathBuf>) -> Result<(), Failure> {
    let key = atlas::name_key(name);
    let spot: Option<Spot> = spot::parse(name).and_then(Result::ok);
    let unsound = |error: SizingError| Failure::Failed(error.to_string());
    let place = match (spot.and_then(nearest), town(name)) {
        (Some(near), _) => near.place().map_err(unsound)?,
        (None, station) => {
            let own = stored(file).await?.into_iter().find(|place| atlas::name_key(&place.name) == key);
            match (own, station) {
                (Some(place), _) => place,
                (None, Some(station)) => station.place().map_err(unsound)?,
                (None, None) => {
                    let sentence = format!("no place {name:?}; see `noonwater place list` and `place list --atlas`");
                    return Err(Failure::Input(sentence));
                }
            }
        }
    };
    let is_csv = to.as_ref().and_then(|to| to.extension()).is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let text = if is_csv { export::csv(&place) } else { export::json(&place) };
    let text = text.map_err(|error| Failure::Failed(format!("{name} cannot be written ({error}); import it anew")))?;
    match to {
        None => print!("{text}"),
        Some(to) => std::fs::write(&to, text).map_err(|error| {
            Failure::Failed(format!("{} cannot be written ({}); name another file", to.display(), error.kind()))
        })?,
    }
    Ok(())
}
