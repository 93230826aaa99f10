//! Every saying as a talk puts them together, with the longest values it can have: what a language must be able to say in
//! the room that a phone gives.
//!
//! A reply is a row of slots, each with all that may stand there. Lengths add up, so the reply that is longest in a
//! language takes the longest of every slot, and what fits there fits always.

mod bundles;
mod season;
mod values;

use super::fit::{Room, Wordings};
use super::phone::PhoneText;
use super::render::{RenderTrouble, try_render};
use super::wording::pieces;
use crate::language::Language;
use crate::talk::Say;

pub use bundles::{Bundle, bundles};

/// Every saying with a name. A new one does not compile until it stands here, and the check of the languages fails until
/// `bundles` says where it is said.
macro_rules! sayings {
    ($($saying:pat => $name:literal),* $(,)?) => {
        /// Its name.
        pub fn saying_name(say: &Say) -> &'static str {
            match say {
                $($saying => $name),*
            }
        }

        /// All the names.
        pub const SAYINGS: &[&str] = &[$($name),*];
    };
}

sayings! {
    Say::Told(_) => "told",
    Say::TookWord(_) => "took-word",
    Say::Answer { .. } => "answer",
    Say::NoWater { .. } => "no-water",
    Say::Assumed(_) => "assumed",
    Say::OverDriven { .. } => "over-driven",
    Say::WireBurns { .. } => "wire-burns",
    Say::Mismatch { .. } => "mismatch",
    Say::Joined { .. } => "joined",
    Say::Hours { .. } => "hours",
    Say::AskGuess(_) => "ask-guess",
    Say::WellRunsDry => "well-runs-dry",
    Say::HighVoltage => "high-voltage",
    Say::Safety(_) => "safety",
    Say::NextWord(_) => "next-word",
    Say::Ask { .. } => "ask",
    Say::Refused(_) => "refused",
    Say::IsItRight(_) => "is-it-right",
    Say::Unusual(_) => "unusual",
    Say::OnlyInTalk(_) => "only-in-a-talk",
    Say::DidYouMean { .. } => "did-you-mean",
    Say::PassedOver(_) => "passed-over",
    Say::NothingUnderstood => "nothing-understood",
    Say::NotUnderstood => "not-understood",
    Say::OnlyStartRead => "only-start-read",
    Say::About(_) => "about",
    Say::Bore { .. } => "bore",
    Say::Guide { .. } => "guide",
    Say::FaultStep { .. } => "fault-step",
    Say::FaultEnd { .. } => "fault-end",
    Say::Compared(_) => "compared",
    Say::SheetKept => "sheet-kept",
    Say::NoMore => "no-more",
    Say::Menu(_) => "menu",
    Say::Choice(..) => "choice",
    Say::ChoiceOfLanguage(..) => "choice-of-language",
    Say::NoSuchChoice => "no-such-choice",
    Say::AlsoBySms => "also-by-SMS",
    Say::Busy => "busy",
    Say::PlaceUnknown { .. } => "place-unknown",
    Say::SpotRefused => "spot-refused",
    Say::Climate { .. } => "climate",
    Say::StillSame => "still-same",
    Say::Danger { .. } => "danger",
    Say::Topic { .. } => "topic",
    Say::WhichTopic { .. } => "which-topic",
    Say::NewSheet => "new-sheet",
    Say::Stopped => "stopped",
    Say::Started => "started",
    Say::HandedOver => "handed-over",
    Say::StillHandedOver => "still-handed-over",
    Say::ForgetSure => "forget-sure",
    Say::Forgotten => "forgotten",
    Say::Kept => "kept",
    Say::PoorDay { .. } => "poor-day",
    Say::Noon { .. } => "noon",
    Say::Fix { .. } => "fix",
    Say::Proposal(_) => "proposal",
    Say::NoSet => "no-set",
    Say::NothingToChange => "nothing-to-change",
    Say::NoChangeHelps => "no-change-helps",
    Say::Cost(_) => "cost",
    Say::NoPrice(_) => "no-price",
    Say::Wire { .. } => "wire",
    Say::Test(_) => "test",
    Say::TestTaken { .. } => "test-taken",
    Say::OwnNumbers { .. } => "own-numbers",
    Say::SuctionTooHigh { .. } => "suction-too-high",
    Say::Stances(_) => "stances",
    Say::GoodHours { .. } => "good-hours",
    Say::Interval { .. } => "interval",
    Say::RemindersSet(_) => "reminders-set",
    Say::RemindersOff => "reminders-off",
    Say::NoBrushes => "no-brushes",
    Say::BrushesDue { .. } => "brushes-due",
    Say::LowWaterComes { .. } => "low-water-comes",
}

/// What a language cannot say in the room given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{said}: {trouble}; shorten the tiny wordings")]
pub struct TooLong {
    pub said: String,
    pub trouble: RenderTrouble,
}

/// Every reply that does not fit two short messages or one screen.
pub fn too_long(language: &Language) -> Vec<TooLong> {
    let mut found = Vec::new();
    for bundle in bundles(language) {
        // Whatever else is wrong with a saying shows in its own reply.
        let says = longest(language, &bundle);
        for room in bundle.rooms {
            if let Err(trouble) = try_render(language, &says, *room) {
                found.push(TooLong { said: bundle.name.clone(), trouble });
            }
        }
    }
    found
}

/// The reply of a bundle that is longest in a language.
pub fn longest(language: &Language, bundle: &Bundle) -> Vec<Say> {
    let longest = |slot: &Vec<Say>| slot.iter().max_by_key(|say| octets(language, say)).cloned();
    bundle.slots.iter().filter_map(longest).collect()
}

/// What a saying takes at least, which counts where it must be said; one without words counts most, so that it is found.
fn octets(language: &Language, say: &Say) -> usize {
    let shortest = |piece: &Wordings| {
        piece.texts.iter().map(|text| PhoneText::new(text.as_str()).octets()).min().unwrap_or(usize::MAX / 8)
    };
    match pieces(language, say) {
        Ok(pieces) => pieces.iter().filter(|piece| piece.must).map(shortest).sum(),
        Err(_) => usize::MAX / 8,
    }
}

const MESSAGE: Room = Room::Parts(1);
const BOTH: &[Room] = &[MESSAGE, Room::Screen];
