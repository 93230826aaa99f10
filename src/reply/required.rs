//! Every key that the program says, with the values it gives: what a language folder must hold.

use crate::language::Kind::{Code, Text};
use crate::language::{Kind, Required};

const FIELDS: Kind<'static> = Code(&[
    "lift", "low", "pipe", "bore", "panel", "stance", "pump", "well", "garden", "crop", "month", "watering", "wire",
    "place",
]);
const SAFETY: Kind<'static> = Code(&[
    "switch_off",
    "dry_joints",
    "panels_live",
    "dc_breaker",
    "children",
    "never_dry",
    "two_people",
    "not_drink",
    "electrician",
]);
const ITEMS: Kind<'static> =
    Code(&["answer", "new", "setup", "care", "other", "language", "person", "stop", "start", "yes", "no", "more", "back"]);
const MONTHS: Kind<'static> = Code(&["m1", "m2", "m3", "m4", "m5", "m6", "m7", "m8", "m9", "m10", "m11", "m12"]);

const fn reply(key: &'static str, values: &'static [(&'static str, Kind<'static>)]) -> Required<'static> {
    Required { key, values }
}

/// The replies.
pub const REQUIRED: &[Required<'static>] = &[
    reply("told", &[("sheet", Text)]),
    reply("took-word", &[("word", Text)]),
    reply(
        "answer",
        &[("verdict", Code(&["enough", "tight", "short", "open"])), ("water", Text), ("month", Text), ("area", Text)],
    ),
    reply("answer-no-need", &[("water", Text), ("month", Text)]),
    reply("no-water", &[("lift", Text)]),
    reply("assumed", &[("things", Text)]),
    reply("assumed-pump", &[("volts", Text), ("flow", Text), ("head", Text)]),
    reply("assumed-volts", &[("volts", Text)]),
    reply("assumed-bore", &[("bore", Text)]),
    reply("assumed-flat", &[]),
    reply("assumed-panels", &[("panels", Text)]),
    reply("assumed-crop", &[("crop", Text)]),
    reply("assumed-watering", &[("watering", Text)]),
    reply("assumed-place", &[("place", Text)]),
    reply("over-driven", &[("panels", Text)]),
    reply("over-driven-always", &[]),
    reply("well-runs-dry", &[]),
    reply("high-voltage", &[]),
    reply("safety", &[("line", SAFETY)]),
    reply("next-word", &[("word", Text)]),
    reply("ask", &[("field", FIELDS)]),
    reply("refused-range", &[("field", Text), ("value", Text), ("low", Text), ("high", Text), ("unit", Text)]),
    reply("refused-unit", &[("field", Text), ("unit", Text)]),
    reply("refused-unknown-unit", &[("field", Text), ("unit", Text)]),
    reply("refused-no-number", &[("field", Text)]),
    reply("refused-whole", &[("field", Text)]),
    reply("refused-one", &[("field", Text)]),
    reply("refused-gallon", &[("us", Text), ("imperial", Text)]),
    reply("refused-which", &[("value", Text)]),
    reply("refused-test", &[]),
    reply("is-it-right", &[("field", Text), ("value", Text), ("unit", Text)]),
    reply("low-below-lift", &[("low", Text), ("lift", Text)]),
    reply("did-you-mean", &[("word", Text), ("meant", Text)]),
    reply("passed-over", &[("words", Text)]),
    reply("nothing-understood", &[]),
    reply("place-unknown", &[("name", Text), ("known", Text), ("first", Text)]),
    reply("still-same", &[]),
    reply("new-sheet", &[]),
    reply("not-understood", &[]),
    reply("only-start-read", &[]),
    reply("about", &[("field", FIELDS)]),
    reply("bore-best", &[("metres", Text), ("bore", Text), ("loss", Text)]),
    reply("bore-told", &[("metres", Text), ("bore", Text), ("loss", Text)]),
    reply("setup", &[("step", Code(&["mud", "float", "joints", "cover", "hose", "first_start", "tie_down", "home"]))]),
    reply("care", &[("step", Code(&["week", "month", "season", "replace"]))]),
    reply("help", &[("step", Code(&["begin", "words", "fields"]))]),
    reply("no-more", &[]),
    reply("menu", &[("menu", Code(&["home", "other", "languages", "stopped"]))]),
    reply("choice", &[("item", ITEMS)]),
    reply("no-such-choice", &[]),
    reply("also-by-sms", &[]),
    reply("busy", &[]),
    reply("stopped", &[]),
    reply("started", &[]),
    reply("handed-over", &[]),
    reply("forget-sure", &[]),
    reply("forgotten", &[]),
    reply("kept", &[]),
    reply("poor-day", &[("hours", Text), ("water", Text)]),
    reply("noon", &[("flow", Text), ("loss", Text), ("bore", Text)]),
    reply("wire", &[("metres", Text), ("size", Text), ("breaker", Text)]),
    reply("wire-no-breaker", &[("metres", Text), ("size", Text)]),
    reply("string-fuse", &[("fuse", Text)]),
    reply("month", &[("month", MONTHS)]),
];
