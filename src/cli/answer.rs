//! `noonwater answer`: one message, no database, no state.

use std::path::{Path, PathBuf};

use chrono::{DateTime, NaiveDateTime, Utc};
use serde_json::json;

use super::Failure;
use crate::demo::{PLACE_JSON, PRICES_TOML};
use crate::language::Languages;
use crate::placefile::{self, PlaceFileError};
use crate::pricefile;
use crate::single::{self, Refused, Single};
use crate::talk::Depth;
use crate::turn::World;
use crate::world::{self, WorldError};

/// Answer a message, or several as one talk; print the last reply, or with --json the whole advice and the turn
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater answer 'lift 3 pipe 30 panel 3x100 garden 900'\n  \
                  noonwater answer 'lift 3 pipe 30' 'panel 3x100' 'garden 900'\n  \
                  noonwater answer 'lift 3 pipe 30 panel 3x100' --json --place kito.json\n  \
                  noonwater answer 'lift 3 pipe 30 panel 3x100 pump 12v 9000 l/h 6m 10a test 75 l 60 s at 3' --at 2026-09-10T12:30 --sky hazy")]
pub struct Arguments {
    /// The message, as a grower would send it; several are a talk
    #[arg(required = true, value_name = "TEXT")]
    texts: Vec<String>,
    /// Print the advice as JSON instead of the reply
    #[arg(long)]
    json: bool,
    /// A place file (JSON or TOML) instead of the demo place
    #[arg(long, value_name = "FILE")]
    place: Option<PathBuf>,
    /// The language of the answer; the one the message shows without it
    #[arg(long, value_name = "CODE")]
    lang: Option<String>,
    /// Date and time of the message, by the clocks of the demo place or of the place file's: when a bucket test was made
    #[arg(long, value_name = "YYYY-MM-DDTHH:MM", value_parser = moment_of)]
    at: Option<NaiveDateTime>,
    /// The sky during a bucket test, where the message does not tell
    #[arg(long, value_name = "SKY", value_parser = ["clear", "hazy", "cloudy"])]
    sky: Option<String>,
}

impl From<PlaceFileError> for Refused {
    fn from(error: PlaceFileError) -> Self {
        Self::new(error.code, &error.key, error.sentence)
    }
}

impl From<WorldError> for Refused {
    fn from(error: WorldError) -> Self {
        let field = if matches!(error, WorldError::HomeLanguage(..)) { "lang" } else { "place" };
        Self::new("unknown", field, error.to_string())
    }
}

/// Prints the answer.
pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    match (answer(arguments), arguments.json) {
        (Ok(single), true) => print_json(single),
        (Ok(single), false) => {
            println!("{}", single.text());
            Ok(())
        }
        (Err(refusal), true) => {
            println!("{}", json!({"error": refusal.json()}));
            Err(Failure::Input(refusal.message))
        }
        (Err(refusal), false) => Err(Failure::Input(refusal.message)),
    }
}

/// The advice, or why there is none, with the turn beside it.
fn print_json(single: Single) -> Result<(), Failure> {
    let turn = single.turn_json();
    let advice = single.advice.and_then(|advised| advised.json());
    let (mut value, done) = match advice {
        Ok(advice) => (advice, Ok(())),
        Err(refused) => (json!({"error": refused.json()}), Err(Failure::Input(refused.message))),
    };
    value["turn"] = turn;
    println!("{value}");
    done
}

fn answer(arguments: &Arguments) -> Result<Single, Refused> {
    let world = world_with(arguments.place.as_deref(), arguments.lang.as_deref())?;
    let depth = if arguments.json { Depth::WithFixes } else { Depth::Answer };
    let now = moment(&world, arguments.at);
    let language = arguments.lang.as_deref();
    let (last, before) = arguments.texts.split_last().map_or(("", &[][..]), |(last, before)| (last.as_str(), before));
    let last = with_sky(&world, last, arguments.sky.as_deref());
    if before.is_empty() {
        return single::answer(&world, &last, language, None, depth, now);
    }
    single::answer_talk(&world, (before, &last), language, depth, now)
}

/// The message with a word for the sky, where one was asked for; the last word counts.
fn with_sky(world: &World, text: &str, sky: Option<&str>) -> String {
    let word = sky.and_then(|sky| world.languages.get(&world.home_language)?.word("sky", sky));
    word.map_or_else(|| text.to_owned(), |word| format!("{text} {word}"))
}

/// A date and a time as they are typed.
fn moment_of(typed: &str) -> Result<NaiveDateTime, String> {
    NaiveDateTime::parse_from_str(typed, "%Y-%m-%dT%H:%M")
        .map_err(|_| "write a date and a time such as 2026-09-10T12:30".to_owned())
}

/// A time on the clocks of the home place; now without one.
fn moment(world: &World, at: Option<NaiveDateTime>) -> DateTime<Utc> {
    let now = Utc::now();
    let ahead = *world.local_time(None, now).offset();
    at.and_then(|at| at.and_local_timezone(ahead).single()).map_or(now, |at| at.to_utc())
}

/// The world of the demo place, in these languages.
pub fn world_by(languages: Result<Languages, WorldError>) -> Result<World, Refused> {
    let climate = placefile::parse(PLACE_JSON, false)?;
    let home_place = climate.place.name.clone();
    let prices = pricefile::parse(PRICES_TOML, false).map_err(WorldError::from)?;
    Ok(world::build(languages?, None, vec![climate], &home_place, prices)?)
}

/// A world of one place: that of a file, or the demo place.
pub fn world_with(place: Option<&Path>, language: Option<&str>) -> Result<World, Refused> {
    let climate = match place {
        Some(path) => placefile::read(path)?,
        None => placefile::parse(PLACE_JSON, false)?,
    };
    let home_place = climate.place.name.clone();
    let prices = pricefile::parse(PRICES_TOML, false).map_err(WorldError::from)?;
    Ok(world::build(world::languages(None)?, language, vec![climate], &home_place, prices)?)
}
