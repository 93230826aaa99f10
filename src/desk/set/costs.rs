//! What a set costs against a petrol pump over the years: the figures are the money's, here they are only drawn and written.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::desk::frame::chart::{Chart, Curve, Figure};
use crate::desk::frame::words::{said, said_with};
use crate::sizing::advice::advise::Advice;
use crate::sizing::money::cash_flow::{CashFlow, Paid, even_from, paid_by_month};
use crate::sizing::money::costs::Money;
use crate::sizing::set::verdict::Verdict;

/// Years that are drawn: longer than the petrol pump of most price lists lasts, shorter than panels do.
const YEARS: u32 = 5;

/// Months between two lines of the table.
const TABLE_STEP: u32 = 6;

/// The part of a set's page that is about money.
pub enum Costs {
    Drawn(Box<Drawn>),
    /// No chart, for these have no price.
    NoPrice(String),
}

pub struct Drawn {
    pub figure: Figure,
    /// In how many months the set has become the cheaper one, as a sentence.
    pub crossing: String,
    /// Name and value; with interest where the price list states a rate.
    pub lines: Vec<(String, String)>,
}

impl Costs {
    pub fn of(advice: &Advice) -> Self {
        let money = &advice.money;
        let (Some(set), Some(petrol)) = (&money.cash_flow, &money.petrol_cash_flow) else {
            return Self::NoPrice(money.missing.join(", "));
        };
        let months = paid_by_month(set, petrol, YEARS);
        // A set that does not water the garden cannot be set against a pump that does.
        let is_enough = advice.verdict.is_none_or(|verdict| verdict != Verdict::Short);
        let even = even_from(&months).filter(|_| is_enough);
        let crossing = match even {
            _ if !is_enough => said("The set waters too little for this garden: make it enough first.").into_owned(),
            Some(0) => said("The set costs less from the first day.").into_owned(),
            Some(month) => said_with(
                "From month {month} on the set has cost less than petrol, and stays below it.",
                &[("month", &month)],
            ),
            None => said_with(
                "Within {years} years the set does not become cheaper than petrol for good.",
                &[("years", &YEARS)],
            ),
        };
        let figure = figure(&money.currency, &months, even, &crossing);
        Self::Drawn(Box::new(Drawn { figure, crossing, lines: with_interest(money, set, petrol) }))
    }
}

/// Where the line of the set comes below that of petrol: years, and the amount.
fn crossing_point(months: &[Paid], even: u32) -> Option<(f64, f64)> {
    let amounts = |at: u32| {
        let paid = months.iter().find(|paid| paid.month == at)?;
        Some((paid.set.to_f64()?, paid.petrol.to_f64()?))
    };
    let (set, petrol) = amounts(even)?;
    let Some((set_before, petrol_before)) = even.checked_sub(1).and_then(amounts) else {
        return Some((0.0, set));
    };
    let (above, below) = (set_before - petrol_before, petrol - set);
    let share = if above + below > 0.0 { above / (above + below) } else { 1.0 };
    Some(((f64::from(even) - 1.0 + share) / 12.0, set_before + share * (set - set_before)))
}

fn figure(currency: &str, months: &[Paid], even: Option<u32>, crossing: &str) -> Figure {
    // Only the drawing is in floats.
    let point = |month: u32, amount: Decimal| (f64::from(month) / 12.0, amount.to_f64().unwrap_or_default());
    let title = said_with("Paid so far, {currency}: the set against petrol", &[("currency", &currency)]);
    let chart = Chart {
        id: "costs",
        title: title.clone(),
        description: crossing.to_owned(),
        x_name: "years",
        y_name: currency,
        curves: vec![
            Curve { class: "one", name: "set", points: months.iter().map(|paid| point(paid.month, paid.set)).collect() },
            Curve {
                class: "two",
                name: "petrol",
                points: months.iter().map(|paid| point(paid.month, paid.petrol)).collect(),
            },
        ],
        mark: even.and_then(|even| crossing_point(months, even)),
        mark_name: even.map(|month| said_with("month {month}", &[("month", &month)])).unwrap_or_default(),
        ..Chart::default()
    };
    let set_head = said_with("Set, {currency}", &[("currency", &currency)]);
    let petrol_head = said_with("Petrol, {currency}", &[("currency", &currency)]);
    let head = [said("Month").into_owned(), set_head, petrol_head];
    let rows = months.iter().filter(|paid| paid.month.is_multiple_of(TABLE_STEP) || Some(paid.month) == even);
    let rows = rows.map(|paid| vec![paid.month.to_string(), format!("{:.2}", paid.set), format!("{:.2}", paid.petrol)]);
    Figure { title, svg: chart.svg(), head: head.to_vec(), rows: rows.collect() }
}

fn with_interest(money: &Money, set: &CashFlow, petrol: &CashFlow) -> Vec<(String, String)> {
    let Some(told) = &money.with_interest else { return Vec::new() };
    let percent = told.percent.normalize();
    let amount = |amount: Option<Decimal>| {
        amount.map_or_else(
            || said("no figure").into_owned(),
            |amount| format!("{:.2} {}", amount.round_dp(2), money.currency),
        )
    };
    let rate = told.percent / Decimal::ONE_HUNDRED;
    let today = |cash_flow: &CashFlow| amount(cash_flow.present_value(rate, Decimal::from(YEARS)));
    vec![
        (said_with("A year of the set at {percent} % interest", &[("percent", &percent)]), amount(told.yearly_cost)),
        (said_with("A year of petrol at {percent} % interest", &[("percent", &percent)]), amount(told.petrol_yearly_cost)),
        (said_with("{years} years of the set in today’s money", &[("years", &YEARS)]), today(set)),
        (said_with("{years} years of petrol in today’s money", &[("years", &YEARS)]), today(petrol)),
    ]
}
