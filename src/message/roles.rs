//! What a value can be to a field, and how its unit stands to what the field wants.

use crate::units::Quantity as Measured;

use super::items::Quantity;
use super::limits::Kind;

/// Most values that one field takes (a pump's label with a thousands group apart).
pub const MOST: usize = 6;

/// What a value is to its field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    Take(Kind),
    /// Both ends of a range: the lift now and at low water.
    NowAndLow,
    /// Inches on top of the feet before.
    Inches,
    /// Length times width.
    Area,
    /// A count times a number of that kind, in either order.
    CountTimes(Kind),
    /// A pipe's length and bore, tied by a times sign, in either order.
    LengthAndBore,
    Clock,
    /// The unit cannot belong.
    WrongUnit(Measured),
    /// Tied numbers where one is wanted.
    OneNumber,
}

/// The roles of a group of values and what taking them so costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fit {
    pub roles: [Role; MOST],
    pub cost: u32,
}

/// How the unit of a quantity stands to what is wanted.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Match {
    Right,
    Bare,
    Wrong,
}

pub fn matches(quantity: &Quantity, wants: Measured) -> Match {
    match quantity.measured() {
        None => Match::Bare,
        Some(measured) if measured == wants => Match::Right,
        Some(_) if quantity.soft => Match::Bare,
        Some(_) => Match::Wrong,
    }
}

pub fn bare(quantity: &Quantity) -> bool {
    quantity.measure.is_none() || quantity.soft
}

pub fn whole(number: f64) -> bool {
    number.fract() == 0.0 && number > 0.0
}
