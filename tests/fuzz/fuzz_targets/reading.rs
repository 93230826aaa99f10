//! Any bytes as a message in any language and after any question: read without a fault, within its limits, to an end.
//!
//! From the project's folder: `cargo +nightly fuzz run --fuzz-dir tests/fuzz reading -- -max_total_time=60`

#![no_main]

use libfuzzer_sys::fuzz_target;

#[path = "../reading.rs"]
mod reading;

fuzz_target!(|bytes: &[u8]| reading::check(bytes));
