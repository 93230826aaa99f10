//! Items: what a message is made of once its elements are gathered: field words, values, and words that stand for
//! themselves.

use crate::language::{Command, Field, Measure, Value};
use crate::terms::StanceKind;
use crate::units::{Quantity as Measured, Unit};

/// A number with its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    pub number: f64,
    pub measure: Option<Measure>,
    /// The unit's word may as well carry nothing ("in", "a"), and gives way where it does not fit.
    pub soft: bool,
    /// Letters glued to the number that are no unit known here, as bytes of the folded text. Small numbers, as quantities
    /// are copied a lot.
    pub unknown_unit: Option<(u32, u32)>,
}

impl Quantity {
    /// The kind of quantity its unit measures.
    pub fn measured(&self) -> Option<Measured> {
        self.measure.map(Measure::quantity)
    }

    pub fn unit(&self) -> Option<Unit> {
        match self.measure {
            Some(Measure::Unit(unit)) => Some(unit),
            _ => None,
        }
    }
}

/// How the numbers of one value are tied together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    One(Quantity),
    /// A number with a dangling times sign, `5 x`: a count.
    Counted(Quantity),
    Range(Quantity, Quantity),
    Product(Quantity, Quantity),
    Clock(u8, u8),
}

/// One value as it was said, as bytes of the folded text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Said {
    pub shape: Shape,
    pub start: usize,
    pub end: usize,
}

/// What values attach to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Head {
    Field(Field),
    Test,
}

/// A field word that stands alone may be an answer by itself, a question, or nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alone {
    Asks,
    Says(Value),
    /// A word beside it tells enough: a small pump, a brushed pump.
    Told,
    /// The field that was asked about, which the message did not name.
    Quiet,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ItemKind {
    Head(Head, Alone),
    /// How the panels stand, with the tilt where it carries a unit.
    Stance(StanceKind, Option<Said>),
    Value {
        said: Said,
        /// This value and the one before, read as one number with a space between its thousands: its place in
        /// [`Items::joined`], as it is rare.
        joined: Option<u16>,
    },
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    pub kind: ItemKind,
    pub start: usize,
    pub end: usize,
    /// How much stands between this item and the one before: commas, line breaks, words not understood.
    pub gap: u32,
    /// The unknown word right after a field word, by its place among the elements.
    pub unknown_after: Option<u32>,
}

/// A word that is an answer by itself, as bytes of the folded text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lone<T> {
    pub what: T,
    pub start: usize,
    pub end: usize,
}

/// A message gathered.
#[derive(Debug, Default)]
pub struct Items<'v> {
    pub items: Vec<Item>,
    /// Pairs of values read as one.
    pub joined: Vec<Said>,
    pub values: Vec<Lone<Value>>,
    pub commands: Vec<Lone<Command>>,
    pub classes: Vec<Lone<&'v str>>,
    pub places: Vec<Lone<()>>,
    /// Places of unknown words among the elements.
    pub unknown: Vec<usize>,
}
