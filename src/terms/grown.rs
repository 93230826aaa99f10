//! Crops and soils by name.

/// The crops that every language folder must have words for, by the names used in JSON. All stand in FAO 56, table 12,
/// except the mixed vegetables of a kitchen garden.
pub const CROPS: [&str; 22] = [
    "tomato",
    "onion",
    "green_onion",
    "cabbage",
    "kale",
    "squash",
    "green_bean",
    "groundnut",
    "maize",
    "sweet_maize",
    "potato",
    "sweet_potato",
    "cassava",
    "banana",
    "pepper",
    "carrot",
    "lettuce",
    "spinach",
    "eggplant",
    "cucumber",
    "watermelon",
    "mixed_vegetables",
];

/// The soils that every language folder must have words for: those of FAO 56, table 19, that a hand can tell apart.
pub const SOILS: [&str; 4] = ["sand", "sandy_loam", "loam", "clay"];
