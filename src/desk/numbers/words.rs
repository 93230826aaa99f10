//! What is counted, in words.

use crate::desk::frame::words::said;
use crate::desk::set::advice::verdict_in_words;
use crate::store::Split;
use crate::turn::World;

/// By what a table counts.
pub fn label(split: Split) -> String {
    let words = match split {
        Split::Week => "week",
        Split::Month => "month",
        Split::Place => "place",
        Split::Language => "language",
        Split::Crop => "crop",
        Split::Verdict => "answer",
        Split::Trouble => "trouble",
        Split::Fix => "change",
    };
    said(words).into_owned()
}

/// What a line counts.
pub fn key_in_words(world: &World, split: Split, key: &str) -> String {
    if key == "-" {
        return said("not told").into_owned();
    }
    match split {
        Split::Verdict => verdict_in_words(key),
        Split::Language => world.languages.get(key).map_or_else(|| key.to_owned(), |language| language.name.clone()),
        Split::Place if key == "*" => said("other places").into_owned(),
        Split::Week | Split::Month | Split::Place => key.to_owned(),
        Split::Crop | Split::Trouble | Split::Fix => {
            let spaced = key.replace('_', " ");
            let words = match key {
                "bore_mm" => "a wider pipe",
                "panel_count" => "another number of panels",
                "turned" => "turn the panels by hand",
                "pump_count" => "another pump beside it",
                "wire_mm2" => "thicker cable",
                "watering" => "another way of watering",
                "garden_m2" => "a smaller garden",
                _ => &spaced,
            };
            said(words).into_owned()
        }
    }
}
