//! How costs fall over the years, with interest and without.
//!
//! Amounts are decimals; a rate is a share a year (0.1 for 10 %). The formulas of interest are those of engineering
//! economics, published under these names everywhere.

use rust_decimal::{Decimal, MathematicalOps};

/// Months in a year.
const MONTHS: u32 = 12;

/// Years over which set and petrol are held against each other: longer than the petrol pump of most price lists lasts,
/// shorter than panels do.
pub const YEARS_LOOKED_AT: u32 = 5;

/// What one way of lifting the water costs, and when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CashFlow {
    /// Paid at the start.
    pub first: Decimal,
    /// Paid again each time the pump is worn out.
    pub renewal: Decimal,
    /// Years until then, the season's running spread evenly over the year; none for a pump that never runs.
    pub renewal_years: Option<Decimal>,
    /// Paid evenly through every year.
    pub fuel_yearly: Decimal,
}

/// What has been paid by the end of a month from the start.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paid {
    pub month: u32,
    pub set: Decimal,
    pub petrol: Decimal,
}

/// Share of a sum that is paid at the end of every year so that sum and interest are paid after `n` years, for a rate of
/// 0 or more and a time above 0; none outside: `CRF = i (1+i)^n / ((1+i)^n - 1)`, which tends to `1/n` without interest.
pub fn capital_recovery(rate: Decimal, years: Decimal) -> Option<Decimal> {
    if rate.is_sign_negative() || years <= Decimal::ZERO {
        return None;
    }
    if rate.is_zero() {
        return Decimal::ONE.checked_div(years);
    }
    let grown = (Decimal::ONE + rate).checked_powd(years)?;
    (rate * grown).checked_div(grown - Decimal::ONE)
}

/// What 1 paid after `n` years is worth at the start, for a rate and a time of 0 or more; none outside:
/// `P/F = (1+i)^-n`.
pub fn present_worth(rate: Decimal, years: Decimal) -> Option<Decimal> {
    if rate.is_sign_negative() || years.is_sign_negative() {
        return None;
    }
    Decimal::ONE.checked_div((Decimal::ONE + rate).checked_powd(years)?)
}

impl CashFlow {
    /// Times that the pump has been bought again before a moment: `ceil(t / life) - 1`, the pump that is worn out at the
    /// very moment not among them.
    fn renewals(&self, years: Decimal) -> Decimal {
        let lives = self.renewal_years.and_then(|life| years.checked_div(life));
        lives.map_or(Decimal::ZERO, |lives| (lives.ceil() - Decimal::ONE).max(Decimal::ZERO))
    }

    /// All that has been paid until so many years from the start: `first + renewal (ceil(t / life) - 1) + fuel t`.
    pub fn paid(&self, years: Decimal) -> Decimal {
        self.first + self.renewal * self.renewals(years) + self.fuel_yearly * years
    }

    /// The same, each payment at what it is worth at the start: `first + renewal sum of P/F(i, k life) + fuel / CRF(i, n)`,
    /// fuel paid at the end of each year. Nothing is counted for what is left afterwards.
    pub fn present_value(&self, rate: Decimal, years: Decimal) -> Option<Decimal> {
        let mut worth = self.first + self.fuel_yearly.checked_div(capital_recovery(rate, years)?)?;
        let Some(life) = self.renewal_years else { return Some(worth) };
        let mut at = life;
        // A pump worn out within days is no pump; the price list's and the classes' checks keep lives longer.
        while at < years && life > Decimal::ZERO {
            worth += self.renewal * present_worth(rate, at)?;
            at += life;
        }
        Some(worth)
    }
}

/// What set and petrol have cost by each month from the start, through so many years.
pub fn paid_by_month(set: &CashFlow, petrol: &CashFlow, years: u32) -> Vec<Paid> {
    let paid = |month: u32| {
        let at = Decimal::from(month) / Decimal::from(MONTHS);
        Paid { month, set: set.paid(at), petrol: petrol.paid(at) }
    };
    (0..=years * MONTHS).map(paid).collect()
}

/// The first month from which the set has cost no more than petrol, and never costs more again in the months given; none
/// where it costs more at their end.
pub fn even_from(months: &[Paid]) -> Option<u32> {
    let behind = months.iter().rposition(|paid| paid.set > paid.petrol);
    behind.map_or(months.first(), |last| months.get(last + 1)).map(|paid| paid.month)
}
