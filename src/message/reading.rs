//! What a message turned out to say.

use serde::{Deserialize, Serialize};

use crate::language::{Answer, Command, Field, Gallon};
use crate::terms::{StanceKind, TestSky, Watering};
use crate::units::{Quantity, Unit};

/// Characters `start..end` of the text as it came in, counted as Unicode scalar values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Span {
    pub start: usize,
    pub end: usize,
}

/// Everything understood in one message, and everything not.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// In the order of the text; one fact a field (a test may come several times).
    pub facts: Vec<Fact>,
    /// What is only asked about, as in "what about 2 inch": compared, and not stored.
    #[serde(default)]
    pub supposed: Vec<Fact>,
    pub commands: Vec<(Command, Span)>,
    /// Fields named with nothing said about them: the grower asks.
    pub asks: Vec<(Field, Span)>,
    /// In the order of the text.
    pub troubles: Vec<Trouble>,
    /// The code of the language whose words were used most, the preferred one on a tie; of the one named, where a
    /// language was named. None when nothing tells.
    pub language: Option<String>,
    /// The language was asked for by its name.
    pub language_named: Option<Span>,
    /// Every word is of that language, and enough of them are not of the talk's own.
    #[serde(default)]
    pub language_is_whole: bool,
    /// A word for one kind of gallon without a number: the answer where the kind was asked for.
    #[serde(default)]
    pub gallon: Option<(Gallon, Span)>,
    /// That there is none of what was asked, or that it is not known.
    #[serde(default)]
    pub answer: Option<(Answer, Span)>,
    /// Mistyped words taken for known ones; a reply echoes them.
    pub assumed_words: Vec<Guess>,
    /// Mistyped words to ask about.
    pub near: Vec<NearMiss>,
    /// It is a sentence, not a sheet: what it asks is not in here.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub is_sentence: bool,
    /// Some of it is a question.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub asks_something: bool,
}

/// One thing told, and where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fact {
    pub value: FactValue,
    pub at: Span,
}

/// What was told, in the units named; only what lies in its possible range (see [`super::limits`]).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FactValue {
    LiftM(f64),
    /// Lift at low water.
    LowM(f64),
    PipeM(f64),
    BoreMm(f64),
    /// As told: a count, a count and the watts of each, or the watts of all.
    Panel {
        count: Option<u32>,
        each_w: Option<f64>,
        total_w: Option<f64>,
    },
    Stance {
        code: StanceKind,
        tilt_deg: Option<f64>,
    },
    Pump(PumpFact),
    /// Height of the pump above the water.
    SuctionM(f64),
    WellLH(f64),
    GardenM2(f64),
    /// A name in [`crate::terms::CROPS`].
    Crop(String),
    /// A name in [`crate::terms::SOILS`].
    Soil(String),
    /// 1 to 12.
    Month(u8),
    Watering(Watering),
    WireM(f64),
    WireMm2(f64),
    /// As typed.
    Place(String),
    Test(TestFact),
}

impl FactValue {
    /// The field that it tells; none for a test, which is no part of the sheet.
    pub fn field(&self) -> Option<Field> {
        Some(match self {
            FactValue::LiftM(_) => Field::Lift,
            FactValue::LowM(_) => Field::Low,
            FactValue::PipeM(_) => Field::Pipe,
            FactValue::BoreMm(_) => Field::Bore,
            FactValue::Panel { .. } => Field::Panel,
            FactValue::Stance { .. } => Field::Stance,
            FactValue::Pump(_) => Field::Pump,
            FactValue::SuctionM(_) => Field::Suction,
            FactValue::WellLH(_) => Field::Well,
            FactValue::GardenM2(_) => Field::Garden,
            FactValue::Crop(_) => Field::Crop,
            FactValue::Soil(_) => Field::Soil,
            FactValue::Month(_) => Field::Month,
            FactValue::Watering(_) => Field::Watering,
            FactValue::WireM(_) | FactValue::WireMm2(_) => Field::Wire,
            FactValue::Place(_) => Field::Place,
            FactValue::Test(_) => return None,
        })
    }
}

impl FactValue {
    /// The names, as JSON has them, of what it tells.
    pub fn names(&self) -> Vec<&'static str> {
        match self {
            FactValue::LiftM(_) => vec!["lift_m"],
            FactValue::LowM(_) => vec!["low_m"],
            FactValue::PipeM(_) => vec!["pipe_m"],
            FactValue::BoreMm(_) => vec!["bore_mm"],
            FactValue::Panel { count, each_w, total_w } => {
                named([("panel_count", count.is_some()), ("panel_w", each_w.is_some() || total_w.is_some())])
            }
            FactValue::Stance { tilt_deg, .. } => named([("stance", true), ("tilt_deg", tilt_deg.is_some())]),
            FactValue::Pump(pump) => named([
                ("pump.label_v", pump.label_v.is_some()),
                ("pump.flow_l_h", pump.flow_l_h.is_some()),
                ("pump.head_m", pump.head_m.is_some()),
                ("pump.amps", pump.amps.is_some()),
                ("pump.electronics", pump.electronics.is_some()),
                ("pump.count", pump.count.is_some()),
                ("pump.class", pump.class.is_some()),
            ]),
            FactValue::SuctionM(_) => vec!["suction_m"],
            FactValue::WellLH(_) => vec!["well_l_h"],
            FactValue::GardenM2(_) => vec!["garden_m2"],
            FactValue::Crop(_) => vec!["crop"],
            FactValue::Soil(_) => vec!["soil"],
            FactValue::Month(_) => vec!["month"],
            FactValue::Watering(_) => vec!["watering"],
            FactValue::WireM(_) => vec!["wire_m"],
            FactValue::WireMm2(_) => vec!["wire_mm2"],
            FactValue::Place(_) => vec!["place"],
            FactValue::Test(_) => vec!["test"],
        }
    }
}

