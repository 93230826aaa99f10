//! What can be wrong with an input of the sizing engine: a name, a value and the range, no sentence.

use thiserror::Error;

/// An input that the engine refuses. The display form is for logs and operators; growers get their folder's words.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SizingError {
    #[error("{name}={value} outside {low}..{high}")]
    OutOfRange { name: &'static str, value: f64, low: f64, high: f64 },
    #[error("{name}={value} unknown")]
    Unknown { name: &'static str, value: String },
    #[error("{name} missing")]
    Missing { name: &'static str },
    /// A pump of mains voltage, of alternating current, or told in horsepower: nothing here is sized for it.
    #[error("pump of mains voltage")]
    MainsPump,
}

impl SizingError {
    /// Short code for JSON and for the language folders.
    pub fn code(&self) -> &'static str {
        match self {
            SizingError::OutOfRange { .. } => "out_of_range",
            SizingError::Unknown { .. } => "unknown",
            SizingError::Missing { .. } => "missing",
            SizingError::MainsPump => "mains_pump",
        }
    }

    /// The input that is wrong.
    pub fn name(&self) -> &'static str {
        match self {
            SizingError::OutOfRange { name, .. } | SizingError::Unknown { name, .. } | SizingError::Missing { name } => {
                name
            }
            SizingError::MainsPump => "pump",
        }
    }
}

/// The value itself when it lies in `low..=high`, else the error that names it; NaN is out of every range.
pub fn within(name: &'static str, value: f64, low: f64, high: f64) -> Result<f64, SizingError> {
    if value >= low && value <= high { Ok(value) } else { Err(SizingError::OutOfRange { name, value, low, high }) }
}
