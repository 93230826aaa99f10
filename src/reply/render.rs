//! A list of sayings as one text that fits.

use super::alphabet::replace_letters;
use super::fit::{FitTrouble, Room, Wordings, fit};
use super::phone::PhoneText;
use super::wording::pieces;
use crate::language::{Language, ReplyTrouble};
use crate::talk::Say;

/// Why a list of sayings gave no text; start-up renders every saying, so a grower never meets one.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RenderTrouble {
    #[error(transparent)]
    Words(ReplyTrouble),
    #[error(transparent)]
    Fit(FitTrouble),
}

/// The sayings in a language, as full as fits.
///
/// # Errors
/// A saying without words, or musts longer than two parts or a screen.
pub fn try_render(language: &Language, says: &[Say], room: Room) -> Result<PhoneText, RenderTrouble> {
    let mut wordings: Vec<Wordings> = Vec::new();
    for say in says {
        wordings.extend(pieces(language, say).map_err(RenderTrouble::Words)?);
    }
    for text in wordings.iter_mut().flat_map(|piece| &mut piece.texts) {
        let replaced = replace_letters(text, &language.replace).into_owned();
        *text = replaced;
    }
    fit(&wordings, room).map_err(RenderTrouble::Fit)
}

/// The sayings in a language; where the musts are too long the shortest wordings of all of them go out in as many parts as
/// they take, since a long answer is better than none.
pub fn render(language: &Language, says: &[Say], room: Room) -> PhoneText {
    match try_render(language, says, room) {
        Ok(text) => text,
        Err(RenderTrouble::Fit(FitTrouble::TooLong { shortest })) => shortest,
        Err(RenderTrouble::Fit(FitTrouble::NoWording { .. }) | RenderTrouble::Words(_)) => {
            // The sayings that do have words; a folder with gaps does not pass the check at start-up.
            let sound: Vec<Wordings> = says
                .iter()
                .filter_map(|say| pieces(language, say).ok())
                .flatten()
                .filter(|p| !p.texts.is_empty())
                .collect();
            match fit(&sound, room) {
                Ok(text) | Err(FitTrouble::TooLong { shortest: text }) => text,
                Err(FitTrouble::NoWording { .. }) => PhoneText::new(""),
            }
        }
    }
}
