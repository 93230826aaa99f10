//! Unusual values in words: asked back, or named where nobody can be asked.

use super::refusal::refused;
use super::wording::Words;
use crate::language::{Field, ReplyTrouble};
use crate::message::{Trouble, TroubleCode};

impl Words<'_> {
    pub fn is_it_right(&self, trouble: &Trouble) -> Result<Vec<String>, ReplyTrouble> {
        let field = trouble.field.unwrap_or(Field::Lift);
        let field_word = self.language.field(field).unwrap_or_default();
        match &trouble.code {
            TroubleCode::LowBelowLift { lift_m, low_m } => {
                self.wordings("low-below-lift", &[("low", self.number(*low_m)), ("lift", self.number(*lift_m))])
            }
            TroubleCode::Unusual { value, unit, .. } => {
                let unit = unit.and_then(|unit| self.language.unit(unit)).unwrap_or_default();
                self.wordings(
                    "is-it-right",
                    &[("field", field_word.into()), ("value", self.number(*value)), ("unit", unit.into())],
                )
            }
            _ => refused(self.language, trouble),
        }
    }

    /// The same where nobody can be asked.
    pub fn unusual(&self, trouble: &Trouble) -> Result<Vec<String>, ReplyTrouble> {
        match &trouble.code {
            TroubleCode::LowBelowLift { lift_m, low_m } => {
                self.wordings("unusual-low", &[("low", self.number(*low_m)), ("lift", self.number(*lift_m))])
            }
            TroubleCode::Unusual { value, unit, .. } => {
                let field = trouble.field.and_then(|field| self.language.field(field)).unwrap_or_default();
                let unit = unit.and_then(|unit| self.language.unit(unit)).unwrap_or_default();
                let values = [("field", field.into()), ("value", self.number(*value)), ("unit", unit.into())];
                self.wordings("unusual", &values)
            }
            _ => refused(self.language, trouble),
        }
    }
}
