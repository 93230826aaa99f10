//! Comparing, and the sets that many checks begin from.

use noonwater::sizing::catalog::starting_classes;
use noonwater::sizing::pump::PumpLabel;
use noonwater::sizing::{Advice, Climate, Market, Sheet, advise};

/// Fails, with what it was about, when the value lies further than `tolerance` from what was published.
#[track_caller]
pub fn near(what: &str, value: f64, published: f64, tolerance: f64) {
    assert!(
        (value - published).abs() <= tolerance,
        "{what}: {value}, published {published}, off by {:.3e}",
        (value - published).abs()
    );
}

/// The same, with a tolerance that is a share of the published value.
#[track_caller]
pub fn near_share(what: &str, value: f64, published: f64, share: f64) {
    near(what, value, published, share * published.abs());
}

/// The label of a generic class.
pub fn class(name: &str) -> PumpLabel {
    starting_classes().into_iter().find(|class| class.name == name).expect("a class of that name").label
}

/// The demo place.
pub fn kito() -> Climate {
    Climate::new(serde_json::from_str(noonwater::demo::PLACE_JSON).expect("the demo place reads")).expect("it is sound")
}

/// Works out a sheet with nothing filled from the catalogue.
pub fn answer(sheet: &Sheet, climate: &Climate) -> Advice {
    advise(&sheet.fill(climate.place.lat_deg).expect("a whole sheet"), climate, &Market::default())
        .expect("a sheet in range")
}
