//! The command line, one file per command. Exit status: 0 done, 1 something failed, 2 the input or the configuration is
//! wrong; errors go to standard error in one sentence.

mod answer;
mod bulk;
mod handset;
mod honesty;
mod house;
mod listen;
mod logs;
mod measure;
mod measured;
mod place;
mod price;
mod rehearse;
mod serve;
mod staff;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::config::ConfigError;
use crate::database::DatabaseError;
use crate::printable::shown_lines;
use crate::store::StoreError;
use crate::world::WorldError;

/// Answers growers by SMS: will this solar pump water this garden, and what would make it enough.
#[derive(Parser)]
#[command(version, after_help = "Example:\n  noonwater serve --fetch-postgres")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Serve(serve::Arguments),
    Handset(handset::Arguments),
    Answer(answer::Arguments),
    Bulk(bulk::Arguments),
    Place(place::Arguments),
    Price(price::Arguments),
    Staff(staff::Arguments),
    Key(staff::KeyArguments),
    Rehearse(rehearse::Arguments),
    Honesty(honesty::Arguments),
    Measure(measure::Arguments),
}

/// What every command that needs the configuration takes.
#[derive(clap::Args)]
struct ConfigFile {
    /// The configuration file (TOML); NOONWATER_CONFIG names it too
    #[arg(long, value_name = "FILE")]
    config: Option<PathBuf>,
}

impl ConfigFile {
    /// Whether there is one, by its option or by the environment.
    fn is_given(&self) -> bool {
        self.config.is_some() || std::env::var_os("NOONWATER_CONFIG").is_some()
    }
}

/// Why a command ended early.
#[derive(Debug, thiserror::Error)]
enum Failure {
    #[error(transparent)]
    Config(#[from] ConfigError),
    #[error(transparent)]
    Database(#[from] DatabaseError),
    #[error(transparent)]
    Store(#[from] StoreError),
    #[error(transparent)]
    World(#[from] WorldError),
    #[error("{0}")]
    Input(String),
    #[error("{0}")]
    Failed(String),
}

impl Failure {
    fn status(&self) -> u8 {
        match self {
            Self::Config(_)
            | Self::Input(_)
            | Self::World(WorldError::HomePlace(..) | WorldError::HomeLanguage(..) | WorldError::Languages(_))
            | Self::Database(DatabaseError::Url | DatabaseError::PgBin(_)) => 2,
            _ => 1,
        }
    }
}

/// Runs the command that the arguments name.
pub fn run() -> ExitCode {
    // clap itself prints its errors to standard error and ends with 2.
    let arguments = Arguments::parse();
    let started = logs::start(match arguments.command {
        Command::Serve(_) => "info",
        // A conversation on the screen is not to be interrupted by what goes well.
        _ => "warn",
    });
    if let Err(sentence) = started {
        return end(&Failure::Input(sentence));
    }
    let runtime = match tokio::runtime::Builder::new_multi_thread().enable_all().build() {
        Ok(runtime) => runtime,
        Err(error) => return end(&Failure::Failed(format!("no threads could be started ({error}); try again"))),
    };
    let done = runtime.block_on(async {
        match arguments.command {
            Command::Serve(arguments) => serve::run(arguments).await,
            Command::Handset(arguments) => handset::run(arguments).await,
            Command::Answer(arguments) => answer::run(&arguments),
            Command::Bulk(arguments) => bulk::run(arguments).await,
            Command::Place(arguments) => place::run(arguments).await,
            Command::Price(arguments) => price::run(arguments).await,
            Command::Staff(arguments) => staff::run(arguments).await,
            Command::Key(arguments) => staff::run_key(arguments).await,
            Command::Rehearse(arguments) => rehearse::run(&arguments),
            Command::Honesty(arguments) => honesty::run(&arguments),
            Command::Measure(arguments) => measure::run(&arguments),
        }
    });
    // A read of standard input cannot be called off; it must not hold up the end.
    runtime.shutdown_background();
    done.map_or_else(|failure| end(&failure), |()| ExitCode::SUCCESS)
}

fn end(failure: &Failure) -> ExitCode {
    // A file or a database may hold what a terminal would obey.
    eprintln!("noonwater: {}", shown_lines(&failure.to_string()));
    ExitCode::from(failure.status())
}
