//! A field's word alone: what it is and how to measure it; for the pipe which bore and why, for the wire which cable and
//! breaker, once the set is known.

use super::answer::{Depth, answer_sheet, say_wire};
use super::safety::{lines_for, next_of};
use super::say::Say;
use super::state::Asked;
use super::step::Turning;
use super::testing::own_numbers;
use crate::language::Field;

impl Turning<'_> {
    /// Tells about a field, and takes a number alone as its answer next.
    pub(super) fn about(&mut self, field: Field) {
        let advice = match field {
            Field::Wire | Field::Pipe | Field::Bore => answer_sheet(self.world, &self.talk.known, Depth::Answer).ok(),
            _ => None,
        };
        match (advice, field) {
            (Some(advice), Field::Wire) => {
                self.says.extend(say_wire(&advice));
                self.says.extend(own_numbers(&advice));
            }
            (Some(advice), _) => {
                self.says.push(Say::Bore {
                    is_told: self.talk.known.sheet.bore_mm.is_some(),
                    pipe_m: advice.sheet.pipe_m,
                    bore_mm: advice.sheet.bore_mm,
                    pipe_loss_m: advice.bright_noon.pipe_loss_m,
                });
                self.says.extend(own_numbers(&advice));
            }
            (None, field) => self.says.push(Say::About(field)),
        }
        self.talk.asked = Some(Asked::Field { field });
        if let Some(line) = next_of(&self.talk, lines_for(field)) {
            self.says.push(Say::Safety(line));
        }
    }
}
