//! `noonwater price`: the deployment's price list, into the database and out.

use std::path::PathBuf;

use chrono::Utc;
use clap::Subcommand;

use super::house::open_store;
use super::{ConfigFile, Failure};
use crate::config;
use crate::pricefile;
use crate::world::{prices_in, put_prices};

/// Import and show the deployment's price list
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater price import prices.toml\n  noonwater price show")]
pub struct Arguments {
    #[command(subcommand)]
    action: Action,
}

#[derive(Subcommand)]
enum Action {
    /// Import a price list (TOML or JSON) in the stead of the one in force
    #[command(after_help = "Example:\n  noonwater price import prices.toml")]
    Import {
        #[command(flatten)]
        file: ConfigFile,
        /// The price list
        #[arg(value_name = "FILE")]
        path: PathBuf,
    },
    /// Print the price list in force as TOML, in the form that `import` reads
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
            let prices = pricefile::read(&path).map_err(|error| Failure::Input(error.to_string()))?;
            let config = config::read(file.config.as_deref())?;
            let (database, store) = open_store(&config).await?;
            let done = put_prices(&store, &prices, Utc::now()).await;
            store.close().await;
            database.close().await;
            done?;
            println!("imported prices in {}", prices.currency);
        }
        Action::Show { file } => {
            let config = config::read(file.config.as_deref())?;
            let (database, store) = open_store(&config).await?;
            let found = prices_in(&store).await;
            store.close().await;
            database.close().await;
            let text = toml::to_string(&found?.unwrap_or_default())
                .map_err(|error| Failure::Failed(format!("the price list cannot be written ({error})")))?;
            print!("{text}");
        }
    }
    Ok(())
}
