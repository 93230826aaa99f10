//! Plain values as a price list: every wrong key is found, not only the first.

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::{Fault, PriceFile, PriceFileError};
use crate::printable::hidden_in;
use crate::sizing::SizingError;
use crate::sizing::money::costs::Petrol;
use crate::sizing::parts::pump::{LabelShare, Pump, PumpLabel};
use crate::sizing::parts::pump_class::PumpClass;

/// Keys that hold one amount.
pub const SINGLE: [&str; 4] = ["panel_per_w", "cart", "drip_per_m2", "interest_percent"];

/// Keys that hold an amount for each size.
pub const SIZED: [&str; 4] = ["panel", "pipe_per_m", "cable_per_m", "breaker"];

/// The keys of the petrol pump: all of them or none.
pub const PETROL: [&str; 5] = ["pump", "fuel_per_l", "fuel_l_h", "flow_l_h", "life_years"];

/// Dearer than anything that is meant.
const AMOUNT_MOST: i64 = 1_000_000_000;

/// A year at more is a slip of the hand.
const INTEREST_MOST: i64 = 1000;

/// Hours that a pump may last: one that does not run a week, and none that lasts a man's life.
const LIFE_H: [f64; 2] = [100.0, 200_000.0];

/// Longest name of a currency or a class.
const NAME_MOST: usize = 24;

/// A class as a file holds it.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ClassRow {
    name: String,
    label_v: f64,
    flow_l_h: f64,
    head_m: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    amps: Option<f64>,
    electronics: bool,
    life_h: f64,
}

pub(super) fn row_of(class: &PumpClass) -> Result<Value, serde_json::Error> {
    let PumpLabel { label_v, flow_l_h, head_m, amps, electronics, displacement: _ } = class.label;
    let (name, life_h) = (class.name.clone(), class.life_h);
    serde_json::to_value(ClassRow { name, label_v, flow_l_h, head_m, amps, electronics, life_h })
}

/// Checks a whole price list.
pub fn check(value: &Value) -> Result<PriceFile, PriceFileError> {
    let mut reader = Reader::default();
    let file = match value.as_object() {
        Some(values) => reader.file(values),
        None => {
            reader.fault("", "not a price list; write its keys first");
            PriceFile::default()
        }
    };
    if reader.faults.is_empty() { Ok(file) } else { Err(PriceFileError(reader.faults)) }
}

/// What is wrong with a class, by its own keys.
pub fn class_faults(class: &PumpClass) -> Vec<Fault> {
    let mut reader = Reader::default();
    let mut letters = class.name.chars();
    let is_name = letters.next().is_some_and(|c| c.is_ascii_lowercase())
        && letters.all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
        && class.name.len() <= NAME_MOST;
    if !is_name {
        reader.fault("name", "write a to z first, then a to z, 0 to 9 and _, 24 at most, such as large_24");
    }
    // One value at a time beside sound ones, so that each that is wrong is named.
    let sound =
        PumpLabel { label_v: 12.0, flow_l_h: 4500.0, head_m: 4.5, amps: None, electronics: false, displacement: false };
    let label = &class.label;
    for (key, alone) in [
        ("label_v", PumpLabel { label_v: label.label_v, ..sound }),
        ("flow_l_h", PumpLabel { flow_l_h: label.flow_l_h, ..sound }),
        ("head_m", PumpLabel { head_m: label.head_m, ..sound }),
        ("amps", PumpLabel { amps: label.amps, ..sound }),
    ] {
        if let Err(error) = Pump::from_label(&alone, LabelShare::default()) {
            let SizingError::OutOfRange { value, low, high, .. } = error else { continue };
            reader.fault(key, &format!("{value} is out of range; give {low} to {high}"));
        }
    }
    if !(LIFE_H[0]..=LIFE_H[1]).contains(&class.life_h) {
        let [low, high] = LIFE_H;
        reader.fault("life_h", &format!("{} is out of range; give {low} to {high} hours", class.life_h));
    }
    reader.faults
}

/// An amount as it is typed or stored.
pub fn amount(value: &Value) -> Option<Decimal> {
    match value {
        Value::String(text) => text.trim().parse().ok(),
        Value::Number(number) => {
            let text = number.to_string();
            text.parse().ok().or_else(|| Decimal::from_scientific(&text).ok())
        }
        _ => None,
    }
}

/// Faults are gathered beside what is read.
#[derive(Default)]
struct Reader {
    faults: Vec<Fault>,
}

impl Reader {
    fn fault(&mut self, key: &str, sentence: &str) {
        self.faults.push(Fault { key: key.to_owned(), sentence: sentence.to_owned() });
    }

