//! What a grower must be told about a set besides its water.

use serde::{Deserialize, Serialize};

use crate::sizing::parts::circuit::OperatingPoint;
use crate::sizing::parts::wire::{DROP_NAMED_ABOVE_PERCENT, ELECTRICIAN_ABOVE_V, Wiring};
use crate::sizing::set::sheet::CompleteSheet;

/// A caution, by its code; the language folders word it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// The cable can burn: it carries less than the panels can push through it.
    CableTooThin,
    /// So much of the voltage is lost in the cable that it is named.
    CableDrop,
    /// Panels and pump are of different voltages.
    VoltageMismatch,
    /// The pump is driven above its voltage at bright noon.
    OverDriven,
    /// The pump can take more than the well gives.
    WellRunsDry,
    /// The pump stands higher above the water than the air can push it up.
    SuctionTooHigh,
    /// The pump never reaches the outlet, even at bright noon.
    NoWater,
    /// A breaker must be rated for direct current, and will not trip for a stalled pump.
    DcBreaker,
    /// Each string wants its own fuse.
    StringFuses,
    /// No breaker of the usual sizes carries this current: split the set.
    NoBreakerSize,
    /// Open-circuit voltage on a cold morning calls for a licensed electrician and the local rules.
    #[serde(rename = "over_60_v")]
    Electrician,
}

/// What was found of a set, as far as it may call for caution.
#[derive(Debug, Clone, Copy)]
pub struct Found<'a> {
    pub over_driven: bool,
    /// At bright noon.
    pub noon: &'a OperatingPoint,
    /// What the well leaves to each pump.
    pub cap_m3_s: f64,
    pub greatest_suction_m: f64,
    pub cable_too_thin: bool,
    pub voltage_mismatch: bool,
    pub string_fuses: bool,
    /// Of a string on the coldest morning.
    pub cold_open_v: f64,
    pub wire: &'a Wiring,
}

/// The cautions of a set, gravest first.
pub fn cautions(filled: &CompleteSheet, found: &Found<'_>) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let mut add = |applies: bool, caution: Caution| {
        if applies {
            cautions.push(caution);
        }
    };
    let flow_m3_s = found.noon.flow_m3_s;
    add(found.cable_too_thin, Caution::CableTooThin);
    add(found.cold_open_v > ELECTRICIAN_ABOVE_V, Caution::Electrician);
    add(filled.suction_low_m().is_some_and(|suction_m| suction_m > found.greatest_suction_m), Caution::SuctionTooHigh);
    add(flow_m3_s.min(found.cap_m3_s) <= 0.0, Caution::NoWater);
    add(found.over_driven, Caution::OverDriven);
    add(found.voltage_mismatch, Caution::VoltageMismatch);
    add(found.wire.drop_percent > DROP_NAMED_ABOVE_PERCENT, Caution::CableDrop);
    add(filled.well_l_h.is_some() && found.cap_m3_s > 0.0 && flow_m3_s > found.cap_m3_s, Caution::WellRunsDry);
    add(found.wire.breaker_a.is_none(), Caution::NoBreakerSize);
    add(found.string_fuses, Caution::StringFuses);
    add(true, Caution::DcBreaker);
    cautions
}
