//! Comparing, and the sets that many checks begin from.

use noonwater::sizing::parts::circuit::Circuit;
use noonwater::sizing::parts::panel::Panel;
use noonwater::sizing::parts::pipe::Pipe;
use noonwater::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use noonwater::sizing::parts::pump_class::starting_classes;
use noonwater::sizing::{Advice, Climate, Market, Sheet, advise};
use noonwater::terms::PipeKind;

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

/// A usual set: 5 x 80 W on the large 12 V pump.
pub fn plain_circuit() -> Circuit {
    Circuit {
        panel: Panel::new(80.0, 36).expect("in range"),
        series: 1.0,
        parallel: 5.0,
        pump: Pump::from_label(&class("large"), LabelShare::default()).expect("in range"),
        pipe: Pipe::new(40.0, 63.0, PipeKind::default()).expect("in range"),
        static_head_m: 5.0,
        cable_ohm: 0.05,
    }
}
