//! A bucket and a stopwatch: whether the pump is well, and the numbers that from then on stand in for the label's.

use super::test::BucketTest;
use crate::sizing::weather::climate::Climate;
use crate::terms::TestSky;
use chrono::TimeDelta;
use serde::Serialize;

use super::fitting::{Observed, fit_flow, fit_flow_and_head};
use crate::sizing::error::{SizingError, within};
use crate::sizing::light::clear_sky::{light_then, sun_then};
use crate::sizing::light::sky::Light;
use crate::sizing::parts::circuit::Circuit;
use crate::sizing::parts::pump::{LabelShare, PumpLabel};
use crate::sizing::set::sheet::{CompleteSheet, Sheet};
use crate::sizing::set::site::Site;
use crate::units::l_min_from_m3_s;

/// From this share of the expected flow a pump is healthy, from that one it wants a look; below it has a fault (practice).
const HEALTHY_FROM: f64 = 0.85;
const CHECK_FROM: f64 = 0.60;

/// Shares of the label that a test may imply and still be believed.
pub const BELIEVED: (f64, f64) = (0.3, 1.5);

/// Least height of the sun, degrees, at which a test is judged: lower down, haze and shade that nobody sees decide
/// (practice).
const LEAST_SUN_DEG: f64 = 15.0;

/// Least difference of outlets, m, from which two tests tell head and flow apart (practice).
const HEIGHTS_APART_M: f64 = 0.5;

/// Tests this much older than the latest tell of a pump that has worn or been mended since (practice).
const SAME_PUMP_WITHIN: TimeDelta = TimeDelta::days(14);

/// How a pump does beside what is expected of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Health {
    Healthy,
    /// Screen, leaks, dusty panels, aim.
    Check,
    /// Brushes, impeller, wiring, a wrong lift.
    Fault,
}

impl Health {
    /// From measured over expected flow.
    pub fn of(ratio: f64) -> Health {
        if ratio >= HEALTHY_FROM {
            Health::Healthy
        } else if ratio >= CHECK_FROM {
            Health::Check
        } else {
            Health::Fault
        }
    }
}

/// What a test came to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "finding", rename_all = "snake_case")]
pub enum Finding {
    Judged {
        outlet_m: f64,
        measured_l_min: f64,
        expected_l_min: f64,
        ratio: f64,
        health: Health,
        /// False where by itself it implies a curve too far from the label to be believed: kept, and not used.
        used: bool,
    },
    /// No expectation under clouds.
    Cloudy,
    /// The sun stood too low, or was down: likely a wrong time.
    LowSun,
    /// By its label the pump lifts nothing to that outlet in that light.
    NothingExpected { outlet_m: f64, measured_l_min: f64 },
}

/// A set's tests and what they come to together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tested {
    /// In the order in which they were told.
    pub findings: Vec<Finding>,
    /// Shares of the label that the pump really gives; none where no test could be used.
    pub own: Option<LabelShare>,
    /// Tests behind them: those of the last two weeks that are believed.
    pub used: usize,
}

/// A test in its light, with the circuit that it was made on.
struct Ready {
    observed: Observed,
    expected_m3_s: f64,
}

/// Judges the bucket tests of a set whose pump is known (else none), and puts its own numbers in the label's place.
///
/// Expected flow: a clear sky at the test's time, the stance, pump (at its default share of the label) and pipe of the
/// sheet. One test scales the flow at no lift; two or more within two weeks whose outlets differ by half a metre fit flow
/// and head by least squares. Bore and cable that were chosen for the label stay: they lie there already.
///
/// Ranges: litres 0.01..1e5, seconds 0.1..1e5, outlet 0..150 m, years 1990..2150.
pub fn with_tests(
    tests: &[BucketTest],
    filled: CompleteSheet,
    climate: &Climate,
) -> Result<(CompleteSheet, Option<Tested>), SizingError> {
    let Some(label) = filled.pump.filter(|_| !tests.is_empty()) else { return Ok((filled, None)) };
    let now = Site::new(filled.clone(), climate)?.design(&label)?;
    let mut readies: Vec<Result<Ready, Finding>> = Vec::new();
    for test in tests {
        let ready = match &test.set_then {
            None => ready(test, &filled, climate, &now.other_circuit, &label)?,
            Some(then) => {
                let then = Sheet { pump: Some(label), pump_count: Some(filled.pump_count), ..(**then).clone() };
                let filled = then.fill(climate.place.lat_deg)?;
                let design = Site::new(filled.clone(), climate)?.design(&label)?;
                ready(test, &filled, climate, &design.other_circuit, &label)?
            }
        };
        readies.push(ready);
    }
    let (findings, believed) = judge(readies, &label)?;
    let latest = believed.iter().map(|test| tests[test.at].at).max();
    let is_fresh = |at: usize| latest.is_some_and(|latest| latest - tests[at].at <= SAME_PUMP_WITHIN);
    let believed: Vec<Observed> = believed.into_iter().filter(|test| is_fresh(test.at)).map(|test| test.observed).collect();
    let own = together(&believed, &label)?;
    let used = if own.is_some() { believed.len() } else { 0 };
    let mut filled = filled;
    if let Some(own) = own {
        filled.label_share = own;
        filled.is_tested = true;
        filled.bore_mm = Some(now.bore_mm);
        filled.wire_mm2 = Some(now.conductor.size_mm2);
    }
    Ok((filled, Some(Tested { findings, own, used })))
}

