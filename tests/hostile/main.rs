//! What a stranger, a member of staff with bad intent, or a file of theirs may try, and what it must not come to.

#[path = "../common/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the other test programs use the rest")]
mod common;

#[path = "../desk/seat.rs"]
#[allow(dead_code, reason = "the desk's own tests use the rest")]
mod seat;

mod accounts;
mod files;
mod letters;
mod lines;
mod reach;
mod run;
mod sign_in;
mod traces;
