//! Cable, breaker and fuses between panels and pump.

use serde::Serialize;

use crate::sizing::error::{SizingError, within};

/// A copper conductor: cross-section, resistance at 20 degC (IEC 60228 class 2), ampacity (memory, near the
/// values of IEC 60364-5-52 for cable in conduit at 40 degC).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conductor {
    pub size_mm2: f64,
    pub ohm_per_km: f64,
    pub ampacity_a: f64,
}

/// Conductors a shop has, smallest first.
pub const CONDUCTORS: [Conductor; 6] = [
    Conductor { size_mm2: 1.5, ohm_per_km: 12.1, ampacity_a: 15.0 },
    Conductor { size_mm2: 2.5, ohm_per_km: 7.41, ampacity_a: 21.0 },
    Conductor { size_mm2: 4.0, ohm_per_km: 4.61, ampacity_a: 28.0 },
    Conductor { size_mm2: 6.0, ohm_per_km: 3.08, ampacity_a: 36.0 },
    Conductor { size_mm2: 10.0, ohm_per_km: 1.83, ampacity_a: 50.0 },
    Conductor { size_mm2: 16.0, ohm_per_km: 1.15, ampacity_a: 66.0 },
];

/// Cable length, m, where none is stated (practice).
pub const LENGTH_WHEN_NOT_STATED_M: f64 = 10.0;

/// Breaker sizes, A (IEC 60898 series; memory).
const BREAKERS_A: [f64; 10] = [6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0];

/// Fuse sizes, A (blade and cartridge series; memory).
const FUSES_A: [f64; 17] = [1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 15.0, 16.0, 20.0, 25.0, 30.0, 32.0, 40.0, 50.0, 63.0];

/// Share of the short-circuit current that cable and breaker must carry on.
const CONTINUOUS: f64 = 1.25;

/// Window of a string fuse over the string's short-circuit current (IEC 62548).
const STRING_FUSE_WINDOW: (f64, f64) = (1.5, 2.4);

/// Largest series fuse of a panel that states none, A.
const PANEL_FUSE_A: f64 = 15.0;

/// Copper's change of resistance, 1/K, and the temperature at which cables are counted.
const COPPER_PER_K: f64 = 0.003_93;
const CABLE_C: f64 = 50.0;

/// Largest drop, share of the pump's voltage, on 12 V and above it.
const DROP_12_V: f64 = 0.05;
const DROP_ABOVE: f64 = 0.03;

/// Drop, percent of the pump's voltage, above which it is named.
pub const DROP_NAMED_ABOVE_PERCENT: f64 = 10.0;

/// Open-circuit volts above which wiring is an electrician's work.
pub const ELECTRICIAN_ABOVE_V: f64 = 60.0;

/// Resistance of a cable, ohm, out and back over `length_m` (0.5..500 m) at 50 degC.
pub fn cable_ohm(conductor: &Conductor, length_m: f64) -> Result<f64, SizingError> {
    let length_m = within("wire_m", length_m, 0.5, 500.0)?;
    Ok(conductor.ohm_per_km / 1000.0 * 2.0 * length_m * (1.0 + COPPER_PER_K * (CABLE_C - 20.0)))
}

/// The conductor of a stated size; a size that is not made is an error.
pub fn conductor(size_mm2: f64) -> Result<Conductor, SizingError> {
    CONDUCTORS
        .into_iter()
        .find(|c| (c.size_mm2 - size_mm2).abs() < 1e-9)
        .ok_or(SizingError::Unknown { name: "wire_mm2", value: size_mm2.to_string() })
}

/// Whether a conductor may get hot: its ampacity does not pass 1.25 times the array's short-circuit current.
pub fn is_too_thin(conductor: &Conductor, isc_a: f64) -> bool {
    conductor.ampacity_a <= CONTINUOUS * isc_a
}

/// The smallest conductor that does not get hot; none where even the largest does.
pub fn thick_enough(isc_a: f64) -> Option<Conductor> {
    CONDUCTORS.into_iter().find(|conductor| !is_too_thin(conductor, isc_a))
}

/// The smallest conductor whose drop at `current_a` is small enough and whose ampacity covers 1.25 times `isc_a`;
/// the largest there is where none does.
pub fn choose_conductor(
    length_m: f64,
    current_a: f64,
    pump_v: f64,
    label_v: f64,
    isc_a: f64,
) -> Result<Conductor, SizingError> {
    let largest_drop = if label_v <= 12.0 { DROP_12_V } else { DROP_ABOVE };
    for conductor in CONDUCTORS {
        let drop_v = cable_ohm(&conductor, length_m)? * current_a;
        if drop_v <= largest_drop * pump_v && !is_too_thin(&conductor, isc_a) {
            return Ok(conductor);
        }
    }
    Ok(CONDUCTORS[CONDUCTORS.len() - 1])
}

/// Wiring of one circuit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Wiring {
    pub size_mm2: f64,
    /// The size to take in its place, where this one can burn; the largest there is where none is thick enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub take_mm2: Option<f64>,
    /// Drop at bright noon, percent of the pump's voltage.
    pub drop_percent: f64,
    /// Breaker rated for direct current; none where the current passes the largest size.
    pub breaker_a: Option<f64>,
    /// Fuse of each string, where strings want their own.
    pub string_fuse_a: Option<f64>,
}

/// The next breaker size at or above 1.25 times the array's short-circuit current.
pub fn breaker_a(isc_a: f64) -> Option<f64> {
    BREAKERS_A.into_iter().find(|&size| size >= CONTINUOUS * isc_a)
}

/// Whether each string wants its own fuse: where what the others can push back, `(strings - 1) Isc`, passes what a panel
/// bears (IEC 62548).
pub fn wants_string_fuses(strings: f64, string_isc_a: f64) -> bool {
    (strings - 1.0) * string_isc_a > PANEL_FUSE_A
}

/// Fuse of each string where one is wanted: the smallest size between 1.5 and 2.4 times the string's short-circuit current
/// (IEC 62548); none where no size lies there either, as below 0.9 A.
pub fn string_fuse_a(strings: f64, string_isc_a: f64) -> Option<f64> {
    if !wants_string_fuses(strings, string_isc_a) {
        return None;
    }
    FUSES_A
        .into_iter()
        .find(|&size| size >= STRING_FUSE_WINDOW.0 * string_isc_a && size <= STRING_FUSE_WINDOW.1 * string_isc_a)
}
