//! What a word can mean. A word may carry several meanings at once where the grammar can tell them apart by what stands
//! around it: a hose is a pipe when a length follows and a way of watering when none does.

use crate::units::{Quantity, Unit};

use super::field::{Answer, Command, Field, Gallon};
use crate::terms::{StanceKind, TestSky, Watering};

/// What a number is counted in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    Unit(Unit),
    /// A garden measure of one language, in square metres.
    OwnArea(f64),
}

impl Measure {
    /// The kind of quantity it measures.
    pub fn quantity(self) -> Quantity {
        match self {
            Measure::Unit(unit) => unit.quantity(),
            Measure::OwnArea(_) => Quantity::Area,
        }
    }

    /// How many base units (see [`Unit::in_base`]) one of it is.
    pub fn in_base(self) -> f64 {
        match self {
            Measure::Unit(unit) => unit.in_base(),
            Measure::OwnArea(square_metres) => square_metres,
        }
    }
}

/// A word that is a whole answer by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Value {
    Stance(StanceKind),
    Watering(Watering),
    /// A place in [`crate::terms::CROPS`].
    Crop(u8),
    /// A place in [`crate::terms::SOILS`].
    Soil(u8),
    /// 1 to 12.
    Month(u8),
    /// Whether the pump has a controller of its own.
    Electronics(bool),
    /// Whether the pump pushes a fixed volume a turn.
    Displacement(bool),
    Sky(TestSky),
    Gallon(Gallon),
    Answer(Answer),
}

/// A word that ties numbers together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joiner {
    Times,
    Range,
    Per,
    At,
    /// What stands before it is how far something is above the water: a pump's suction.
    AboveWater,
}

/// One meaning, as one table of a language folder gives it.
#[derive(Debug, Clone, PartialEq)]
pub enum Meaning {
    Field(Field),
    Measure(Measure),
    Value(Value),
    Command(Command),
    Number(f64),
    /// A class of pump, by the deployment's name for it.
    Class(String),
    Joiner(Joiner),
    /// The name of a language.
    Language,
    Filler,
}

/// All that one word means in one language.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Meanings {
    pub field: Option<Field>,
    pub measure: Option<Measure>,
    pub value: Option<Value>,
    pub command: Option<Command>,
    pub number: Option<f64>,
    pub class: Option<String>,
    pub joiner: Option<Joiner>,
    pub language: bool,
    pub filler: bool,
}

impl Meanings {
    /// Adds a meaning; false, and nothing changed, where the grammar could not tell it from one already there.
    #[must_use]
    pub fn add(&mut self, meaning: Meaning) -> bool {
        if !self.allows(&meaning) {
            return false;
        }
        match meaning {
            Meaning::Field(field) => put(&mut self.field, field),
            Meaning::Measure(measure) => put(&mut self.measure, measure),
            Meaning::Value(value) => put(&mut self.value, value),
            Meaning::Command(command) => put(&mut self.command, command),
            Meaning::Number(number) => put(&mut self.number, number),
            Meaning::Class(class) => put(&mut self.class, class),
            Meaning::Joiner(joiner) => put(&mut self.joiner, joiner),
            Meaning::Language => {
                self.language = true;
                true
            }
            Meaning::Filler => {
                self.filler = true;
                true
            }
        }
    }

    /// Pairs of meanings that context tells apart: a field from a value (a number stands beside the field), a unit from
    /// a joiner or filler (a number stands before the unit), a joiner or a class from a filler, and a value from a
    /// filler (the value stands alone or beside its field).
    fn allows(&self, meaning: &Meaning) -> bool {
        let Meanings { field, measure, value, command, number, class, joiner, language, filler } = self;
        let others = [
            field.is_some(),
            measure.is_some(),
            value.is_some(),
            command.is_some(),
            number.is_some(),
            class.is_some(),
            joiner.is_some(),
            *language,
            *filler,
        ];
        // Positions in `others` that the meaning may stand beside, its own among them.
        let beside: &[usize] = match meaning {
            Meaning::Field(_) => &[0, 2],
            Meaning::Measure(_) => &[1, 6, 8],
            Meaning::Value(_) => &[2, 0, 8],
            Meaning::Command(_) => &[3],
            Meaning::Number(_) => &[4],
            Meaning::Class(_) => &[5, 8],
            Meaning::Joiner(_) => &[6, 1, 8],
            Meaning::Language => &[7],
            Meaning::Filler => &[8, 1, 2, 5, 6],
        };
        others.iter().enumerate().all(|(at, &taken)| !taken || beside.contains(&at))
    }
}

fn put<T: PartialEq>(slot: &mut Option<T>, value: T) -> bool {
    match slot {
        Some(old) => *old == value,
        None => {
            *slot = Some(value);
            true
        }
    }
}
