//! The sentence for a value that was not taken: which field, and what would be.

use super::numbers::plain;
use crate::language::{Language, ReplyTrouble, ReplyValue as Value};
use crate::message::limits::LIMITS;
use crate::message::{Trouble, TroubleCode};
use crate::units::Unit;

/// Wordings of a refusal.
pub fn refused(language: &Language, trouble: &Trouble) -> Result<Vec<String>, ReplyTrouble> {
    let number = |value: f64| -> Value<'static> { language.numbers.write(plain(value)).into() };
    let unit_word = |unit: Option<Unit>| -> Value<'static> {
        unit.and_then(|unit| language.unit(unit)).unwrap_or_default().to_owned().into()
    };
    let field: Value<'static> = trouble.field.and_then(|field| language.field(field)).unwrap_or_default().to_owned().into();
    let say = |key: &str, values: &[(&str, Value<'_>)]| language.replies.wordings(key, values);
    match &trouble.code {
        TroubleCode::OutOfRange { low, high, value, unit } => say(
            "refused-range",
            &[
                ("field", field),
                ("value", number(*value)),
                ("low", number(*low)),
                ("high", number(*high)),
                ("unit", unit_word(*unit)),
            ],
        ),
        TroubleCode::WrongUnit { wants, .. } => {
            say("refused-unit", &[("field", field), ("unit", unit_word(Some(wants.base_unit())))])
        }
        TroubleCode::UnknownUnit => {
            let unit = LIMITS.iter().find(|limit| limit.field == trouble.field).and_then(|limit| limit.unit);
            say("refused-unknown-unit", &[("field", field), ("unit", unit_word(unit))])
        }
        TroubleCode::NotWhole { .. } => say("refused-whole", &[("field", field)]),
        TroubleCode::OneNumber => say("refused-one", &[("field", field)]),
        TroubleCode::Twice => say("refused-twice", &[("field", field)]),
        TroubleCode::WhichGallon { gallons_h } => say(
            "refused-gallon",
            &[
                ("us", number((gallons_h * Unit::UsGallonPerHour.in_base()).round())),
                ("imperial", number((gallons_h * Unit::ImperialGallonPerHour.in_base()).round())),
            ],
        ),
        TroubleCode::WhichField { value, .. } => say("refused-which", &[("value", number(*value))]),
        TroubleCode::TestIncomplete => say("refused-test", &[]),
        TroubleCode::NoNumber
        | TroubleCode::NotUnderstood
        | TroubleCode::Empty
        | TroubleCode::TooLong
        | TroubleCode::Unusual { .. }
        | TroubleCode::LowBelowLift { .. } => say("refused-no-number", &[("field", field)]),
    }
}
