//! Physical quantities, the units growers write them in, and the one place where they are converted.
//!
//! Inside the program everything is SI or the unit named in a variable (`lift_m`, `flow_l_h`). A [`Unit`] exists only
//! between the text a grower typed and the number that the rest of the program works with.

use serde::{Deserialize, Serialize};

/// Standard acceleration of gravity, m/s² (ISO 80000-3: 9.80665, exact by definition).
pub const GRAVITY_M_S2: f64 = 9.806_65;

/// Zero of the Celsius scale in kelvin (exact by definition).
pub const ZERO_CELSIUS_K: f64 = 273.15;

/// What kind of quantity a unit measures; a unit of the wrong kind for a field is a trouble, never a guess.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    Length,
    Area,
    CrossSection,
    Power,
    Flow,
    Volume,
    Time,
    Voltage,
    Current,
    Angle,
}

/// A unit that a message may carry. The words for it live in the language folders under the name serde gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    Metre,
    Centimetre,
    Millimetre,
    Foot,
    Inch,
    /// A pace of whoever measures the ground (practice: 0.7 m).
    Step,
    SquareMetre,
    SquareFoot,
    Hectare,
    Acre,
    SquareMillimetre,
    Watt,
    Kilowatt,
    LitrePerHour,
    LitrePerMinute,
    LitrePerSecond,
    CubicMetrePerHour,
    UsGallonPerHour,
    ImperialGallonPerHour,
    /// A gallon an hour of a kind that was not said; the two differ by a fifth, so the grower is asked.
    GallonPerHour,
    Litre,
    Second,
    Minute,
    Hour,
    Volt,
    Ampere,
    Degree,
}

impl Unit {
    /// Every unit.
    pub const ALL: [Unit; 27] = {
        use Unit::*;
        [
            Metre,
            Centimetre,
            Millimetre,
            Foot,
            Inch,
            Step,
            SquareMetre,
            SquareFoot,
            Hectare,
            Acre,
            SquareMillimetre,
            Watt,
            Kilowatt,
            LitrePerHour,
            LitrePerMinute,
            LitrePerSecond,
            CubicMetrePerHour,
            UsGallonPerHour,
            ImperialGallonPerHour,
            GallonPerHour,
            Litre,
            Second,
            Minute,
            Hour,
            Volt,
            Ampere,
            Degree,
        ]
    };

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        use Unit::*;
        match self {
            Metre => "metre",
            Centimetre => "centimetre",
            Millimetre => "millimetre",
            Foot => "foot",
            Inch => "inch",
            Step => "step",
            SquareMetre => "square_metre",
            SquareFoot => "square_foot",
            Hectare => "hectare",
            Acre => "acre",
            SquareMillimetre => "square_millimetre",
            Watt => "watt",
            Kilowatt => "kilowatt",
            LitrePerHour => "litre_per_hour",
            LitrePerMinute => "litre_per_minute",
            LitrePerSecond => "litre_per_second",
            CubicMetrePerHour => "cubic_metre_per_hour",
            UsGallonPerHour => "us_gallon_per_hour",
            ImperialGallonPerHour => "imperial_gallon_per_hour",
            GallonPerHour => "gallon_per_hour",
            Litre => "litre",
            Second => "second",
            Minute => "minute",
            Hour => "hour",
            Volt => "volt",
            Ampere => "ampere",
            Degree => "degree",
        }
    }

    /// The kind of quantity this unit measures.
    pub fn quantity(self) -> Quantity {
        use Unit::*;
        match self {
            Metre | Centimetre | Millimetre | Foot | Inch | Step => Quantity::Length,
            SquareMetre | SquareFoot | Hectare | Acre => Quantity::Area,
            SquareMillimetre => Quantity::CrossSection,
            Watt | Kilowatt => Quantity::Power,
            LitrePerHour
            | LitrePerMinute
            | LitrePerSecond
            | CubicMetrePerHour
            | UsGallonPerHour
            | ImperialGallonPerHour
            | GallonPerHour => Quantity::Flow,
            Litre => Quantity::Volume,
            Second | Minute | Hour => Quantity::Time,
            Volt => Quantity::Voltage,
            Ampere => Quantity::Current,
            Degree => Quantity::Angle,
        }
    }

    /// How many base units one of this unit is. Base units: m, m², mm², W, L/h, L, s, V, A, degree.
    ///
    /// Feet, inches, acres and both gallons are exact by definition (international yard and pound agreement 1959;
    /// US gallon 231 in³; imperial gallon 4.54609 L). A bare gallon is taken as the US one, 3.785 L, until asked.
    pub fn in_base(self) -> f64 {
        use Unit::*;
        match self {
            Metre | SquareMetre | SquareMillimetre | Watt | LitrePerHour | Litre | Second | Volt | Ampere | Degree => 1.0,
            Centimetre => 0.01,
            Millimetre => 0.001,
            Foot => 0.3048,
            Inch => 0.0254,
            Step => 0.7,
            SquareFoot => 0.092_903_04,
            Hectare => 10_000.0,
            Acre => 4_046.856_422_4,
            Kilowatt => 1_000.0,
            LitrePerMinute => 60.0,
            LitrePerSecond => 3_600.0,
            CubicMetrePerHour => 1_000.0,
            UsGallonPerHour | GallonPerHour => 3.785_411_784,
            ImperialGallonPerHour => 4.546_09,
            Minute => 60.0,
            Hour => 3_600.0,
        }
    }
}

impl Quantity {
    /// The unit in which the program keeps the quantity.
    pub fn base_unit(self) -> Unit {
        match self {
            Quantity::Length => Unit::Metre,
            Quantity::Area => Unit::SquareMetre,
            Quantity::CrossSection => Unit::SquareMillimetre,
            Quantity::Power => Unit::Watt,
            Quantity::Flow => Unit::LitrePerHour,
            Quantity::Volume => Unit::Litre,
            Quantity::Time => Unit::Second,
            Quantity::Voltage => Unit::Volt,
            Quantity::Current => Unit::Ampere,
            Quantity::Angle => Unit::Degree,
        }
    }
}

/// Litres an hour as cubic metres a second.
pub fn m3_s_from_l_h(flow_l_h: f64) -> f64 {
    flow_l_h / 3.6e6
}

/// Cubic metres a second as litres an hour.
pub fn l_h_from_m3_s(flow_m3_s: f64) -> f64 {
    flow_m3_s * 3.6e6
}

/// Cubic metres a second as litres a minute.
pub fn l_min_from_m3_s(flow_m3_s: f64) -> f64 {
    flow_m3_s * 6.0e4
}
