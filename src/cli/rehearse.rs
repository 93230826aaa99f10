//! `noonwater rehearse`: the written conversations, played.

use std::path::{Path, PathBuf};

use super::Failure;
use crate::demo::{PLACE_JSON, PRICES_TOML};
use crate::language::shipped;
use crate::placefile;
use crate::pricefile;
use crate::rehearsal::Rehearsal;
use crate::turn::World;
use crate::world::{self, WorldError};

/// Play the written conversations and report each answer that differs
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater rehearse\n  noonwater rehearse dialogs --rewrite")]
pub struct Arguments {
    /// A folder of language folders, each with its rehearsals; those shipped without it
    folder: Option<PathBuf>,
    /// Write today's answers into the files instead of reporting them
    #[arg(long, requires = "folder")]
    rewrite: bool,
}

/// A written conversation: where it stands, and its text.
struct Script {
    name: String,
    text: String,
}

/// Plays them all.
pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    let mut world = world_of(arguments.folder.as_deref())?;
    let scripts = match &arguments.folder {
        Some(folder) => scripts_in(folder)?,
        None => shipped::rehearsals().into_iter().map(|(name, text)| Script { name, text }).collect(),
    };
    if scripts.is_empty() {
        return Err(Failure::Input("no rehearsals were found; name a folder such as dialogs".to_owned()));
    }
    let mut differing = 0;
    for Script { name, text } in &scripts {
        let rehearsal = Rehearsal::read(text).map_err(|error| Failure::Input(format!("{name}, {error}")))?;
        if arguments.rewrite {
            write(Path::new(name), &rehearsal.rewritten(&mut world))?;
            continue;
        }
        for difference in rehearsal.play(&mut world) {
            differing += 1;
            println!("{name}:{}: > {}", difference.line, difference.sent);
            difference.written.iter().for_each(|line| println!("  written {line}"));
            difference.played.iter().for_each(|line| println!("  played  {line}"));
        }
    }
    println!("{} rehearsals, {differing} answers differ", scripts.len());
    if differing == 0 { Ok(()) } else { Err(Failure::Failed("some answers differ from what is written".to_owned())) }
}

fn world_of(folder: Option<&Path>) -> Result<World, Failure> {
    let climate = placefile::parse(PLACE_JSON, false).map_err(WorldError::from)?;
    let home = climate.place.name.clone();
    let prices = pricefile::parse(PRICES_TOML, false).map_err(WorldError::from)?;
    Ok(world::build(world::languages(folder)?, None, vec![climate], &home, prices)?)
}

/// Every `<language>/rehearsals/*.txt` of a folder, in order.
fn scripts_in(folder: &Path) -> Result<Vec<Script>, Failure> {
    let unreadable = |error: std::io::Error| {
        Failure::Input(format!("the folder {} cannot be read ({}); check its path", folder.display(), error.kind()))
    };
    let mut scripts = Vec::new();
    for language in std::fs::read_dir(folder).map_err(unreadable)? {
        let rehearsals = language.map_err(unreadable)?.path().join("rehearsals");
        if !rehearsals.is_dir() {
            continue;
        }
        for file in std::fs::read_dir(rehearsals).map_err(unreadable)? {
            let path = file.map_err(unreadable)?.path();
            if path.extension().is_some_and(|ending| ending == "txt") {
                let text = std::fs::read_to_string(&path).map_err(unreadable)?;
                scripts.push(Script { name: path.display().to_string(), text });
            }
        }
    }
    scripts.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(scripts)
}

fn write(path: &Path, text: &str) -> Result<(), Failure> {
    let unwritable = |error: std::io::Error| format!("{} cannot be written ({})", path.display(), error.kind());
    std::fs::write(path, text).map_err(|error| Failure::Failed(unwritable(error)))
}
