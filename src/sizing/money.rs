//! What a set costs, at first and by the year, and what petrol would.
//!
//! Amounts are decimals in the deployment's one currency. Prices come from its price list, never from here.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};
use serde::{Deserialize, Serialize};

/// Years that panels last (practice).
const PANEL_YEARS: u32 = 20;

/// Years over which whole sets are compared.
const COMPARED_YEARS: u32 = 3;

/// Prices of one deployment. What it does not hold is missing, and said to be.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct PriceList {
    /// The currency as it is written beside an amount.
    pub currency: String,
    /// Panels, by watts of each.
    pub panel: BTreeMap<String, Decimal>,
    /// Any other panel, a watt.
    pub panel_per_w: Option<Decimal>,
    /// Pumps, by class.
    pub pump: BTreeMap<String, Decimal>,
    /// Pipe a metre, by bore in mm.
    pub pipe_per_m: BTreeMap<String, Decimal>,
    /// Cable a metre (both conductors), by cross-section in mm².
    pub cable_per_m: BTreeMap<String, Decimal>,
    /// Breakers for direct current, by amps.
    pub breaker: BTreeMap<String, Decimal>,
    pub cart: Option<Decimal>,
    /// Drip kit a square metre, where the way of watering is changed to it.
    pub drip_per_m2: Option<Decimal>,
    pub petrol: Option<Petrol>,
}

/// The petrol pump that the set is compared with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Petrol {
    pub pump: Decimal,
    pub fuel_per_l: Decimal,
    pub fuel_l_h: Decimal,
    /// Litres an hour that it lifts.
    pub flow_l_h: Decimal,
    /// Years until it is replaced.
    pub life_years: Decimal,
}

/// What a set is made of, as far as it costs something.
#[derive(Debug, Clone, PartialEq)]
pub struct Parts {
    pub panel_count: u32,
    pub panel_w: f64,
    /// Class of the pump, where it is one of the deployment's.
    pub pump_class: Option<String>,
    pub pump_count: u32,
    pub pipe_m: f64,
    pub bore_mm: f64,
    pub wire_m: f64,
    pub wire_mm2: f64,
    pub breaker_a: Option<f64>,
}

/// How a set is used in a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Hours that each pump runs in the season.
    pub running_h: f64,
    /// Running hours until a pump is worn out.
    pub pump_life_h: Option<f64>,
    /// Water wanted in the season, m³.
    pub water_m3: f64,
    /// Days of the season.
    pub days: f64,
}

/// The money of a set.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Money {
    pub currency: String,
    /// All parts; none where a price is missing.
    pub first_cost: Option<Decimal>,
    /// Pumps and panels worn out in a year.
    pub yearly_cost: Option<Decimal>,
    pub petrol_first_cost: Option<Decimal>,
    /// Fuel, and the petrol pump's own wear.
    pub petrol_yearly_cost: Option<Decimal>,
    /// Days of watering until what the set costs more than a petrol pump is saved; zero when it costs less, none when
    /// nothing is saved or a price is missing.
    pub payback_days: Option<f64>,
    /// What has no price.
    pub missing: Vec<String>,
}

/// A number as the key of a price: 2.5, 50, 12.7.
fn key(number: f64) -> String {
    let rounded = (number * 10.0).round() / 10.0;
    format!("{rounded}")
}

/// The price of the next size up where the very size has none: an inch pipe of 25.4 mm is bought as 25 or 32.
fn by_size(prices: &BTreeMap<String, Decimal>, size: f64) -> Option<Decimal> {
    prices.get(&key(size)).copied().or_else(|| {
        let above = prices.iter().filter_map(|(name, price)| Some((name.parse::<f64>().ok()?, *price)));
        above.filter(|(listed, _)| *listed >= size - 0.5).min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, price)| price)
    })
}

fn decimal(number: f64) -> Decimal {
    // Quantities are finite and far below the range of a decimal.
    Decimal::from_f64(number).unwrap_or_default()
}

/// Prices that were looked up in vain are gathered beside the sums.
struct Purse<'p> {
    prices: &'p PriceList,
    missing: Vec<String>,
}

