//! What a set costs, at first and by the year, and what petrol would.
//!
//! Amounts are decimals in the deployment's one currency. Prices come from its price list, never from here.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use serde::{Deserialize, Serialize};

use super::cash_flow::{CashFlow, YEARS_LOOKED_AT, capital_recovery, even_from, paid_by_month};
use crate::sizing::weather::place::DAYS_IN_MONTH;

/// Years that panels last (practice).
const PANEL_YEARS: u32 = 20;

/// Clamps of a hose: one at each end.
const CLAMPS: u32 = 2;

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
    /// Fuses of the strings with their holders, by amps.
    pub fuse: BTreeMap<String, Decimal>,
    /// Rope that the pump hangs and is tied by, a metre.
    pub rope_per_m: Option<Decimal>,
    pub float: Option<Decimal>,
    /// A hose clamp.
    pub clamp: Option<Decimal>,
    pub cart: Option<Decimal>,
    /// Drip kit a square metre, where the way of watering is changed to it.
    pub drip_per_m2: Option<Decimal>,
    pub petrol: Option<Petrol>,
    /// What borrowed money costs, percent a year; none counts as nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interest_percent: Option<Decimal>,
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
    /// Fuse of each string, where strings want their own, and how many there are at each pump.
    pub string_fuse_a: Option<f64>,
    pub strings: u32,
    /// Rope of each pump that hangs in the water, m.
    pub rope_m: f64,
    /// Whether each pump hangs under a float.
    pub floats: bool,
}

/// How a set is used in a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Hours that each pump runs in the season for the garden's need, or all that it can where no garden is told.
    pub running_h: f64,
    /// Running hours until a pump is worn out.
    pub pump_life_h: Option<f64>,
    /// Water wanted in the season, m³.
    pub water_m3: f64,
}

/// The money of a set.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Money {
    pub currency: String,
    /// All parts; none where a price is missing. Fuses, rope, float and clamps without a price are left out of it and
    /// named in `missing`.
    pub first_cost: Option<Decimal>,
    /// Pumps and panels worn out in a year.
    pub yearly_cost: Option<Decimal>,
    pub petrol_first_cost: Option<Decimal>,
    /// Fuel, and the petrol pump's own wear.
    pub petrol_yearly_cost: Option<Decimal>,
    /// Months from the start after which the set has cost no more than petrol and stays below it; none where that takes
    /// longer than [`YEARS_LOOKED_AT`] or a price is missing.
    pub payback_months: Option<u32>,
    /// The same in days of the calendar.
    pub payback_days: Option<f64>,
    /// What has no price.
    pub missing: Vec<String>,
    /// The yearly costs with interest, where the price list states a rate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with_interest: Option<WithInterest>,
    /// How the set's costs fall over the years; none where a price is missing.
    #[serde(skip)]
    pub cash_flow: Option<CashFlow>,
    /// The same of petrol.
    #[serde(skip)]
    pub petrol_cash_flow: Option<CashFlow>,
}

