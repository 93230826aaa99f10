//! `noonwater staff` and `noonwater key`: who may sit at the desk, and which machines may ask it.

use std::io::{BufRead, IsTerminal};

use chrono::Utc;
use clap::{Subcommand, ValueEnum};

use super::house::open_store;
use super::{ConfigFile, Failure};
use crate::config;
use crate::desk::frame::member::Role;
use crate::desk::staff::{names, password};
use crate::printable::shown;
use crate::store::{NewKey, NewStaff, Store, StoreError};

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
    /// Give an account another password, asked for or read as above; every session of it ends. A closed account opens again
    #[command(after_help = "Example:\n  noonwater staff password Asha\n  noonwater staff password Baraka < password.txt")]
    Password {
        #[command(flatten)]
        file: ConfigFile,
        /// The name of the account
        name: String,
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
    #[command(after_help = "Example:\n  noonwater key add season-survey --days 90")]
    Add {
        #[command(flatten)]
        file: ConfigFile,
        /// What the key is for
        name: String,
        /// Days after which it opens nothing any more
        #[arg(long, default_value_t = 365, value_parser = clap::value_parser!(u32).range(1..=3650))]
        days: u32,
        /// It also reads who wrote what, for an organisation's own reports
        #[arg(long)]
        reads_records: bool,
    },
}

/// Adds an account, or gives one another password.
pub async fn run(arguments: Arguments) -> Result<(), Failure> {
    let (file, name, role) = match arguments.action {
        Action::Add { file, name, role } => (file, named(&name)?, Some(role)),
        // A name that is there is taken as it is there.
        Action::Password { file, name } => (file, name, None),
    };
    let config = config::read(file.config.as_deref())?;
    let typed = read_password()?;
    password::check(&typed, &name).map_err(|error| Failure::Input(error.to_string()))?;
    let password = password::hash(&typed).map_err(|error| Failure::Input(error.to_string()))?;
    let (database, store) = open_store(&config).await?;
    let done = match role {
        Some(role) => add(&store, &name, role.role(), &password).await,
        None => set_password(&store, &name, &password).await,
    };
    store.close().await;
    database.close().await;
    match done {
        Ok(said) => {
            println!("{}", shown(&said));
            Ok(())
        }
        Err(Failure::Store(StoreError::NameTaken)) => Err(Failure::Input(StoreError::NameTaken.to_string())),
        Err(error) => Err(error),
    }
}

impl RoleName {
    fn role(self) -> Role {
        match self {
            RoleName::Reads => Role::Reads,
            RoleName::Answers => Role::Answers,
            RoleName::Runs => Role::Runs,
        }
    }
}

async fn add(store: &Store, name: &str, role: Role, password: &str) -> Result<String, Failure> {
    let now = Utc::now();
    let mut step = store.begin().await?;
    let others = step.lock_names().await?;
    if !others.iter().any(|other| other.to_lowercase() == name.to_lowercase()) {
        names::unlike(name, others.iter().map(String::as_str)).map_err(|error| Failure::Input(error.to_string()))?;
    }
    step.add_staff(&NewStaff { name, role: role.name(), password, created_at: now }).await?;
    step.note(BY, "added an account", name, now).await?;
    step.commit().await?;
    Ok(format!("added {name}, role {}", role.name()))
}

async fn set_password(store: &Store, name: &str, password: &str) -> Result<String, Failure> {
    let no_such = || Failure::Input(format!("no account is called {name:?}; make it with noonwater staff add"));
    let key = name.trim().to_lowercase();
    let row = store.staff().await?.into_iter().find(|row| row.name.to_lowercase() == key).ok_or_else(no_such)?;
    let now = Utc::now();
    let mut step = store.begin().await?;
    let (is_done, did) = match row.closed_at {
        Some(_) => (step.reopen_staff(row.id, password).await?, "opened an account again"),
        None => (step.set_password(row.id, password, false).await?, "set another's password anew"),
    };
    if !is_done {
        return Err(Failure::Failed("the account was changed meanwhile; look at it and try again".to_owned()));
    }
    step.note(BY, did, &row.name, now).await?;
    step.commit().await?;
    Ok(format!("changed the password of {}; its sessions have ended", row.name))
}

/// Adds a key and prints it.
pub async fn run_key(arguments: KeyArguments) -> Result<(), Failure> {
    let KeyAction::Add { file, name, days, reads_records } = arguments.action;
    let name = named(&name)?;
    let config = config::read(file.config.as_deref())?;
    let key = password::new_key().map_err(|error| Failure::Failed(error.to_string()))?;
    let (database, store) = open_store(&config).await?;
    let done = async {
        let now = Utc::now();
        let mut step = store.begin().await?;
        let key = NewKey { name: &name, key_hash: &password::key_hash(&key), days, reads_records };
        step.add_key(&key, now).await?;
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
    names::name_of(name).map_err(|error| Failure::Input(error.to_string()))
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
