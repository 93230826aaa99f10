//! What a pipe is made of.

use serde::{Deserialize, Serialize};

/// The kinds of pipe that differ in how rough they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PipeKind {
    #[default]
    SmoothPlastic,
    LayFlat,
    Galvanised,
}

impl PipeKind {
    /// Every kind.
    pub const ALL: [PipeKind; 3] = [PipeKind::SmoothPlastic, PipeKind::LayFlat, PipeKind::Galvanised];

    /// The name used in language folders and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            PipeKind::SmoothPlastic => "smooth_plastic",
            PipeKind::LayFlat => "lay_flat",
            PipeKind::Galvanised => "galvanised",
        }
    }
}
