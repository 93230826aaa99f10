//! A field's word alone: what it is and how to measure it; for the pipe which bore and why, for the wire which cable and
//! breaker, once the set is known.

use super::advising::{Depth, answer_sheet};
use super::answer::say_wire;
use super::safety::{lines_for, next_of};
use super::say::Say;
use super::state::Talk;
use super::testing::own_numbers;
use super::world::World;
use crate::language::Field;

/// What there is to say about a field.
pub fn about(world: &World, talk: &Talk, field: Field) -> Vec<Say> {
    let advice = match field {
        Field::Wire | Field::Pipe | Field::Bore => answer_sheet(world, &talk.known, Depth::Answer).ok(),
        _ => None,
    };
    let mut says = Vec::new();
    match &advice {
        Some(advice) if field == Field::Wire => says.extend(say_wire(advice)),
        Some(advice) => says.push(Say::Bore {
            is_told: talk.known.sheet.bore_mm.is_some(),
            pipe_m: advice.sheet.pipe_m,
            bore_mm: advice.sheet.bore_mm,
            pipe_loss_m: advice.bright_noon.pipe_loss_m,
        }),
        None => says.push(Say::About(field)),
    }
    says.extend(advice.as_ref().and_then(own_numbers));
    says.extend(next_of(talk, lines_for(field)).map(Say::Safety));
    says
}