/// What a year costs where money is borrowed, or could have earned as much elsewhere.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WithInterest {
    pub percent: Decimal,
    pub yearly_cost: Option<Decimal>,
    pub petrol_yearly_cost: Option<Decimal>,
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

    /// What keeps the pump in its place and the strings safe; what of it has no price is left out.
    fn small(&mut self, parts: &Parts) -> Decimal {
        let mut sum = Decimal::ZERO;
        if let Some(amps) = parts.string_fuse_a {
            let fuse = self.want(by_size(&self.prices.fuse, amps), "fuse", Some(amps));
            sum += fuse.unwrap_or_default() * Decimal::from(parts.strings);
        }
        if parts.rope_m > 0.0 {
            sum += self.want(self.prices.rope_per_m, "rope", None).unwrap_or_default() * decimal(parts.rope_m);
        }
        if parts.floats {
            sum += self.want(self.prices.float, "float", None).unwrap_or_default();
        }
        sum += self.want(self.prices.clamp, "clamp", None).unwrap_or_default() * Decimal::from(CLAMPS);
        sum * Decimal::from(parts.pump_count)
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
        let small = self.small(parts);
        Some((pipe? + cable? + breaker?) * Decimal::from(parts.pump_count) + cart? + small)
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

/// What the parts cost, as far as they have prices: pumps, panels, and all the rest.
struct Bought {
    pumps: Option<Decimal>,
    panels: Option<Decimal>,
    rest: Option<Decimal>,
}

/// First cost, yearly cost and the same of petrol.
///
/// Yearly: pumps by running hours over their life, panels over 20 years. Petrol: fuel for the hours that lift the same
/// water, and its pump over its years. Payback: the month from which all that was paid for the set stays below petrol's, see
/// [`even_from`].
pub fn money(prices: &PriceList, parts: &Parts, usage: &Use) -> Money {
    let mut purse = Purse { prices, missing: Vec::new() };
    let pumps = purse.pump(parts).map(|each| each * Decimal::from(parts.pump_count));
    let bought = Bought { pumps, panels: purse.panels(parts), rest: purse.rest(parts) };
    let Purse { mut missing, .. } = purse;
    let first = || Some((bought.pumps? + bought.panels? + bought.rest?).round_dp(2));
    let first = first();
    let yearly = || {
        let wear = bought.pumps? * decimal(usage.running_h / usage.pump_life_h?);
        Some((wear + bought.panels? / Decimal::from(PANEL_YEARS)).round_dp(2))
    };
    let yearly = yearly();
    let petrol = prices.petrol.as_ref();
    if petrol.is_none() {
        missing.push("petrol".to_owned());
    }
    let petrol_cash_flow = petrol.and_then(|petrol| petrol_cash_flow(petrol, usage));
    let petrol_yearly = petrol_cash_flow.as_ref().and_then(|cash_flow| {
        let wear = cash_flow.renewal.checked_div(cash_flow.renewal_years?)?;
        Some((cash_flow.fuel_yearly + wear).round_dp(2))
    });
    let petrol_first = petrol.map(|petrol| petrol.pump);
    let cash_flow = set_cash_flow(first, &bought, usage);
    let payback_months = cash_flow.as_ref().zip(petrol_cash_flow.as_ref());
    let payback_months = payback_months.and_then(|(set, petrol)| even_from(&paid_by_month(set, petrol, YEARS_LOOKED_AT)));
    let with_interest = prices.interest_percent.map(|percent| WithInterest {
        percent,
        yearly_cost: cash_flow.as_ref().and_then(|cash_flow| set_yearly(percent, cash_flow, &bought)),
        petrol_yearly_cost: petrol_cash_flow.as_ref().and_then(|cash_flow| petrol_yearly_with(percent, cash_flow)),
    });
    Money {
        currency: prices.currency.clone(),
        first_cost: first,
        yearly_cost: yearly,
        petrol_first_cost: petrol_first,
        petrol_yearly_cost: petrol_yearly,
        payback_months,
        payback_days: payback_months.map(|months| f64::from(months) * DAYS_IN_MONTH.iter().sum::<f64>() / 12.0),
        missing,
        with_interest,
        cash_flow,
        petrol_cash_flow,
    }
}

/// The set's pumps are bought again each running life; what else it is made of outlasts the years compared.
fn set_cash_flow(first: Option<Decimal>, bought: &Bought, usage: &Use) -> Option<CashFlow> {
    let life_h = usage.pump_life_h?;
    Some(CashFlow {
        first: first?,
        renewal: bought.pumps?,
        renewal_years: (usage.running_h > 0.0).then(|| decimal(life_h / usage.running_h)),
        fuel_yearly: Decimal::ZERO,
    })
}

/// Fuel for the hours that lift the season's water, and the petrol pump bought again each life.
fn petrol_cash_flow(petrol: &Petrol, usage: &Use) -> Option<CashFlow> {
    let hours = decimal(usage.water_m3 * 1000.0).checked_div(petrol.flow_l_h)?;
    Some(CashFlow {
        first: petrol.pump,
        renewal: petrol.pump,
        renewal_years: (petrol.life_years > Decimal::ZERO).then_some(petrol.life_years),
        fuel_yearly: hours * petrol.fuel_l_h * petrol.fuel_per_l,
    })
}

/// `pumps CRF(i, life) + panels CRF(i, 20) + rest i`: what does not wear out bears its interest alone, so that without
/// interest this is the yearly cost.
fn set_yearly(percent: Decimal, cash_flow: &CashFlow, bought: &Bought) -> Option<Decimal> {
    let rate = percent / Decimal::ONE_HUNDRED;
    let wear = match cash_flow.renewal_years {
        Some(years) => bought.pumps? * capital_recovery(rate, years)?,
        None => bought.pumps? * rate,
    };
    let panels = bought.panels? * capital_recovery(rate, Decimal::from(PANEL_YEARS))?;
    Some((wear + panels + bought.rest? * rate).round_dp(2))
}

/// `fuel + pump CRF(i, life)`.
fn petrol_yearly_with(percent: Decimal, cash_flow: &CashFlow) -> Option<Decimal> {
    let rate = percent / Decimal::ONE_HUNDRED;
    Some((cash_flow.fuel_yearly + cash_flow.renewal * capital_recovery(rate, cash_flow.renewal_years?)?).round_dp(2))
}
