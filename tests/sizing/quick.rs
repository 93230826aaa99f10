//! The quick ways of counting against the plain one: a table of flow for a solver of each light, a noon found near a known flow,
//! a bore chosen from one noon. The plain solver (`plain`) brackets and bisects, and tabulates nothing.

use noonwater::sizing::light::sky::bright_noon;
use noonwater::sizing::light::sky::sky_of;
use rust_decimal::Decimal;

use noonwater::sizing::advice::changes::{Change, find_fixes};
use noonwater::sizing::light::sky::Light;
use noonwater::sizing::operating::plain::operating_point_plainly;
use noonwater::sizing::operating::point::{operating_point, operating_point_near};
use noonwater::sizing::operating::year::{Lifter, month_water};
use noonwater::sizing::parts::circuit::Circuit;
use noonwater::sizing::parts::pipe::{BORES_MM, Pipe};
use noonwater::sizing::parts::pump::PumpLabel;
use noonwater::sizing::set::over_drive::Drive;
use noonwater::sizing::set::sheet::CompleteSheet;
use noonwater::sizing::set::site::{Site, Solved};
use noonwater::sizing::set::spread::verdict_of;
use noonwater::sizing::set::verdict::Verdict;
use noonwater::sizing::sun::position::SunDay;
use noonwater::sizing::weather::place::MonthClimate;
use noonwater::sizing::{Climate, Market, Place, Sheet, SizingError};
use noonwater::terms::PipeKind;

use crate::common::{class, kito};
use noonwater::terms::{StanceKind, Watering};

/// The year counted with one solver or the other.
pub struct Solver<'c>(pub &'c Circuit, pub fn(&Circuit, Light) -> Result<f64, SizingError>);

impl Lifter for Solver<'_> {
    fn flow_m3_s(&self, light: Light) -> Result<f64, SizingError> {
        self.1(self.0, light)
    }
}

pub fn plainly(circuit: &Circuit, light: Light) -> Result<f64, SizingError> {
    Ok(operating_point_plainly(circuit, light.poa_w_m2, light.cell_c)?.flow_m3_s)
}

fn quickly(circuit: &Circuit, light: Light) -> Result<f64, SizingError> {
    Ok(operating_point(circuit, light)?.flow_m3_s)
}

/// A place of one kind of weather: dull or clear by the share of the extraterrestrial radiation, cold or hot.
fn place(lat_deg: f64, clearness: f64, t_min_c: f64, t_max_c: f64, u2_m_s: f64) -> Climate {
    let months = (1..=12)
        .map(|month| MonthClimate {
            h_kwh_m2_day: Some(clearness * SunDay::of_month(lat_deg, month).expect("in range").extraterrestrial_kwh_m2()),
            t_min_c,
            t_max_c,
            u2_m_s: Some(u2_m_s),
            ..MonthClimate::default()
        })
        .collect();
    let place = Place { name: "Anywhere".to_owned(), lat_deg, months, season_months: vec![6, 7, 8], ..kito().place };
    Climate::new(place).expect("a sound place")
}

/// Places from the coldest to the hottest, from the dullest to the clearest.
fn places() -> Vec<Climate> {
    vec![
        kito(),
        place(-30.0, 0.74, 24.0, 42.0, 0.0),
        place(55.0, 0.30, -12.0, -2.0, 6.0),
        place(10.0, 0.45, 12.0, 30.0, 2.0),
    ]
}

/// Every kind of pump, and the lifts that suit it, low to hardly reached.
fn pumps() -> Vec<(PumpLabel, [f64; 3])> {
    let unprinted =
        PumpLabel { label_v: 24.0, flow_l_h: 9000.0, head_m: 14.0, amps: None, electronics: false, displacement: false };
    vec![
        (class("tiny"), [0.0, 1.5, 3.0]),
        (class("large"), [0.2, 4.5, 8.5]),
        (class("large_24"), [0.2, 4.5, 8.5]),
        (unprinted, [1.0, 7.0, 13.0]),
        (class("high"), [0.5, 12.0, 19.0]),
        (class("higher"), [2.0, 20.0, 32.0]),
    ]
}

