//! How much each piece of a reply matters, in one table.

/// Its rank, 0 the most, and whether it is always said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weight {
    pub rank: u8,
    pub must: bool,
}

const fn must(rank: u8) -> Weight {
    Weight { rank, must: true }
}

const fn may(rank: u8) -> Weight {
    Weight { rank, must: false }
}

// Ranks, what matters most first.
const POINT: u8 = 0;
const SAFETY: u8 = 1;
const WARNING: u8 = 2;
const QUESTION: u8 = 3;
// No verdict hangs on an unspoken guess.
const ASSUMED: u8 = 4;
const HOURS: u8 = 5;
const TOLD: u8 = 6;
const MORE: u8 = 7;
const NEXT: u8 = 8;

/// What stands beside the point of a reply. The point itself, the verdict or whatever was asked, is in no table: it is
/// always said and first in rank.
const BESIDE: &[(&str, Weight)] = &[
    ("safety", must(SAFETY)),
    ("danger-call", must(SAFETY)),
    ("danger-also", may(SAFETY)),
    ("high-voltage", must(SAFETY)),
    ("wire-burns", must(WARNING)),
    ("over-driven", may(WARNING)),
    ("mismatch", may(WARNING)),
    ("joined", may(WARNING)),
    ("well-runs-dry", must(WARNING)),
    ("suction-too-high", must(WARNING)),
    ("own-numbers", must(WARNING)),
    ("unusual", must(WARNING)),
    ("wire", must(WARNING)),
    ("test-short", must(WARNING)),
    ("new-pump", may(WARNING)),
    ("untested", must(WARNING)),
    ("string-fuse", must(WARNING)),
    ("climate-new", must(WARNING)),
    ("each-pump", may(WARNING)),
    ("payback", may(WARNING)),
    ("no-price", may(WARNING)),
    ("ask", must(QUESTION)),
    ("interval", must(QUESTION)),
    ("ask-beside", may(QUESTION)),
    ("ask-guess", may(QUESTION)),
    ("hours", may(HOURS)),
    ("petrol", may(QUESTION)),
    ("told", may(TOLD)),
    ("took-word", may(TOLD)),
    ("new-sheet", may(TOLD)),
    ("assumed", may(ASSUMED)),
    ("climate", may(ASSUMED)),
    ("fix-other", may(ASSUMED)),
    ("test-taken", may(ASSUMED)),
    ("poor-day", may(MORE)),
    ("left-over", may(MORE)),
    ("noon", may(MORE)),
    ("passed-over", may(MORE)),
    ("only-start-read", may(MORE)),
    ("next-word", may(NEXT)),
    ("also-by-sms", may(NEXT)),
];

/// The weight of a piece by its name.
pub fn weight(name: &str) -> Weight {
    BESIDE.iter().find(|(beside, _)| *beside == name).map_or(must(POINT), |(_, weight)| *weight)
}