fn ready(
    test: &BucketTest,
    filled: &CompleteSheet,
    climate: &Climate,
    circuit: &Circuit,
    label: &PumpLabel,
) -> Result<Result<Ready, Finding>, SizingError> {
    let litres = within("test_l", test.litres, 0.01, 1e5)?;
    let seconds = within("test_s", test.seconds, 0.1, 1e5)?;
    let outlet_m = within("outlet_m", test.outlet_m.unwrap_or(filled.lift_m), 0.0, 150.0)?;
    if test.sky == TestSky::Cloudy {
        return Ok(Err(Finding::Cloudy));
    }
    let place = &climate.place;
    let sun = sun_then(place.lat_deg, place.lon_deg, place.alt_m, test.at)?;
    if sun.elevation_deg < LEAST_SUN_DEG {
        return Ok(Err(Finding::LowSun));
    }
    let light: Light = light_then(climate, filled.stance, &sun, test.at, test.sky == TestSky::Hazy)?;
    // A bucket asks for no pressure at the outlet.
    let circuit = Circuit { static_head_m: outlet_m, ..*circuit };
    let observed = Observed { circuit, light, flow_m3_s: litres / 1000.0 / seconds };
    let expected_m3_s = observed.predicted_m3_s(label, LabelShare::default())?;
    if expected_m3_s <= 0.0 {
        let measured_l_min = l_min_from_m3_s(observed.flow_m3_s);
        return Ok(Err(Finding::NothingExpected { outlet_m, measured_l_min }));
    }
    Ok(Ok(Ready { observed, expected_m3_s }))
}

/// A test that may be believed, by its place among those told.
struct Believed {
    at: usize,
    observed: Observed,
}

/// What each test says by itself, and those that may be believed, by their place.
fn judge(readies: Vec<Result<Ready, Finding>>, label: &PumpLabel) -> Result<(Vec<Finding>, Vec<Believed>), SizingError> {
    let (mut findings, mut believed) = (Vec::new(), Vec::new());
    for (at, ready) in readies.into_iter().enumerate() {
        let Ready { observed, expected_m3_s } = match ready {
            Ok(ready) => ready,
            Err(finding) => {
                findings.push(finding);
                continue;
            }
        };
        let ratio = observed.flow_m3_s / expected_m3_s;
        let used = fit_flow(&[observed], label, BELIEVED)?.is_some();
        findings.push(Finding::Judged {
            outlet_m: observed.circuit.static_head_m,
            measured_l_min: l_min_from_m3_s(observed.flow_m3_s),
            expected_l_min: l_min_from_m3_s(expected_m3_s),
            ratio,
            health: Health::of(ratio),
            used,
        });
        if used {
            believed.push(Believed { at, observed });
        }
    }
    Ok((findings, believed))
}

/// The shares that the believed tests come to together.
fn together(believed: &[Observed], label: &PumpLabel) -> Result<Option<LabelShare>, SizingError> {
    if believed.is_empty() {
        return Ok(None);
    }
    let heights = believed.iter().map(|observed| observed.circuit.static_head_m);
    let (low, high) = heights.fold((f64::INFINITY, 0.0_f64), |(low, high), m| (low.min(m), high.max(m)));
    if high - low >= HEIGHTS_APART_M
        && let Some(both) = fit_flow_and_head(believed, label, BELIEVED)?
    {
        return Ok(Some(both));
    }
    fit_flow(believed, label, BELIEVED)
}
