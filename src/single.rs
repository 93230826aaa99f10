//! One message answered by itself, with no talk before it and none after: for the command line, for lists of many
//! messages and for machines. The reply is that of [`turn`]; beside it stands the whole advice, or why there is none.

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};

use crate::language::Field;
use crate::message::{FactValue, Trouble, TroubleCode};
use crate::outside::turn_json;
use crate::sizing::{Advice, SizingError};
use crate::talk::{AnswerError, Asked, Channel, Depth, Known, Manner, NoSite, PlaceSource, PumpGap, Talk, why_not};
use crate::turn::{Turn, World, turn, turn_to};

/// The longest text that is answered, letters: ten parts of the longest kind, more than any phone sends.
pub const TEXT_MOST: usize = 1600;

/// An input that was refused, in the shape of every JSON error of the program.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    pub code: String,
    pub field: String,
    pub message: String,
}

impl Refused {
    pub fn new(code: &str, field: &str, message: String) -> Self {
        Self { code: code.to_owned(), field: field.to_owned(), message }
    }

    pub fn json(&self) -> Value {
        json!({"code": self.code, "field": self.field, "message": self.message})
    }
}

/// A message's answer: the turn that it got, and the advice that the reply said, or why it said none.
pub struct Single {
    /// The talk before the message.
    pub before: Talk,
    pub turn: Turn,
    pub advice: Result<Box<Advised>, Refused>,
}

impl Single {
    /// The reply's text; empty where nothing is said.
    pub fn text(&self) -> &str {
        self.turn.reply.as_ref().map_or("", |reply| reply.text.as_str())
    }

    /// The turn as JSON.
    pub fn turn_json(&self) -> Value {
        turn_json(&self.before, &self.turn)
    }
}

/// The advice and what was not understood beside it.
pub struct Advised {
    pub advice: Advice,
    place_source: Option<PlaceSource>,
    troubles: Value,
}

impl Advised {
    /// The advice as JSON, with the troubles.
    pub fn json(&self) -> Result<Value, Refused> {
        let value = serde_json::to_value(&self.advice);
        let mut value = value.map_err(|error| Refused::new("failed", "", error.to_string()))?;
        value["place_source"] = json!(self.place_source);
        value["troubles"] = self.troubles.clone();
        Ok(value)
    }
}

/// Refuses a language that the world does not have.
pub fn check_language(world: &World, language: Option<&str>) -> Result<(), Refused> {
    let Some(code) = language.filter(|code| world.languages.get(code).is_none()) else { return Ok(()) };
    let known = world.languages.iter().map(|language| language.code.as_str()).collect::<Vec<_>>().join(", ");
    Err(Refused::new("unknown", "lang", format!("language {code:?} is not known; give one of: {known}")))
}

/// Answers one message in a language (the one it shows without it), at a place (the deployment's own without it); `depth` says
/// how far the advice beside the reply is worked out.
///
/// # Errors
/// A text that no phone could send, a language or a place that the world does not have; everything else is an answer.
pub fn answer(
    world: &World,
    text: &str,
    language: Option<&str>,
    place: Option<&str>,
    depth: Depth,
    now: DateTime<Utc>,
) -> Result<Single, Refused> {
    check_language(world, language)?;
    if text.chars().nth(TEXT_MOST).is_some() {
        let message = format!("text is over {TEXT_MOST} letters, more than a phone sends; shorten it");
        return Err(Refused::new("too_long", "text", message));
    }
    if let Some(name) = place.filter(|name| world.place(name).is_none()) {
        let known = world.place_names().collect::<Vec<_>>().join(", ");
        return Err(Refused::new("unknown", "place", format!("place {name:?} is not known; give one of: {known}")));
    }
    let known = Known { place: place.map(str::to_owned), ..Known::default() };
    let talk = Talk { language: language.map(str::to_owned), known, ..Talk::default() };
    Ok(last_of(world, talk, text, Manner { channel: Channel::Alone, depth }, now))
}

/// Answers several messages as one talk, a minute between them; gives the answer to the last one.
///
/// # Errors
/// A language that the world does not have.
pub fn answer_talk(
    world: &World,
    (before, last): (&[String], &str),
    language: Option<&str>,
    depth: Depth,
    now: DateTime<Utc>,
) -> Result<Single, Refused> {
    check_language(world, language)?;
    let mut talk = Talk { language: language.map(str::to_owned), ..Talk::default() };
    let mut now = now;
    for text in before {
        talk = turn(world, &talk, text, Channel::Sms, now).talk;
        now += TimeDelta::minutes(1);
    }
    Ok(last_of(world, talk, last, Manner { channel: Channel::Sms, depth }, now))
}