    fn file(&mut self, values: &Map<String, Value>) -> PriceFile {
        let mut file = PriceFile::default();
        let prices = &mut file.prices;
        for (key, value) in values.iter().filter(|(_, value)| !value.is_null()) {
            match key.as_str() {
                "currency" => prices.currency = value.as_str().unwrap_or_default().trim().to_owned(),
                "panel_per_w" => prices.panel_per_w = self.price(key, value),
                "cart" => prices.cart = self.price(key, value),
                "drip_per_m2" => prices.drip_per_m2 = self.price(key, value),
                "interest_percent" => prices.interest_percent = self.within(key, value, false, INTEREST_MOST),
                "panel" => prices.panel = self.sizes(key, value),
                "pipe_per_m" => prices.pipe_per_m = self.sizes(key, value),
                "cable_per_m" => prices.cable_per_m = self.sizes(key, value),
                "breaker" => prices.breaker = self.sizes(key, value),
                "pump" => prices.pump = self.prices(key, value),
                "petrol" => prices.petrol = self.petrol(value),
                "class" => file.classes = self.classes(value),
                _ => self.fault(key, "this is no key of a price list; leave it out"),
            }
        }
        let currency = &file.prices.currency;
        if currency.is_empty() || currency.chars().count() > NAME_MOST || hidden_in(currency).is_some() {
            self.fault("currency", "write how amounts are marked, such as kt, 24 letters at most");
        }
        if let Some(classes) = &file.classes {
            let stray = file.prices.pump.keys().filter(|name| classes.iter().all(|class| class.name != **name));
            for name in stray.cloned().collect::<Vec<_>>() {
                self.fault(&format!("pump.{name}"), "no class has this name; correct the name or leave the price out");
            }
        }
        file
    }

    fn within(&mut self, key: &str, value: &Value, above_zero: bool, most: i64) -> Option<Decimal> {
        let least = if above_zero { "more than 0" } else { "0 or more" };
        match amount(value) {
            None => self.fault(key, "this is no amount; write digits with a point, such as 12.50"),
            Some(amount)
                if amount.is_sign_negative() && !amount.is_zero()
                    || above_zero && amount.is_zero()
                    || amount > Decimal::from(most) =>
            {
                self.fault(key, &format!("{amount} cannot be; give {least}, {most} at most"));
            }
            Some(amount) => return Some(amount),
        }
        None
    }

    fn price(&mut self, key: &str, value: &Value) -> Option<Decimal> {
        self.within(key, value, false, AMOUNT_MOST)
    }

    fn prices(&mut self, key: &str, value: &Value) -> std::collections::BTreeMap<String, Decimal> {
        let Some(table) = value.as_object() else {
            self.fault(key, "this is no table; write a price for each name in it");
            return Default::default();
        };
        let priced = table.iter().filter(|(_, value)| !value.is_null());
        priced.filter_map(|(name, value)| Some((name.clone(), self.price(&format!("{key}.{name}"), value)?))).collect()
    }

    fn sizes(&mut self, key: &str, value: &Value) -> std::collections::BTreeMap<String, Decimal> {
        for size in value.as_object().into_iter().flat_map(Map::keys) {
            if !size.parse::<f64>().is_ok_and(|size| size > 0.0 && size < 10_000.0) {
                self.fault(&format!("{key}.{size}"), "the size is no number above 0; write it such as 50 or 2.5");
            }
        }
        self.prices(key, value)
    }

    fn petrol(&mut self, value: &Value) -> Option<Petrol> {
        let table = value.as_object().cloned().unwrap_or_default();
        for key in table.keys().filter(|key| !PETROL.contains(&key.as_str())) {
            self.fault(&format!("petrol.{key}"), "this is no key of a petrol pump; leave it out");
        }
        let mut of = |key: &str, above_zero| {
            let named = format!("petrol.{key}");
            let value = table.get(key).filter(|value| !value.is_null());
            if value.is_none() {
                self.fault(&named, "it is missing; give all five of the petrol pump, or none");
            }
            self.within(&named, value?, above_zero, AMOUNT_MOST)
        };
        let (pump, fuel_per_l, fuel_l_h) = (of("pump", false), of("fuel_per_l", false), of("fuel_l_h", false));
        let (flow_l_h, life_years) = (of("flow_l_h", true), of("life_years", true));
        Some(Petrol {
            pump: pump?,
            fuel_per_l: fuel_per_l?,
            fuel_l_h: fuel_l_h?,
            flow_l_h: flow_l_h?,
            life_years: life_years?,
        })
    }

    fn classes(&mut self, value: &Value) -> Option<Vec<PumpClass>> {
        let mut classes: Vec<PumpClass> = Vec::new();
        for (at, row) in (1..).zip(value.as_array().into_iter().flatten()) {
            let named = row["name"].as_str().map_or_else(|| format!("class {at}"), |name| format!("class {name}"));
            let row: ClassRow = match serde_json::from_value(row.clone()) {
                Ok(row) => row,
                // Serde names the key between back-quotes.
                Err(error) => {
                    let what = error.to_string();
                    let what = what.split(", expected one of").next().unwrap_or(&what);
                    self.fault(&named, &format!("{}; correct it", what.replace('`', "")));
                    continue;
                }
            };
            let ClassRow { name, label_v, flow_l_h, head_m, amps, electronics, life_h } = row;
            let label = PumpLabel { label_v, flow_l_h, head_m, amps, electronics, displacement: false };
            let class = PumpClass { name, label, life_h };
            for Fault { key, sentence } in class_faults(&class) {
                self.fault(&format!("{named}.{key}"), &sentence);
            }
            if classes.iter().any(|other| other.name == class.name) {
                self.fault(&named, "this class is there twice; leave one out");
            }
            let twin = classes.iter().find(|other| other.name != class.name && other.has_label(&class.label));
            if let Some(twin) = twin {
                self.fault(&named, &format!("the class {} has the same label; leave one out", twin.name));
            }
            classes.push(class);
        }
        if classes.is_empty() && self.faults.is_empty() {
            self.fault("class", "there is none; give one class of pump at least, or leave the key out");
        }
        Some(classes)
    }
}
