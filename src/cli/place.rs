//! `noonwater place`: the climates of places, into the database and out.

use std::path::PathBuf;

use chrono::Utc;
use clap::Subcommand;

use super::house::open_store;
use super::{ConfigFile, Failure};
use crate::config;
use crate::placefile;
use crate::world::{place_of, put_places};

/// Import and list the monthly climates of places
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater place import kito.json\n  noonwater place list")]
pub struct Arguments {
    #[command(subcommand)]
    action: Action,
}

#[derive(Subcommand)]
enum Action {
    /// Import place files (JSON or TOML), all or none
    #[command(after_help = "Example:\n  noonwater place import kito.json upper-kito.toml")]
    Import {
        #[command(flatten)]
        file: ConfigFile,
        /// The place files
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
    },
    /// List the places in the database
    #[command(after_help = "Example:\n  noonwater place list")]
    List {
        #[command(flatten)]
        file: ConfigFile,
    },
}

/// Does what was asked.
pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    match arguments.action {
        Action::Import { file, files } => {
            // Read them all before the database is touched: nothing is imported in part.
            let climates = files
                .iter()
                .map(|path| placefile::read(path).map_err(|error| Failure::Input(error.to_string())))
                .collect::<Result<Vec<_>, _>>()?;
            let places: Vec<_> = climates.into_iter().map(|climate| climate.place).collect();
            let config = config::read(file.config.as_deref())?;
            let (database, store) = open_store(&config).await?;
            let done = put_places(&store, &places, Utc::now()).await;
            store.close().await;
            database.close().await;
            done?;
            for place in &places {
                println!("imported {}", place.name);
            }
        }
        Action::List { file } => {
            let config = config::read(file.config.as_deref())?;
            let (database, store) = open_store(&config).await?;
            let rows = store.places().await;
            store.close().await;
            database.close().await;
            for row in rows? {
                let place = place_of(row)?;
                println!("{}\t{:.2}\t{:.2}\t{:.0} m", place.name, place.lat_deg, place.lon_deg, place.alt_m);
            }
        }
    }
    Ok(())
}
