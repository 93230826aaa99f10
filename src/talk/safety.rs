//! Which line of caution a message carries: one that belongs to what it is about, and of those the one that this grower
//! has not seen for longest, so that all are seen.

use super::safety_line::Safety;
use super::say::Say;
use super::state::Talk;
use crate::language::Field;

/// The lines for a field that was asked about.
pub fn lines_for(field: Field) -> &'static [Safety] {
    use Safety::*;
    match field {
        Field::Wire => &[DcBreaker],
        Field::Panel | Field::Stance => &[PanelsLive, TwoPeople, Storm, Electrician],
        Field::Pump => &[SwitchOff, InWater, NeverDry, DryJoints, Plug],
        Field::Suction => &[NeverDry, SwitchOff, Children, Poison],
        Field::Well => &[Well, NeverDry, Children, Electrician],
        Field::Lift | Field::Low => &[Children, InWater, SwitchOff, DryJoints],
        Field::Pipe | Field::Bore => &[SwitchOff, DryJoints],
        Field::Garden | Field::Crop | Field::Soil | Field::Month | Field::Watering | Field::Place => {
            &[NotDrink, Children, Poison, SwitchOff]
        }
    }
}

/// The line whose turn it is among these.
pub fn next_of(talk: &Talk, lines: &[Safety]) -> Option<Safety> {
    lines.iter().copied().min_by_key(|line| talk.safety_seen.iter().position(|seen| seen == line).map_or(0, |at| at + 1))
}

/// The line whose turn it is among all of them.
pub fn line_in_turn(talk: &Talk) -> Safety {
    next_of(talk, &Safety::ALL).unwrap_or(Safety::SwitchOff)
}

/// Notes the lines that are about to be seen, the latest last.
pub fn note_seen(talk: &mut Talk, says: &[Say]) {
    for say in says {
        if let Say::Safety(line) = say {
            talk.safety_seen.retain(|seen| seen != line);
            talk.safety_seen.push(*line);
        }
    }
}
