//! The messages of a talk as staff read them.

use chrono::{DateTime, Utc};

use crate::desk::frame::words::said;
use crate::language::Language;
use crate::message::{print, read};
use crate::store::HistoryRow;
use crate::turn::World;

/// One message of the talk.
pub struct Line {
    pub at: DateTime<Utc>,
    pub text: String,
    pub line: String,
    /// It came in; any other went out.
    pub came: bool,
    /// What the program understood of a message that came in.
    pub understood: Option<String>,
    /// How far a message that went out has come, in words.
    pub state: String,
    /// Who of staff wrote it.
    pub staff: Option<String>,
    pub waits: bool,
    pub is_danger: bool,
}

/// What was said and what was sent, oldest first.
pub fn lines_of(rows: Vec<HistoryRow>, world: &World, language: &Language) -> Vec<Line> {
    let line = |row: HistoryRow| Line {
        at: row.at,
        came: row.rank == 0,
        understood: (row.rank == 0).then(|| understood(&row.body, world, language)).flatten(),
        text: row.body,
        line: row.line,
        state: row.state.map(|state| state_in_words(&state)).unwrap_or_default(),
        staff: row.staff,
        waits: row.waits,
        is_danger: row.reason.as_deref() == Some("danger"),
    };
    rows.into_iter().map(line).collect()
}

/// How far a message that went out has come.
pub fn state_in_words(state: &str) -> String {
    let words = match state {
        "queued" | "leased" => "on its way",
        "taken" => "with the network",
        "delivered" => "on the phone",
        "failed" => "the phone did not get it",
        "expired" => "the network gave it up",
        "undelivered" => "not delivered",
        "refused" => "the network refused it",
        "stopped" => "not sent: opted out",
        other => other,
    };
    said(words).into_owned()
}

/// The facts that the program read in a message; none where there were none.
fn understood(text: &str, world: &World, language: &Language) -> Option<String> {
    let reading = read(text, &world.languages, &language.code, None);
    (!reading.facts.is_empty()).then(|| print(&reading.facts, language))
}

/// Why a message was put before a human.
pub fn reason_in_words(reason: &str) -> String {
    let words = match reason {
        "asked" => "asked for a person",
        "not_understood" => "not understood",
        "danger" => "danger",
        "rough_place" => "place only roughly known",
        "gave_up" => "the program gave up",
        "failed" => "the program failed",
        "wrote_back" => "wrote back",
        "loop" => "a machine answers our answers; it gets none",
        "unreadable" => "the stored talk cannot be read",
        other => other,
    };
    said(words).into_owned()
}

/// Every reason that a filter offers.
pub const REASONS: [&str; 9] =
    ["danger", "asked", "not_understood", "rough_place", "gave_up", "failed", "wrote_back", "loop", "unreadable"];
