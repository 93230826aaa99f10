//! The desk from outside: plain HTTP, and a real browser.

#[path = "../common/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the other test programs use the rest")]
mod common;

mod browser;
mod bulk;
mod conversation;
mod everyday;
mod finding;
mod lists;
mod machines;
mod market;
mod meanwhile;
mod numbers;
mod places;
mod rooms;
mod screens;
mod seat;
mod sign_in;
mod waiting;
