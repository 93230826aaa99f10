//! What a set costs against a petrol pump over the years: the figures are the money's, here they are only drawn and written.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::desk::frame::chart::{Chart, Curve, Figure};
use crate::sizing::money::cash_flow::{CashFlow, Paid, YEARS_LOOKED_AT as YEARS, paid_by_month};
use crate::sizing::money::costs::Money;

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
    pub fn of(money: &Money) -> Self {
        let (Some(set), Some(petrol)) = (&money.cash_flow, &money.petrol_cash_flow) else {
            return Self::NoPrice(money.missing.join(", "));
        };
        let months = paid_by_month(set, petrol, YEARS);
        let even = money.payback_months;
        let crossing = match even {
            Some(0) => "The set costs less from the first day.".to_owned(),
            Some(month) => format!("From month {month} on the set has cost less than petrol, and stays below it."),
            None => format!("Within {YEARS} years the set does not become cheaper than petrol for good."),
        };
        let figure = figure(&money.currency, &months, even, &crossing);
        Self::Drawn(Box::new(Drawn { figure, crossing, lines: with_interest(money, set, petrol) }))
    }
}

fn figure(currency: &str, months: &[Paid], even: Option<u32>, crossing: &str) -> Figure {
    // Only the drawing is in floats.
    let point = |month: u32, amount: Decimal| (f64::from(month) / 12.0, amount.to_f64().unwrap_or_default());
    let mark = even.and_then(|even| months.iter().find(|paid| paid.month == even));
    let title = format!("Paid so far, {currency}: the set against petrol");
    let chart = Chart {
        id: "costs",
        title: title.clone(),
        description: format!("What has been paid since the start, by year, for the set and for a petrol pump. {crossing}"),
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
        mark: mark.map(|paid| point(paid.month, paid.petrol)),
        mark_name: even.map(|month| format!("month {month}")).unwrap_or_default(),
        ..Chart::default()
    };
    let head = ["Month".to_owned(), format!("Set, {currency}"), format!("Petrol, {currency}")];
    let rows = months.iter().filter(|paid| paid.month.is_multiple_of(TABLE_STEP) || Some(paid.month) == even);
    let rows = rows.map(|paid| vec![paid.month.to_string(), format!("{:.2}", paid.set), format!("{:.2}", paid.petrol)]);
    Figure { title, svg: chart.svg(), head: head.to_vec(), rows: rows.collect() }
}

fn with_interest(money: &Money, set: &CashFlow, petrol: &CashFlow) -> Vec<(String, String)> {
    let Some(told) = &money.with_interest else { return Vec::new() };
    let percent = told.percent.normalize();
    let amount = |amount: Option<Decimal>| {
        amount.map_or_else(|| "no figure".to_owned(), |amount| format!("{:.2} {}", amount.round_dp(2), money.currency))
    };
    let rate = told.percent / Decimal::ONE_HUNDRED;
    let today = |cash_flow: &CashFlow| amount(cash_flow.present_value(rate, Decimal::from(YEARS)));
    vec![
        (format!("A year of the set at {percent} % interest"), amount(told.yearly_cost)),
        (format!("A year of petrol at {percent} % interest"), amount(told.petrol_yearly_cost)),
        (format!("{YEARS} years of the set in today’s money"), today(set)),
        (format!("{YEARS} years of petrol in today’s money"), today(petrol)),
    ]
}
