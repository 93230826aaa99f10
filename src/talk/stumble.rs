//! Turns that do not get on, of whatever kind: after two of them in a row a person is told.

use super::say::Say;
use super::state::Talk;

/// Turns in a row that may not get on: at the next one a person is told.
const STUMBLES: u8 = 1;

/// Counts a turn by what it says; true, and the reply says so, where a person is to be told.
pub fn count_stumble(talk: &mut Talk, says: &mut Vec<Say>) -> bool {
    let is_stumble = |say: &Say| {
        matches!(
            say,
            Say::NothingUnderstood
                | Say::NotUnderstood
                | Say::DidYouMean { .. }
                | Say::Refused(_)
                | Say::PlaceUnknown { .. }
                | Say::WhichTopic { .. }
        )
    };
    if !says.iter().any(is_stumble) {
        talk.stumbles = 0;
        return false;
    }
    talk.stumbles = talk.stumbles.saturating_add(1);
    if talk.stumbles <= STUMBLES {
        return false;
    }
    (talk.stumbles, talk.misread, talk.asked) = (0, 0, None);
    *says = vec![Say::HandedOver];
    true
}
