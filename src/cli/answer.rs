//! `noonwater answer`: one message, no database, no state.

use std::path::PathBuf;

use chrono::Utc;
use serde_json::{Value, json};

use super::Failure;
use crate::demo::{PLACE_JSON, PRICES_TOML};
use crate::message::{Reading, Trouble, TroubleCode};
use crate::placefile::{self, PlaceFileError};
use crate::pricefile;
use crate::sizing::{Climate, SizingError};
use crate::talk::{AnswerError, Channel, Depth, Known, NoSite, PumpGap, Talk, answer_sheet, read};
use crate::turn::{World, turn};
use crate::world::{self, WorldError};

/// Answer one message and print the reply, or with --json the whole advice
#[derive(clap::Args)]
#[command(after_help = "Example:\n  noonwater answer 'lift 5 pipe 40 panel 5x80 garden 1500'\n  \
                  noonwater answer 'lift 5 pipe 40 panel 5x80' --json --place kito.json")]
pub struct Arguments {
    /// The message, as a grower would send it
    text: String,
    /// Print the advice as JSON instead of the reply
    #[arg(long)]
    json: bool,
    /// A place file (JSON or TOML) instead of the demo place
    #[arg(long, value_name = "FILE")]
    place: Option<PathBuf>,
    /// The language of the answer; the one the message shows without it
    #[arg(long, value_name = "CODE")]
    lang: Option<String>,
}

/// An input that was refused, in the shape of every JSON error of the program.
struct Refusal {
    code: String,
    field: String,
    message: String,
}

impl Refusal {
    fn new(code: &str, field: &str, message: String) -> Self {
        Self { code: code.to_owned(), field: field.to_owned(), message }
    }
}

impl From<PlaceFileError> for Refusal {
    fn from(error: PlaceFileError) -> Self {
        Self { code: error.code.to_owned(), field: error.key, message: error.sentence }
    }
}

impl From<WorldError> for Refusal {
    fn from(error: WorldError) -> Self {
        let field = if matches!(error, WorldError::HomeLanguage(..)) { "lang" } else { "place" };
        Self::new("unknown", field, error.to_string())
    }
}

/// Prints the answer.
pub fn run(arguments: &Arguments) -> Result<(), Failure> {
    match (answer(arguments), arguments.json) {
        (Ok(text), _) => {
            println!("{text}");
            Ok(())
        }
        (Err(refusal), true) => {
            println!("{}", json!({"error": {"code": refusal.code, "field": refusal.field, "message": refusal.message}}));
            Err(Failure::Input(refusal.message))
        }
        (Err(refusal), false) => Err(Failure::Input(refusal.message)),
    }
}

fn answer(arguments: &Arguments) -> Result<String, Refusal> {
    let climate = match &arguments.place {
        Some(path) => placefile::read(path)?,
        None => placefile::parse(PLACE_JSON, false)?,
    };
    let world = world_of(climate, arguments.lang.as_deref())?;
    if arguments.json {
        return advice_json(&world, &arguments.text).map(|advice| advice.to_string());
    }
    let talk = Talk { language: arguments.lang.clone(), ..Talk::default() };
    let turn = turn(&world, &talk, &arguments.text, Channel::Sms, Utc::now());
    Ok(turn.reply.map(|reply| reply.text).unwrap_or_default())
}

fn world_of(climate: Climate, language: Option<&str>) -> Result<World, Refusal> {
    let home_place = climate.place.name.clone();
    let prices = pricefile::parse(PRICES_TOML, false).map_err(WorldError::from)?;
    Ok(world::build(world::languages(None)?, language, vec![climate], &home_place, prices)?)
}

/// The advice with what was not understood beside it; a value that was refused is an error that names its field.
fn advice_json(world: &World, text: &str) -> Result<Value, Refusal> {
    let reading = read(text, &world.languages, &world.home_language, None);
    if let Some(refused) = reading.troubles.iter().find(|trouble| trouble.code.is_refusal()) {
        return Err(refusal_of(refused));
    }
    let mut known = Known::default();
    for fact in &reading.facts {
        known.tell(&fact.value);
    }
    let advice = answer_sheet(world, &known, Depth::WithFixes).map_err(|error| refusal_of_answer(world, &error))?;
    let mut value = serde_json::to_value(&advice).map_err(|error| Refusal::new("failed", "", error.to_string()))?;
    value["place_source"] = json!(world.place_source(known.place.as_deref().unwrap_or(&world.home_place)));
    value["troubles"] = troubles_json(&reading);
    Ok(value)
}

fn refusal_of(trouble: &Trouble) -> Refusal {
    let field = trouble.field.map_or("text", |field| field.name());
    let code = trouble.code.code();
    let at = format!("characters {} to {}", trouble.at.start, trouble.at.end);
    let message = match &trouble.code {
        TroubleCode::OutOfRange { low, high, value, unit } => {
            let unit = unit.map(|unit| format!(" {}", unit.name())).unwrap_or_default();
            format!("{field} {value} is out of range; give {low} to {high}{unit} ({at})")
        }
        other => format!("{field}: {}; correct {at}", other.code()),
    };
    Refusal::new(code, field, message)
}

fn refusal_of_answer(world: &World, error: &AnswerError) -> Refusal {
    match error {
        AnswerError::UnknownPlace(name) => match world.site(name) {
            Err(NoSite::Spot) => Refusal::new(
                "out_of_range",
                "place",
                format!("{name:?} is no spot; give degrees -60 to 60 and -180 to 180, metres -430 to 6000"),
            ),
            Err(NoSite::Near(near)) => {
                Refusal::new("unknown", "place", format!("place {name:?} is not known; did you mean {near}?"))
            }
            _ => {
                let how = "name its file with --place, or give a town of the atlas or degrees, as in: place -8.2 35.1";
                Refusal::new("unknown", "place", format!("place {name:?} is not known; {how}"))
            }
        },
        AnswerError::Pump(PumpGap::HalfALabel) => {
            Refusal::new("missing", "pump", "the pump's flow or head is missing; give both".to_owned())
        }
        AnswerError::Pump(PumpGap::UnknownClass) => {
            Refusal::new("unknown", "pump", "that pump class is not known; give volts, l/h and metres".to_owned())
        }
        AnswerError::NoSet => {
            Refusal::new("no_set", "garden", "no set of one pump waters that garden; name a smaller one".to_owned())
        }
        AnswerError::Sizing(error) => {
            let message = match error {
                SizingError::OutOfRange { name, value, low, high } => {
                    format!("{name} {value} is out of range; give {low} to {high}")
                }
                SizingError::Unknown { name, value } => format!("{name} {value:?} is not known"),
                SizingError::Missing { name } => format!("{name} is missing; add it to the message"),
            };
            Refusal::new(error.code(), error.name(), message)
        }
    }
}

fn troubles_json(reading: &Reading) -> Value {
    let told = reading.troubles.iter().map(|trouble| {
        json!({
            "at": trouble.at.start,
            "code": trouble.code.code(),
            "field": trouble.field.map(|field| field.name()),
        })
    });
    let near = reading.near.iter().map(|near| json!({"at": near.at.start, "code": "near_miss", "field": null}));
    told.chain(near).collect()
}