#[test]
fn the_year_is_the_plain_solver_s_over_the_whole_range() {
    let mut compared = 0;
    for (place, climate) in places().iter().enumerate() {
        for (kind, (label, lifts)) in pumps().into_iter().enumerate() {
            for (turn, lift_m) in lifts.into_iter().enumerate() {
                // Every stance, a well that holds back, pumps in company, arrays from far too small to far too large: not each
                // with each, but all of them with every pump and in every place.
                let variant = place + kind + turn;
                let sheet = Sheet {
                    lift_m: Some(lift_m),
                    low_m: Some(lift_m * 1.1),
                    pipe_m: Some([8.0, 60.0, 250.0][variant % 3]),
                    bore_mm: [None, Some(25.0), Some(50.0)][(variant / 2) % 3],
                    panel_count: Some([1, 4, 12, 30][variant % 4]),
                    panel_w: Some([50.0, 100.0, 330.0][(variant + turn) % 3]),
                    stance: Some([StanceKind::Flat, StanceKind::Fixed, StanceKind::Turned][variant % 3]),
                    pump_count: Some(if variant % 4 == 0 { 1 } else { [1, 1, 2][(variant + kind) % 3] }),
                    well_l_h: [None, None, Some(0.3 * label.flow_l_h)][(variant + place) % 3],
                    pump: Some(label),
                    ..Sheet::default()
                };
                let filled = sheet.fill(climate.place.lat_deg).expect("in range");
                let site = Site::new(filled, climate).expect("a site");
                let solved = site.solve(&label).expect("a year");
                for month in &solved.months {
                    let circuit = solved.design.circuit_of(month.month, &site.demand);
                    // The plain solver for every other design month, the quick one (held to it light by light elsewhere) for the rest.
                    let solver: fn(&Circuit, Light) -> Result<f64, SizingError> =
                        if month.month == solved.design_month && variant % 2 == 0 { plainly } else { quickly };
                    let pumps = f64::from(site.filled.pump_count);
                    let sky = sky_of(&site.skies, month.month);
                    let slow = month_water(sky, &Solver(circuit, solver), pumps, site.well_share_m3_s()).expect("a month");
                    // Of next to no water a share means nothing: a fifth of a second of the pumps' full flow is let pass.
                    let moment = 0.2 * circuit.pump.free_flow_m3_s * pumps;
                    let what = || format!("{label:?} at {lift_m} m in place {place}: {month:?} {slow:?}");
                    let quick = &month.water;
                    for (quick, slow) in [(quick.water_m3_day, slow.water_m3_day), (quick.poor_day_m3, slow.poor_day_m3)] {
                        assert!((quick - slow).abs() <= 0.002 * slow + moment, "{}", what());
                    }
                    assert!((quick.pumping_hours - slow.pumping_hours).abs() <= 0.051, "{}", what());
                    assert_eq!(quick.panel_kwh_m2_day, slow.panel_kwh_m2_day, "{}", what());
                    compared += usize::from(slow.water_m3_day > 0.0);
                }
            }
        }
    }
    assert!(compared > 500, "{compared} months with water");
}

