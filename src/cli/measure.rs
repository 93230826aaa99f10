//! `noonwater measure`: messages written by hand with what should come of them, against what comes of them.

use std::path::PathBuf;

use super::Failure;
use super::measured::{misses, report};
use crate::measure::{self, Corpus, Half};
use crate::world;

/// Answer the messages of a folder of corpora and print how many came out as meant
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater measure tests/data/people\n  \
                  noonwater measure tests/data/people --list shape --lang en")]
pub struct Arguments {
    /// A folder with one CSV file for each language, named by its code
    folder: PathBuf,
    /// Language folders to answer by, beside those shipped
    #[arg(long, value_name = "FOLDER")]
    dialogs: Option<PathBuf>,
    /// Only this language's corpus
    #[arg(long, value_name = "CODE")]
    lang: Option<String>,
    /// Also print each message of this half that did not come out as meant
    #[arg(long, value_name = "HALF", value_parser = half)]
    list: Option<Half>,
    /// Only messages of this kind in that list
    #[arg(long, value_name = "KIND")]
    kind: Option<String>,
}

fn half(typed: &str) -> Result<Half, String> {
    Half::ALL.into_iter().find(|half| half.name() == typed).ok_or_else(|| "write shape or measure".to_owned())
}

/// Prints the figures.
pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    let world = super::answer::world_by(world::languages(arguments.dialogs.as_deref()))
        .map_err(|refused| Failure::Input(refused.message))?;
    let unreadable = |error: &dyn std::fmt::Display| Failure::Input(format!("{}: {error}", arguments.folder.display()));
    let mut files: Vec<PathBuf> = std::fs::read_dir(&arguments.folder)
        .and_then(|entries| entries.map(|entry| entry.map(|entry| entry.path())).collect())
        .map_err(|error| unreadable(&error))?;
    files.retain(|file| file.extension().is_some_and(|ending| ending == "csv"));
    files.sort();
    let mut measured = 0;
    for file in files {
        let code = file.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        if arguments.lang.as_ref().is_some_and(|only| *only != code) {
            continue;
        }
        let bytes = std::fs::read(&file).map_err(|error| unreadable(&error))?;
        let corpus = Corpus::read(&code, &bytes).map_err(|error| unreadable(&error))?;
        let outcomes = measure::measure(&world, &corpus);
        for line in report(&corpus, &outcomes) {
            println!("{line}");
        }
        if let Some(half) = arguments.list {
            for line in misses(&corpus, &outcomes, half, arguments.kind.as_deref()) {
                println!("{line}");
            }
        }
        measured += 1;
    }
    if measured == 0 {
        return Err(Failure::Input(format!(
            "{} holds no corpus; give a folder with en.csv and the like",
            arguments.folder.display()
        )));
    }
    Ok(())
}