impl Purse<'_> {
    fn want(&mut self, price: Option<Decimal>, what: &str, size: Option<f64>) -> Option<Decimal> {
        if price.is_none() {
            let name = size.map_or_else(|| what.to_owned(), |size| format!("{what} {}", key(size)));
            if !self.missing.contains(&name) {
                self.missing.push(name);
            }
        }
        price
    }

    fn pump(&mut self, parts: &Parts) -> Option<Decimal> {
        let class = parts.pump_class.as_deref();
        let price = class.and_then(|class| self.prices.pump.get(class)).copied();
        self.want(price, &class.map_or_else(|| "pump".to_owned(), |class| format!("pump {class}")), None)
    }

    fn panels(&mut self, parts: &Parts) -> Option<Decimal> {
        let listed = self.prices.panel.get(&key(parts.panel_w)).copied();
        let each = listed.or_else(|| self.prices.panel_per_w.map(|per_w| per_w * decimal(parts.panel_w)));
        self.want(each, "panel", Some(parts.panel_w)).map(|each| each * Decimal::from(parts.panel_count))
    }

    /// Pipe, cable and breaker of every pump, and one cart.
    fn rest(&mut self, parts: &Parts) -> Option<Decimal> {
        let pipe = by_size(&self.prices.pipe_per_m, parts.bore_mm);
        let pipe = self.want(pipe, "pipe", Some(parts.bore_mm)).map(|price| price * decimal(parts.pipe_m));
        let cable = by_size(&self.prices.cable_per_m, parts.wire_mm2);
        let cable = self.want(cable, "cable", Some(parts.wire_mm2)).map(|price| price * decimal(parts.wire_m));
        let breaker = match parts.breaker_a {
            Some(amps) => self.want(by_size(&self.prices.breaker, amps), "breaker", Some(amps)),
            None => Some(Decimal::ZERO),
        };
        let cart = self.want(self.prices.cart, "cart", None);
        Some((pipe? + cable? + breaker?) * Decimal::from(parts.pump_count) + cart?)
    }
}

/// First cost of the parts, with what has no price.
pub fn first_cost(prices: &PriceList, parts: &Parts) -> (Option<Decimal>, Vec<String>) {
    let mut purse = Purse { prices, missing: Vec::new() };
    let (pump, panels, rest) = (purse.pump(parts), purse.panels(parts), purse.rest(parts));
    let sum = || Some(pump? * Decimal::from(parts.pump_count) + panels? + rest?);
    (sum().map(|sum| sum.round_dp(2)), purse.missing)
}

/// Purchase and the pumps replaced over three years; none where a price is missing.
pub fn three_year_cost(prices: &PriceList, parts: &Parts, usage: &Use) -> Option<Decimal> {
    let first = first_cost(prices, parts).0?;
    let mut purse = Purse { prices, missing: Vec::new() };
    let pumps = pump_wear_a_year(purse.pump(parts)?, parts, usage)?;
    Some(first + pumps * Decimal::from(COMPARED_YEARS))
}

/// Price of the pumps over the years they last: running hours over life.
fn pump_wear_a_year(pump: Decimal, parts: &Parts, usage: &Use) -> Option<Decimal> {
    Some(pump * Decimal::from(parts.pump_count) * decimal(usage.running_h / usage.pump_life_h?))
}

/// First cost, yearly cost and the same of petrol.
///
/// Yearly: pumps by running hours over their life, panels over 20 years. Petrol: fuel for the hours that lift the same
/// water, and its pump over its years. Payback: `(first - petrol first) / (saving a year / days of the season)`.
pub fn money(prices: &PriceList, parts: &Parts, usage: &Use) -> Money {
    let (first, mut missing) = first_cost(prices, parts);
    let mut purse = Purse { prices, missing: Vec::new() };
    let (pump, panels) = (purse.pump(parts), purse.panels(parts));
    let yearly = || {
        let wear = pump_wear_a_year(pump?, parts, usage)?;
        Some((wear + panels? / Decimal::from(PANEL_YEARS)).round_dp(2))
    };
    let yearly = yearly();
    let petrol = prices.petrol.as_ref();
    if petrol.is_none() {
        missing.push("petrol".to_owned());
    }
    let petrol_yearly = petrol.and_then(|petrol| {
        let hours = (decimal(usage.water_m3 * 1000.0)).checked_div(petrol.flow_l_h)?;
        let wear = petrol.pump.checked_div(petrol.life_years)?;
        Some((hours * petrol.fuel_l_h * petrol.fuel_per_l + wear).round_dp(2))
    });
    let petrol_first = petrol.map(|petrol| petrol.pump);
    let payback = || {
        let more = first? - petrol_first?;
        if more <= Decimal::ZERO {
            return Some(0.0);
        }
        let saved = petrol_yearly? - yearly?;
        (saved > Decimal::ZERO && usage.days > 0.0)
            .then(|| (more / saved).to_f64().map(|years| years * usage.days))
            .flatten()
    };
    Money {
        currency: prices.currency.clone(),
        first_cost: first,
        yearly_cost: yearly,
        petrol_first_cost: petrol_first,
        petrol_yearly_cost: petrol_yearly,
        payback_days: payback(),
        missing,
    }
}
