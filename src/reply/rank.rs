//! Ranks, what matters most first.

pub const VERDICT: u8 = 0;
pub const SAFETY: u8 = 1;
pub const WARNING: u8 = 2;
pub const QUESTION: u8 = 3;
pub const TOLD: u8 = 4;
pub const ASSUMED: u8 = 5;
pub const MORE: u8 = 6;
pub const NEXT: u8 = 7;