fn last_of(world: &World, before: Talk, text: &str, manner: Manner, now: DateTime<Utc>) -> Single {
    let mut turn = turn_to(world, &before, text, manner, now);
    let advice = advised(world, &mut turn).map(Box::new);
    Single { before, turn, advice }
}

/// The advice that a turn said, with what was not understood beside it, or why it said none.
///
/// # Errors
/// A word that lives in a talk; a value that was refused, by its field; what is missing; a question that came back.
pub fn advised(world: &World, turn: &mut Turn) -> Result<Advised, Refused> {
    if let Some(word) = turn.taken.only_in_talk {
        let message = format!("the word {} does something only in a talk by phone; send it from there", word.name());
        return Err(Refused::new("only_in_talk", "text", message));
    }
    if let Some(refused) = turn.taken.troubles.iter().find(|trouble| trouble.code.is_refusal()) {
        return Err(refused_value(refused));
    }
    let known = &turn.talk.known;
    if let Some(advice) = turn.taken.advice.take() {
        let place_source = world.place_source(known.place.as_deref().unwrap_or(&world.home_place));
        return Ok(Advised { advice: *advice, place_source, troubles: troubles_json(turn) });
    }
    match why_not(world, known) {
        Some(error) => Err(refused_sheet(world, &error)),
        None if asks_for_place(&turn.talk) => {
            let how = "import it, or give a town of the atlas or degrees, as in: place -8.2 35.1";
            Err(Refused::new("unknown", "place", format!("the place is not known; {how}")))
        }
        None => {
            let message = "the reply is no answer to a set but asks or tells something; see the reply";
            Err(Refused::new("no_advice", "text", message.to_owned()))
        }
    }
}

/// Whether the reply asks which place was meant.
fn asks_for_place(talk: &Talk) -> bool {
    match &talk.asked {
        Some(Asked::DidYouMean { facts, .. }) => matches!(facts[..], [FactValue::Place(_)]),
        asked => asked.as_ref().and_then(Asked::field) == Some(Field::Place),
    }
}

/// Why a value was not taken, in one sentence for staff and machines.
pub fn refused_value(trouble: &Trouble) -> Refused {
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
    Refused::new(code, field, message)
}

/// Why a sheet gives no advice, in one sentence for staff and machines.
pub fn refused_sheet(world: &World, error: &AnswerError) -> Refused {
    match error {
        AnswerError::UnknownPlace(name) => match world.site(name) {
            Err(NoSite::Spot) => Refused::new(
                "out_of_range",
                "place",
                format!("{name:?} is no spot; give degrees -60 to 60 and -180 to 180, metres -430 to 6000"),
            ),
            Err(NoSite::Near(near)) => {
                Refused::new("unknown", "place", format!("place {name:?} is not known; did you mean {near}?"))
            }
            _ => {
                let how = "import it, or give a town of the atlas or degrees, as in: place -8.2 35.1";
                Refused::new("unknown", "place", format!("place {name:?} is not known; {how}"))
            }
        },
        AnswerError::NoSet => Refused::new("no_set", "garden", "no set waters that garden; name a smaller one".to_owned()),
        AnswerError::Pump(PumpGap::HalfALabel) => {
            Refused::new("missing", "pump", "the pump's flow or head is missing; give both".to_owned())
        }
        AnswerError::Pump(PumpGap::UnknownClass) => {
            Refused::new("unknown", "pump", "that pump class is not known; give volts, l/h and metres".to_owned())
        }
        AnswerError::Sizing(error) => {
            let message = match error {
                SizingError::OutOfRange { name, value, low, high } => {
                    format!("{name} {value} is out of range; give {low} to {high}")
                }
                SizingError::Unknown { name, value } => format!("{name} {value:?} is not known"),
                SizingError::Missing { name } => format!("{name} is missing; add it to the message"),
                SizingError::MainsPump => {
                    "a pump of 100 V or more is an electrician's work; nothing here is sized for it".to_owned()
                }
            };
            Refused::new(error.code(), error.name(), message)
        }
    }
}

fn troubles_json(turn: &Turn) -> Value {
    let told = turn.taken.troubles.iter().map(|trouble| {
        json!({
            "at": trouble.at.start,
            "code": trouble.code.code(),
            "field": trouble.field.map(|field| field.name()),
        })
    });
    let near = turn.taken.near.iter().map(|near| json!({"at": near.at.start, "code": "near_miss", "field": null}));
    told.chain(near).collect()
}
