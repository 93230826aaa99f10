//! Which pieces of a reply are said, and how fully, in the room that a phone gives.

use thiserror::Error;

use super::phone::PhoneText;

/// Parts that a reply may grow to when what must be said does not fit in the parts allowed.
pub const MOST_PARTS: usize = 2;

/// How a piece follows the piece before it. The first piece of a text follows nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joint {
    Space,
    Line,
    /// Straight after, with nothing between.
    Close,
}

impl Joint {
    fn text(self) -> &'static str {
        match self {
            Joint::Space => " ",
            Joint::Line => "\n",
            Joint::Close => "",
        }
    }
}

/// One thing that a reply may say, in one or more wordings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wordings {
    /// How much it matters: 0 the most. Of two pieces with the same rank the earlier matters more.
    pub rank: u8,
    /// Always said, never cut: the verdict, the safety line.
    pub must: bool,
    /// From long to short. None at all says nothing; a piece that must be said needs one.
    pub texts: Vec<String>,
    pub joint: Joint,
}

/// What the reply has to fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Room {
    /// So many short messages.
    Parts(usize),
    /// One USSD screen.
    Screen,
}

impl Room {
    /// Whether a text fits.
    pub fn holds(self, text: &PhoneText) -> bool {
        match self {
            Room::Parts(parts) => text.parts <= parts,
            Room::Screen => text.fits_screen(),
        }
    }

    /// The rooms to try, the wanted one first: more parts are better than leaving out what must be said, but a screen
    /// cannot grow.
    fn growing(self) -> Vec<Room> {
        match self {
            Room::Parts(parts) => (parts..=parts.max(MOST_PARTS)).map(Room::Parts).collect(),
            Room::Screen => vec![Room::Screen],
        }
    }
}

/// Why no text could be made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum FitTrouble {
    #[error("what must be said takes {} parts or {} octets even in its shortest wordings ({:?})", .shortest.parts, .shortest.octets(), .shortest.text)]
    TooLong {
        /// Everything that must be said, in its shortest wordings.
        shortest: PhoneText,
    },
    #[error("piece {piece} must be said and has no wording")]
    NoWording {
        /// Its place in the list, from 0.
        piece: usize,
    },
}

/// The best text that fits: what must be said, then by rank as many pieces as fit, then by rank as full a wording as
/// fits. The pieces stand in the order given.
///
/// No piece is ever left out, or said more briefly, for the sake of one that matters less. For the first, take the
/// pieces in their shortest wordings by rank and keep each one that still fits beside those kept before. Taking a piece
/// out of a text that fits leaves one that fits (UCS-2 gives at most 70 characters, and as many characters of the
/// default alphabet, two septets each, fit where those did), so no other set has a piece more at the first rank where
/// it differs.
///
/// Where what must be said overflows the parts allowed, the reply grows up to [`MOST_PARTS`] and uses them fully.
///
/// # Errors
/// [`FitTrouble::TooLong`] when even that is too little; [`FitTrouble::NoWording`].
pub fn fit(pieces: &[Wordings], room: Room) -> Result<PhoneText, FitTrouble> {
    let shortest: Vec<Option<&str>> = pieces.iter().map(shortest).collect();
    if let Some(piece) = (0..pieces.len()).find(|&piece| pieces[piece].must && shortest[piece].is_none()) {
        return Err(FitTrouble::NoWording { piece });
    }
    let said: Vec<_> = pieces.iter().zip(&shortest).map(|(piece, text)| text.filter(|_| piece.must)).collect();
    let text = join(pieces, &said);
    let Some(room) = room.growing().into_iter().find(|room| room.holds(&text)) else {
        return Err(FitTrouble::TooLong { shortest: text });
    };
    let mut draft = Draft { pieces, said, text, room };

    let mut by_rank: Vec<usize> = (0..pieces.len()).collect();
    by_rank.sort_by_key(|&piece| pieces[piece].rank);
    for &piece in &by_rank {
        if let (false, Some(text)) = (pieces[piece].must, shortest[piece]) {
            draft.try_saying(piece, text);
        }
    }
    for piece in by_rank {
        if let Some(shortest) = draft.said[piece] {
            let fuller = pieces[piece].texts.iter().map(String::as_str).take_while(|&text| text != shortest);
            for text in fuller {
                if draft.try_saying(piece, text) {
                    break;
                }
            }
        }
    }
    Ok(draft.text)
}

/// A choice of pieces and wordings that fits.
struct Draft<'a> {
    pieces: &'a [Wordings],
    /// The wording of each piece; none for a piece left out.
    said: Vec<Option<&'a str>>,
    text: PhoneText,
    room: Room,
}

impl<'a> Draft<'a> {
    /// Says a piece in a wording if the whole still fits, and tells whether it does.
    fn try_saying(&mut self, piece: usize, wording: &'a str) -> bool {
        let before = self.said[piece].replace(wording);
        let text = join(self.pieces, &self.said);
        let holds = self.room.holds(&text);
        if holds {
            self.text = text;
        } else {
            self.said[piece] = before;
        }
        holds
    }
}

/// The wording that takes the fewest octets by itself: the last one, unless a shorter one needs UCS-2.
fn shortest(piece: &Wordings) -> Option<&str> {
    piece.texts.iter().rev().map(String::as_str).min_by_key(|text| PhoneText::new(*text).octets())
}

fn join(pieces: &[Wordings], said: &[Option<&str>]) -> PhoneText {
    let mut text = String::new();
    for (piece, wording) in pieces.iter().zip(said) {
        let Some(wording) = wording.filter(|wording| !wording.is_empty()) else { continue };
        if !text.is_empty() {
            text.push_str(piece.joint.text());
        }
        text.push_str(wording);
    }
    PhoneText::new(text)
}
