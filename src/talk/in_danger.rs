//! The danger that a talk is in.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use crate::language::{DangerKind, DangerLine};

/// What was heard and said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct InDanger {
    pub kind: DangerKind,
    /// When it was last heard.
    pub at: DateTime<Utc>,
    /// The line that was said last.
    pub said: DangerLine,
}