fn named<const N: usize>(parts: [(&'static str, bool); N]) -> Vec<&'static str> {
    parts.into_iter().filter(|(_, is_told)| *is_told).map(|(name, _)| name).collect()
}

/// What was told of the pump, as its label has it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct PumpFact {
    pub label_v: Option<f64>,
    pub flow_l_h: Option<f64>,
    pub head_m: Option<f64>,
    pub amps: Option<f64>,
    /// The pump has a controller of its own.
    pub electronics: Option<bool>,
    /// The pump pushes a fixed volume a turn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub displacement: Option<bool>,
    pub count: Option<u32>,
    /// A class of the deployment's catalogue, by its name there.
    pub class: Option<String>,
}

/// A bucket and a stopwatch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TestFact {
    pub litres: f64,
    pub seconds: f64,
    /// Height of the outlet above the water.
    pub outlet_m: Option<f64>,
    /// Hour and minute of the clock.
    pub clock: Option<(u8, u8)>,
    pub sky: Option<TestSky>,
}

/// Something not understood, or understood and not believed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Trouble {
    pub at: Span,
    pub code: TroubleCode,
    /// The field it concerns, where one was recognised.
    pub field: Option<Field>,
}

/// What the trouble is. Sentences for it live in the language folders under [`TroubleCode::code`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
pub enum TroubleCode {
    /// Words of no language known here.
    NotUnderstood,
    /// Nothing to read at all.
    Empty,
    /// The text goes on past what is looked at.
    TooLong,
    /// The field's name is followed by something that is no number.
    NoNumber,
    /// Outside what is possible; not taken.
    OutOfRange { low: f64, high: f64, value: f64, unit: Option<Unit> },
    /// Possible but seldom; taken, and worth asking back once.
    Unusual { low: f64, high: f64, value: f64, unit: Option<Unit> },
    /// A unit that cannot belong to the field; not taken.
    WrongUnit { unit: Option<Unit>, wants: Quantity },
    /// Letters glued to a number that are no unit known here; not taken.
    UnknownUnit,
    /// A whole number is wanted; not taken.
    NotWhole { value: f64 },
    /// One number is wanted and several are tied together; not taken.
    OneNumber,
    /// US and imperial gallons differ by a fifth; not taken until it is said which.
    WhichGallon { gallons_h: f64 },
    /// A number that could be any of these fields, or of any field when the list is empty; not taken.
    WhichField { fields: Vec<Field>, value: f64 },
    /// The field was told before in the same message with another value; the later one is taken.
    Twice,
    /// The lift at low water is smaller than the lift now; both are taken.
    LowBelowLift { lift_m: f64, low_m: f64 },
    /// A test without its litres or its seconds; not taken.
    TestIncomplete,
}

impl TroubleCode {
    /// Whether something was told and not taken.
    pub fn is_refusal(&self) -> bool {
        !matches!(
            self,
            TroubleCode::NotUnderstood
                | TroubleCode::Empty
                | TroubleCode::TooLong
                | TroubleCode::Unusual { .. }
                | TroubleCode::Twice
                | TroubleCode::LowBelowLift { .. }
        )
    }

    /// A short name, the same as in JSON.
    pub fn code(&self) -> &'static str {
        match self {
            TroubleCode::NotUnderstood => "not_understood",
            TroubleCode::Empty => "empty",
            TroubleCode::TooLong => "too_long",
            TroubleCode::NoNumber => "no_number",
            TroubleCode::OutOfRange { .. } => "out_of_range",
            TroubleCode::Unusual { .. } => "unusual",
            TroubleCode::WrongUnit { .. } => "wrong_unit",
            TroubleCode::UnknownUnit => "unknown_unit",
            TroubleCode::NotWhole { .. } => "not_whole",
            TroubleCode::OneNumber => "one_number",
            TroubleCode::WhichGallon { .. } => "which_gallon",
            TroubleCode::WhichField { .. } => "which_field",
            TroubleCode::Twice => "twice",
            TroubleCode::LowBelowLift { .. } => "low_below_lift",
            TroubleCode::TestIncomplete => "test_incomplete",
        }
    }
}

/// A mistyped word that was taken for a known one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Guess {
    pub at: Span,
    /// The known word, folded.
    pub taken_for: String,
}

/// A mistyped word, with the known words that it could be.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NearMiss {
    pub at: Span,
    /// Folded, in alphabetical order.
    pub could_be: Vec<String>,
}
