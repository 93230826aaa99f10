//! Which gallons the number was of that waits for it.

use super::state::Asked;
use crate::language::Field;
use crate::message::limits::Kind;
use crate::message::{FactValue, PumpFact, Reading, Trouble, TroubleCode};

/// The question that a refused value leaves: which gallons, or the field itself.
pub fn asked_after(refused: &Trouble) -> Option<Asked> {
    let field = refused.field?;
    Some(match refused.code {
        TroubleCode::WhichGallon { gallons_h } => Asked::Gallon { field, gallons_h },
        _ => Asked::Field { field },
    })
}

/// The flow that was told before, once the word for its gallons has come alone.
pub fn settled(asked: Option<&Asked>, reading: &Reading) -> Option<FactValue> {
    let (Some(&Asked::Gallon { field, gallons_h }), Some((gallon, _))) = (asked, reading.gallon) else { return None };
    let flow_l_h = gallons_h * gallon.unit().in_base();
    match field {
        Field::Well => Kind::Well.possible(flow_l_h).then_some(FactValue::WellLH(flow_l_h)),
        _ => {
            let pump = PumpFact { flow_l_h: Some(flow_l_h), ..PumpFact::default() };
            Kind::PumpFlow.possible(flow_l_h).then_some(FactValue::Pump(pump))
        }
    }
}