#[test]
fn a_noon_near_a_known_flow_is_the_same_noon() {
    for (label, lifts) in pumps() {
        for lift_m in lifts {
            let sheet = Sheet {
                lift_m: Some(lift_m),
                pipe_m: Some(60.0),
                panel_count: Some(6),
                panel_w: Some(100.0),
                pump: Some(label),
                ..Sheet::default()
            };
            let climate = kito();
            let site = Site::new(sheet.fill(climate.place.lat_deg).expect("in range"), &climate).expect("a site");
            let circuit = site.design(&label).expect("a set").season_circuit;
            for poa_w_m2 in [120.0, 300.0, 550.0, 800.0, 1100.0] {
                let light = Light { poa_w_m2, cell_c: 20.0 + 0.03 * poa_w_m2 };
                let exact = operating_point(&circuit, light).expect("in range");
                // A good guess, a poor one, one that is far off, none at all.
                for factor in [1.001, 0.9, 1.3, 3.0, 0.01, 0.0, f64::NAN] {
                    let near = operating_point_near(&circuit, light, exact.flow_m3_s * factor).expect("in range");
                    assert!((near.speed - exact.speed).abs() <= 1e-8, "{near:?} {exact:?} from {factor}");
                    assert!(
                        (near.flow_m3_s - exact.flow_m3_s).abs() <= 1e-8 * circuit.pump.free_flow_m3_s,
                        "{near:?} {exact:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn the_bore_is_the_smallest_whose_own_noon_loses_little() {
    let climate = kito();
    let mut seen = std::collections::BTreeSet::new();
    for (label, lifts) in pumps() {
        for lift_m in lifts {
            for (pipe_m, panel_count) in [(5.0, 2), (40.0, 5), (150.0, 5), (900.0, 12)] {
                let sheet = Sheet {
                    lift_m: Some(lift_m),
                    pipe_m: Some(pipe_m),
                    panel_count: Some(panel_count),
                    panel_w: Some(100.0),
                    pump: Some(label),
                    ..Sheet::default()
                };
                let site = Site::new(sheet.fill(climate.place.lat_deg).expect("in range"), &climate).expect("a site");
                let design = site.design(&label).expect("a set");
                // Each bore with a noon of its own, by the plain solver and without the cable.
                let light = bright_noon(sky_of(&site.skies, site.demand.thirstiest()));
                let allowed_m = f64::max(0.5, 0.1 * lift_m);
                let serves = |bore_mm: &f64| {
                    let pipe = Pipe::new(pipe_m, *bore_mm, PipeKind::default()).expect("in range");
                    let circuit = Circuit { pipe, cable_ohm: 0.0, ..design.season_circuit };
                    let noon = operating_point_plainly(&circuit, light.poa_w_m2, light.cell_c).expect("in range");
                    pipe.loss_m(noon.flow_m3_s) <= allowed_m
                };
                let smallest = BORES_MM.into_iter().find(serves).unwrap_or(100.0);
                assert_eq!(design.bore_mm, smallest, "{label:?} at {lift_m} m through {pipe_m} m");
                seen.insert(smallest as u32);
            }
        }
    }
    assert!(seen.len() >= 6, "{seen:?}");
}

/// The search as it reads: every change and every pair of changes worked out whole, with the year, the range and the noon of each,
/// nothing left out for what is known of another.
fn fixes_plainly(site: &Site<'_>, market: &Market) -> Vec<(Vec<Change>, f64, Option<Decimal>)> {
    let label = site.filled.pump.expect("a pump");
    let solved = site.solve(&label).expect("a year");
    let garden_m2 = site.filled.garden_m2.expect("a garden");
    let base = CompleteSheet { bore_mm: Some(solved.design.bore_mm), ..site.filled.clone() };
    let is_over_driven = |site: &Site<'_>, solved: &Solved| {
        let circuit = solved.design.circuit_of(solved.design_month, &site.demand);
        let noon = operating_point(circuit, bright_noon(sky_of(&site.skies, solved.design_month))).expect("in range");
        circuit.pump.over_drive_v().is_some_and(|limit| noon.pump_v > limit)
    };
    assert!(!is_over_driven(site, &solved), "a set that is not over-driven");
    let base_cost = market.first_cost(site, &solved);
    let mut moves: Vec<Change> =
        (1..=4).map(|more| Change::PanelCount(base.panel_count + more * base.pump_count)).collect();
    if base.stance.kind != StanceKind::Turned {
        moves.push(Change::Turned);
    }
    if base.watering == Watering::Furrow {
        moves.push(Change::Watering(Watering::Hose));
        moves.push(Change::Watering(Watering::Drip));
    }
    moves.extend(BORES_MM.into_iter().filter(|bore| *bore > solved.design.bore_mm).take(2).map(Change::BoreMm));
    let sizes = [1.5, 2.5, 4.0, 6.0, 10.0, 16.0];
    moves.extend(sizes.into_iter().filter(|size| *size > solved.design.conductor.size_mm2).take(2).map(Change::WireMm2));
    moves.push(Change::PumpCount(base.pump_count * 2));
    let enough = |changes: &[Change]| {
        let mut filled = base.clone();
        changes.iter().for_each(|change| change.apply(&mut filled));
        let changed = Site::new(filled, site.climate).expect("a site");
        let solved = changed.solve(&label).expect("a year");
        let kit = if changes.contains(&Change::Watering(Watering::Drip)) {
            market.prices.drip_per_m2.map(|each| each * Decimal::try_from(garden_m2).expect("a number"))
        } else {
            Some(Decimal::ZERO)
        };
        let cost = (|| Some((market.first_cost(&changed, &solved)? - base_cost? + kit?).round_dp(2)))();
        (verdict_of(&changed, &solved).expect("a verdict") == Some(Verdict::Enough) && solved.drive == Drive::Fit)
            .then(|| (changes.to_vec(), solved.area_m2(), cost))
    };
    let alone: Vec<_> = moves.iter().map(|change| enough(&[*change])).collect();
    let mut found: Vec<_> = alone.iter().flatten().cloned().collect();
    for first in 0..moves.len() {
        for second in first + 1..moves.len() {
            let is_pair = std::mem::discriminant(&moves[first]) != std::mem::discriminant(&moves[second]);
            if is_pair && alone[first].is_none() && alone[second].is_none() {
                found.extend(enough(&[moves[first], moves[second]]));
            }
        }
    }
    found.sort_by_key(|(changes, _, cost)| (cost.is_none(), *cost, changes.len()));
    found.truncate(3);
    found
}

#[test]
fn the_search_finds_what_trying_everything_finds() {
    let climate = kito();
    let prices = toml::from_str(noonwater::demo::PRICES_TOML).expect("the demo prices read");
    let priced = Market { prices, ..Market::default() };
    let mut found = 0;
    for (lift_m, panels, pump, garden_m2, watering) in [
        (5.0, 3, "large", 3500.0, None),
        (5.0, 3, "large", 5500.0, None),
        (2.5, 2, "middle", 2500.0, None),
        (9.0, 4, "high", 1100.0, None),
        (9.0, 4, "high", 1400.0, Some(Watering::Hose)),
        (4.0, 4, "large_24", 5500.0, None),
    ] {
        for market in [&priced, &Market::default()] {
            let sheet = Sheet {
                lift_m: Some(lift_m),
                pipe_m: Some(60.0),
                panel_count: Some(panels),
                panel_w: Some(80.0),
                pump: Some(class(pump)),
                garden_m2: Some(garden_m2),
                watering,
                ..Sheet::default()
            };
            let site = Site::new(sheet.fill(climate.place.lat_deg).expect("whole"), &climate).expect("a site");
            let solved = site.solve(&class(pump)).expect("a year");
            let searched: Vec<_> = find_fixes(&site, &solved, market)
                .expect("a search")
                .into_iter()
                .filter(|fix| !matches!(fix.changes[..], [Change::GardenM2(_)]))
                .map(|fix| (fix.changes, fix.area_m2, fix.added_cost))
                .collect();
            assert_eq!(searched, fixes_plainly(&site, market), "{pump} at {lift_m} m, {garden_m2} m²");
            found += searched.len();
        }
    }
    assert!(found >= 18, "{found} fixes");
}
