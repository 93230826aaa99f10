//! `noonwater staff` and `noonwater key`: who may sit at the desk, and which machines may ask it.

use std::io::{BufRead, IsTerminal};

use chrono::Utc;
use clap::{Subcommand, ValueEnum};

use super::house::open_store;
use super::{ConfigFile, Failure};
use crate::config;
use crate::desk::frame::member::Role;
use crate::desk::staff::password;
use crate::store::{NewStaff, Store, StoreError};

/// Who the audit names when an account is made on the server itself.
const BY: &str = "(server)";

/// Make desk accounts
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater staff add Asha --role runs")]
pub struct Arguments {
    #[command(subcommand)]
    action: Action,
}

#[derive(Subcommand)]
enum Action {
    /// Add an account; the password is asked for, or read from the first line of standard input
    #[command(after_help = "Example:\n  noonwater staff add Asha --role runs\n  \
                      noonwater staff add Baraka --role answers < password.txt")]
    Add {
        #[command(flatten)]
        file: ConfigFile,
        /// The name to sign in with
        name: String,
        /// What the account may do
        #[arg(long, value_enum, default_value = "answers")]
        role: RoleName,
    },
}

#[derive(Clone, Copy, ValueEnum)]
enum RoleName {
    /// Sees everything, changes nothing
    Reads,
    /// Answers growers too
    Answers,
    /// Runs the place too: accounts, places, keys
    Runs,
}

/// Make keys for machines that ask for answers in bulk
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater key add season-survey")]
pub struct KeyArguments {
    #[command(subcommand)]
    action: KeyAction,
}

#[derive(Subcommand)]
enum KeyAction {
    /// Add a key and print it, this once
    #[command(after_help = "Example:\n  noonwater key add season-survey")]
    Add {
        #[command(flatten)]
        file: ConfigFile,
        /// What the key is for
        name: String,
        /// It also reads who wrote what, for an organisation's own reports
        #[arg(long)]
        reads_records: bool,
    },
}

/// Adds an account.
pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    let Action::Add { file, name, role } = arguments.action;
    let name = named(&name)?;
    let role = match role {
        RoleName::Reads => Role::Reads,
        RoleName::Answers => Role::Answers,
        RoleName::Runs => Role::Runs,
    };
    let config = config::read(file.config.as_deref())?;
    let password = password::hash(&read_password()?).map_err(|error| Failure::Input(error.to_string()))?;
    let (database, store) = open_store(&config).await?;
    let done = add(&store, &name, role, &password).await;
    store.close().await;
    database.close().await;
    match done {
        Ok(()) => {
            println!("added {name}, role {}", role.name());
            Ok(())
        }
        Err(StoreError::NameTaken) => Err(Failure::Input(StoreError::NameTaken.to_string())),
        Err(error) => Err(error.into()),
    }
}

async fn add(store: &Store, name: &str, role: Role, password: &str) -> Result<(), StoreError> {
    let now = Utc::now();
    let mut step = store.begin().await?;
    step.add_staff(&NewStaff { name, role: role.name(), password, created_at: now }).await?;
    step.note(BY, "added an account", name, now).await?;
    step.commit().await
}

/// Adds a key and prints it.
pub async fn run_key(arguments: KeyArguments) -> Result<(), Failure> {
    let KeyAction::Add { file, name, reads_records } = arguments.action;
    let name = named(&name)?;
    let config = config::read(file.config.as_deref())?;
    let key = password::new_key().map_err(|error| Failure::Failed(error.to_string()))?;
    let (database, store) = open_store(&config).await?;
    let done = async {
        let now = Utc::now();
        let mut step = store.begin().await?;
        step.add_key(&name, &password::key_hash(&key), reads_records, now).await?;
        step.note(BY, "added a key", &name, now).await?;
        step.commit().await
    }
    .await;
    store.close().await;
    database.close().await;
    done?;
    println!("{key}");
    Ok(())
}

fn named(name: &str) -> Result<String, Failure> {
    let name = name.trim();
    if name.is_empty() || name.chars().count() > 64 || name.chars().any(char::is_control) {
        return Err(Failure::Input("the name is empty or over 64 characters; give another one".to_owned()));
    }
    Ok(name.to_owned())
}

/// Typed unseen on a terminal, twice; otherwise the first line of standard input.
fn read_password() -> Result<String, Failure> {
    let unread = |_| Failure::Input("no password could be read; type it or send it to standard input".to_owned());
    if !std::io::stdin().is_terminal() {
        let mut line = String::new();
        std::io::stdin().lock().read_line(&mut line).map_err(unread)?;
        return Ok(line.trim_end_matches(['\r', '\n']).to_owned());
    }
    let first = rpassword::prompt_password("Password: ").map_err(unread)?;
    let second = rpassword::prompt_password("Once more: ").map_err(unread)?;
    if first == second { Ok(first) } else { Err(Failure::Input("the two passwords differ; start again".to_owned())) }
}
