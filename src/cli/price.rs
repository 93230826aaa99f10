//! `noonwater price`: the deployment's price list and its classes of pump, into the database and out.

use std::path::PathBuf;

use chrono::Utc;
use clap::Subcommand;

use super::house::open_store;
use super::{ConfigFile, Failure};
use crate::config;
use crate::pricefile::{self, PriceFile};
use crate::printable::{shown, shown_lines};
use crate::sizing::Market;
use crate::world::{market_in, put_market};

/// Import and show the deployment's price list
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater price import prices.toml\n  noonwater price show")]
pub struct Arguments {
    #[command(subcommand)]
    action: Action,
}

#[derive(Subcommand)]
enum Action {
    /// Import a price list (TOML, JSON or CSV) in the stead of the one in force; classes of pump in it replace those in the
    /// database, a list without any leaves them
    #[command(after_help = "Example:\n  noonwater price import prices.toml")]
    Import {
        #[command(flatten)]
        file: ConfigFile,
        /// The price list
        #[arg(value_name = "FILE")]
        path: PathBuf,
    },
    /// Print the prices in force and the classes of pump as TOML, in the form that `import` reads
    #[command(after_help = "Example:\n  noonwater price show > prices.toml")]
    Show {
        #[command(flatten)]
        file: ConfigFile,
    },
}

/// Does what was asked.
pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    match arguments.action {
        Action::Import { file, path } => {
            let list = pricefile::read(&path).map_err(|error| Failure::Input(error.to_string()))?;
            let config = config::read(file.config.as_deref())?;
            let (database, store) = open_store(&config).await?;
            let done = put_market(&store, &list, Utc::now()).await;
            store.close().await;
            database.close().await;
            done?;
            println!("imported prices in {}", shown(&list.prices.currency));
            if let Some(classes) = &list.classes {
                println!("imported {} classes of pump", classes.len());
            }
        }
        Action::Show { file } => {
            let config = config::read(file.config.as_deref())?;
            let (database, store) = open_store(&config).await?;
            let found = market_in(&store).await;
            store.close().await;
            database.close().await;
            let Market { prices, classes } = found?;
            let text = pricefile::toml(&PriceFile { prices, classes: Some(classes) })
                .map_err(|error| Failure::Failed(format!("the price list cannot be written ({error})")))?;
            print!("{}", shown_lines(&text));
        }
    }
    Ok(())
}
