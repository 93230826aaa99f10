//! A price list file, TOML or JSON, checked: what is wrong is named with its key.

use std::path::Path;

use rust_decimal::Decimal;

use crate::sizing::money::PriceList;

/// A price list that was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct PriceFileError(String);

/// Reads and checks the price list in a file; the ending says whether it is JSON, anything else is TOML.
pub fn read(path: &Path) -> Result<PriceList, PriceFileError> {
    let file = path.display();
    let text = std::fs::read_to_string(path)
        .map_err(|error| PriceFileError(format!("{file} cannot be read ({}); name a price list", error.kind())))?;
    let is_json = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
    parse(&text, is_json).map_err(|PriceFileError(sentence)| PriceFileError(format!("{file}: {sentence}")))
}

/// Checks the text of a price list.
pub fn parse(text: &str, is_json: bool) -> Result<PriceList, PriceFileError> {
    let form = |what: &str| PriceFileError(format!("not a price list ({what}); correct it"));
    let prices: PriceList = if is_json {
        serde_json::from_str(text).map_err(|error| form(&error.to_string()))?
    } else {
        toml::from_str(text).map_err(|error| form(error.message()))?
    };
    check(&prices)?;
    Ok(prices)
}

fn check(prices: &PriceList) -> Result<(), PriceFileError> {
    if prices.currency.trim().is_empty() {
        return Err(PriceFileError("`currency` is missing; write how amounts are marked, such as kt".to_owned()));
    }
    let single = [
        ("panel_per_w", prices.panel_per_w),
        ("cart", prices.cart),
        ("drip_per_m2", prices.drip_per_m2),
        ("petrol.pump", prices.petrol.as_ref().map(|petrol| petrol.pump)),
        ("petrol.fuel_per_l", prices.petrol.as_ref().map(|petrol| petrol.fuel_per_l)),
        ("interest_percent", prices.interest_percent),
        ("petrol.fuel_l_h", prices.petrol.as_ref().map(|petrol| petrol.fuel_l_h)),
    ];
    for (key, price) in single {
        positive(key, price.unwrap_or(Decimal::ZERO), false)?;
    }
    for (key, price) in [
        ("petrol.flow_l_h", prices.petrol.as_ref().map(|petrol| petrol.flow_l_h)),
        ("petrol.life_years", prices.petrol.as_ref().map(|petrol| petrol.life_years)),
    ] {
        positive(key, price.unwrap_or(Decimal::ONE), true)?;
    }
    let sized = [
        ("panel", &prices.panel),
        ("pipe_per_m", &prices.pipe_per_m),
        ("cable_per_m", &prices.cable_per_m),
        ("breaker", &prices.breaker),
    ];
    for (table, listed) in sized {
        for (size, price) in listed {
            if !size.parse::<f64>().is_ok_and(|size| size > 0.0 && size < 10_000.0) {
                return Err(PriceFileError(format!("`{table}.{size}`: the size is no number; write it like {table}.50")));
            }
            positive(&format!("{table}.{size}"), *price, false)?;
        }
    }
    prices.pump.iter().try_for_each(|(class, price)| positive(&format!("pump.{class}"), *price, false))
}

fn positive(key: &str, price: Decimal, above_zero: bool) -> Result<(), PriceFileError> {
    if price.is_sign_negative() || (above_zero && price.is_zero()) || price > Decimal::from(1_000_000_000) {
        return Err(PriceFileError(format!("`{key}`: {price} cannot be; give an amount above 0")));
    }
    Ok(())
}
