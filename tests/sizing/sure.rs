//! How sure a figure is: the range against a simulation, and what the verdict makes of it.

use noonwater::sizing::advice::changes::find_fixes;
use noonwater::sizing::set::site::Site;
use noonwater::sizing::set::spread::{
    Case, DUST_SPREAD, LABEL_SPREAD, LIFT_SPREAD_M, verdict_of, water_in_case, water_range,
};
use noonwater::sizing::set::verdict::Verdict;
use noonwater::sizing::{Climate, Market, Sheet};
use proptest::prelude::*;

use crate::common::{class, kito};

/// Standard deviations in the half-width that nine cases in ten keep to (normal distribution).
const NINE_IN_TEN: f64 = 1.645;

/// A repeatable source of standard normal numbers: the sum of twelve uniform ones less six, from a linear congruence with
/// the constants of Knuth's MMIX.
struct Dice(u64);

impl Dice {
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }

    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn site<'c>(climate: &'c Climate, sheet: Sheet) -> Site<'c> {
    Site::new(sheet.fill(climate.place.lat_deg).expect("a whole sheet"), climate).expect("a site")
}

fn sheet(lift_m: f64, panel_count: u32, pump: &str, garden_m2: f64) -> Sheet {
    Sheet {
        lift_m: Some(lift_m),
        pipe_m: Some(40.0),
        panel_count: Some(panel_count),
        panel_w: Some(80.0),
        pump: Some(class(pump)),
        garden_m2: Some(garden_m2),
        ..Sheet::default()
    }
}

#[test]
fn nine_outcomes_in_ten_fall_inside_the_range() {
    let climate = kito();
    for (lift_m, panels, pump) in [(4.0, 5, "large"), (5.0, 3, "large"), (3.0, 2, "middle"), (10.0, 4, "high")] {
        let site = site(&climate, sheet(lift_m, panels, pump, 1500.0));
        let pump = site.filled.pump.expect("a pump");
        let solved = site.solve(&pump).expect("a year");
        let range = water_range(&site, &solved).expect("a range");
        let mut dice = Dice(20);
        let mut draw = |half_width: f64| dice.normal() * half_width / NINE_IN_TEN;
        let inside = (0..400)
            .filter(|_| {
                let case = Case {
                    radiation: 1.0 + draw(climate.radiation_spread),
                    light: 1.0 + draw(DUST_SPREAD),
                    label: draw(LABEL_SPREAD),
                    lift_m: draw(LIFT_SPREAD_M),
                };
                let water = water_in_case(&site, &solved, case).expect("a case in range");
                (range.low_m3_day..=range.high_m3_day).contains(&water)
            })
            .count();
        // Nine in ten of 400 is 360; three standard deviations of that count are 18, and the water is not quite linear.
        assert!((336..=384).contains(&inside), "lift {lift_m}: {inside} of 400 in {range:?}");
    }
}

#[test]
fn a_set_that_is_enough_only_if_all_goes_well_is_tight() {
    let climate = kito();
    let base = site(&climate, sheet(5.0, 4, "large", 1.0));
    let solved = base.solve(&base.filled.pump.expect("a pump")).expect("a year");
    let need = solved.month().need_l_m2_day;
    let low_m2 = water_range(&base, &solved).expect("a range").low_m3_day * 1000.0 / need;
    let judged = site(&climate, sheet(5.0, 4, "large", low_m2 / 0.9 * 1.01));
    let verdict = verdict_of(&judged, &solved).expect("a verdict");
    assert_ne!(verdict, Some(Verdict::Enough));
    let smaller = site(&climate, sheet(5.0, 4, "large", (low_m2 / 0.9).min(solved.area_m2() / 1.1) * 0.99));
    assert_eq!(verdict_of(&smaller, &solved).expect("a verdict"), Some(Verdict::Enough));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_fix_really_is_enough_when_it_is_made(
        lift_m in 2.0..9.0_f64,
        panels in 2_u32..7,
        pump in prop::sample::select(vec!["small", "middle", "large", "large_24", "high"]),
        garden_m2 in 300.0..9000.0_f64,
    ) {
        let climate = kito();
        let market = Market::default();
        let site = site(&climate, sheet(lift_m, panels, pump, garden_m2));
        let pump = site.filled.pump.expect("a pump");
        let solved = site.solve(&pump).expect("a year");
        let fixes = find_fixes(&site, &solved, &market).expect("a search");
        prop_assert!(fixes.len() <= 4);
        for fix in fixes {
            let mut filled = site.filled.clone();
            filled.bore_mm = Some(solved.design.bore_mm);
            fix.changes.iter().for_each(|change| change.apply(&mut filled));
            let changed = Site::new(filled, &climate).expect("a site");
            let again = changed.solve(&pump).expect("a year");
            prop_assert_eq!(verdict_of(&changed, &again).expect("a verdict"), Some(Verdict::Enough), "{:?}", fix);
            prop_assert!((again.area_m2() / fix.area_m2 - 1.0).abs() < 1e-9, "{:?}", fix);
        }
    }
}
