//! Money over the years. The factors are those of the interest tables that stand in every textbook of engineering economics,
//! six decimals; what is worked out from them follows from the published formula by hand.

use noonwater::demo::PRICES_TOML;
use noonwater::pricefile;
use noonwater::sizing::money::cash_flow::{CashFlow, Paid, capital_recovery, even_from, paid_by_month, present_worth};
use noonwater::sizing::money::costs::{Money, PriceList};
use noonwater::sizing::weather::place::DAYS_IN_MONTH;
use noonwater::sizing::{Advice, Market, Sheet, advise};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::common::{class, kito, near};

fn d(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

fn f(amount: Decimal) -> f64 {
    amount.to_f64().expect("a float")
}

#[test]
fn capital_recovery_is_that_of_the_interest_tables() {
    for (rate, years, published) in [("0.10", "5", 0.263_797), ("0.10", "10", 0.162_745), ("0.12", "3", 0.416_349)] {
        let factor = capital_recovery(d(rate), d(years)).expect("in range");
        near(&format!("CRF {rate} {years}"), f(factor), published, 5e-7);
    }
    // 1000 lent at 10 % for 5 years is paid back with 263.80 a year.
    let a_year = d("1000") * capital_recovery(d("0.1"), d("5")).expect("in range");
    assert_eq!(a_year.round_dp(2), d("263.80"));
}

#[test]
fn without_interest_a_sum_is_paid_back_in_equal_parts() {
    for years in ["1", "4", "12.5", "20"] {
        assert_eq!(capital_recovery(Decimal::ZERO, d(years)), Some(Decimal::ONE / d(years)));
        assert_eq!(present_worth(Decimal::ZERO, d(years)), Some(Decimal::ONE));
        // And the formula tends there.
        let nearly = capital_recovery(d("0.000001"), d(years)).expect("in range");
        near(&format!("CRF near 0, {years}"), f(nearly), 1.0 / f(d(years)), 1e-6);
    }
    for (rate, years) in [("-0.1", "5"), ("0.1", "0"), ("0", "0"), ("0.1", "-1")] {
        assert_eq!(capital_recovery(d(rate), d(years)), None, "{rate} {years}");
    }
    assert_eq!(present_worth(d("0.1"), d("-1")), None);
}

#[test]
fn later_payments_are_worth_less_at_the_start() {
    let factor = present_worth(d("0.10"), d("5")).expect("in range");
    near("P/F 10 %, 5", f(factor), 0.620_921, 5e-7);
    // 5 a day for the 300 days of a season, 3 years long, at 10 %: 1500 (P/A 10 %, 3) = 1500 x 2.486852.
    let fuel =
        CashFlow { first: Decimal::ZERO, renewal: Decimal::ZERO, renewal_years: None, fuel_yearly: d("5") * d("300") };
    assert_eq!(fuel.present_value(d("0.1"), d("3")).expect("in range").round_dp(2), d("3730.28"));
    // A pump of 100 bought again after 2 and 4 of 5 years: 100 (1 + 1.1^-2 + 1.1^-4) = 100 (1 + 0.826446 + 0.683013).
    let pump = CashFlow { first: d("100"), renewal: d("100"), renewal_years: Some(d("2")), fuel_yearly: Decimal::ZERO };
    assert_eq!(pump.present_value(d("0.1"), d("5")).expect("in range").round_dp(2), d("250.95"));
    // Without interest it is what has been paid.
    for course in [fuel, pump] {
        assert_eq!(course.present_value(Decimal::ZERO, d("5")), Some(course.paid(d("5"))));
    }
}

fn courses(first: &str, renewal: &str, life: &str) -> Vec<Paid> {
    let set = CashFlow { first: d(first), renewal: d(renewal), renewal_years: Some(d(life)), fuel_yearly: Decimal::ZERO };
    let petrol = CashFlow { first: d("180"), renewal: d("180"), renewal_years: Some(d("4")), fuel_yearly: d("120") };
    paid_by_month(&set, &petrol, 5)
}

#[test]
fn costs_step_up_when_a_pump_is_bought_again() {
    // 300 + 30 every year and a half against 180 + 10 a month + 180 after four years, by hand.
    let months = courses("300", "30", "1.5");
    let paid = |month: usize| (months[month].set.normalize(), months[month].petrol.round_dp(6).normalize());
    assert_eq!(months.len(), 61);
    assert_eq!(paid(0), (d("300"), d("180")));
    assert_eq!(paid(12), (d("300"), d("300")));
    // Worn out at that very moment, bought by the next month.
    assert_eq!(paid(18), (d("300"), d("360")));
    assert_eq!(paid(19), (d("330"), d("370")));
    assert_eq!(paid(48), (d("360"), d("660")));
    assert_eq!(paid(49), (d("360"), d("850")));
    assert_eq!(paid(60), (d("390"), d("960")));
}

#[test]
fn even_means_for_good() {
    assert_eq!(even_from(&courses("300", "30", "1.5")), Some(12));
    // Even at 7 months, behind again with each pump; 250 + 2 x 100 = 180 + 10 x 27 is the last time.
    assert_eq!(even_from(&courses("250", "100", "1")), Some(27));
    assert_eq!(even_from(&courses("170", "10", "2")), Some(0));
    assert_eq!(even_from(&courses("2000", "10", "2")), None);
    assert_eq!(even_from(&[]), None);
}

fn money_at(percent: Option<&str>) -> Money {
    let mut prices = pricefile::parse(PRICES_TOML, false).expect("the demo prices");
    prices.interest_percent = percent.map(d);
    let sheet = Sheet {
        lift_m: Some(5.0),
        pipe_m: Some(40.0),
        panel_count: Some(5),
        panel_w: Some(80.0),
        garden_m2: Some(1500.0),
        ..Sheet::default()
    };
    let climate = kito();
    let market = Market { prices, ..Market::default() };
    advise(&sheet.fill(climate.place.lat_deg).expect("whole"), &climate, &market).expect("in range").money
}

#[test]
fn interest_makes_a_year_dearer_and_none_leaves_it_as_it_was() {
    let without = money_at(None);
    assert_eq!(without.with_interest, None);
    let at_zero = money_at(Some("0"));
    let told = at_zero.with_interest.expect("a rate is stated");
    assert_eq!((told.yearly_cost, told.petrol_yearly_cost), (without.yearly_cost, without.petrol_yearly_cost));

    let dearer = money_at(Some("12"));
    let told = dearer.with_interest.expect("a rate is stated");
    let set = dearer.cash_flow.expect("all has a price");
    // The same by floats: a 46 kt panel five times over 20 years, the pumps over their years, the rest at 12 %.
    let factor = |years: f64| 0.12 * 1.12_f64.powf(years) / (1.12_f64.powf(years) - 1.0);
    let (pumps, panels) = (f(set.renewal), 5.0 * 46.0);
    let rest = f(set.first) - pumps - panels;
    let expected = pumps * factor(f(set.renewal_years.expect("it runs"))) + panels * factor(20.0) + rest * 0.12;
    near("a year with interest", f(told.yearly_cost.expect("priced")), expected, 0.01);
    assert!(told.yearly_cost > without.yearly_cost && told.petrol_yearly_cost > without.petrol_yearly_cost);
}

#[test]
fn what_has_no_price_has_no_course_and_is_named() {
    let mut prices = pricefile::parse(PRICES_TOML, false).expect("the demo prices");
    prices.petrol = None;
    prices.cart = None;
    let sheet =
        Sheet { lift_m: Some(5.0), pipe_m: Some(40.0), panel_count: Some(5), panel_w: Some(80.0), ..Sheet::default() };
    let climate = kito();
    let market = Market { prices, ..Market::default() };
    let advice = advise(&sheet.fill(climate.place.lat_deg).expect("whole"), &climate, &market).expect("in range");
    assert_eq!((advice.money.cash_flow, advice.money.petrol_cash_flow), (None, None));
    assert_eq!(advice.money.missing, ["cart", "petrol"]);
}

/// A set of no told pump in the demo valley, with its money.
fn advised(garden_m2: Option<f64>, change: impl Fn(&mut PriceList)) -> (Advice, Market) {
    let mut prices = pricefile::parse(PRICES_TOML, false).expect("the demo prices");
    change(&mut prices);
    let sheet = Sheet {
        lift_m: Some(3.0),
        pipe_m: Some(30.0),
        panel_count: Some(3),
        panel_w: Some(100.0),
        garden_m2,
        ..Sheet::default()
    };
    let climate = kito();
    let market = Market { prices, ..Market::default() };
    let advice = advise(&sheet.fill(climate.place.lat_deg).expect("whole"), &climate, &market).expect("in range");
    (advice, market)
}

#[test]
fn a_pump_wears_by_the_hours_that_the_garden_needs() {
    // By hand from the year's own figures: a month's need over its mean flow while water comes, all its hours at most.
    let season = kito().place.season_months;
    for garden_m2 in [300.0, 900.0, 50_000.0] {
        let (advice, market) = advised(Some(garden_m2), |_| {});
        let hours: f64 = advice
            .months
            .iter()
            .filter(|month| season.contains(&month.month))
            .map(|month| {
                let flow_m3_h = month.water.water_m3_day / month.water.pumping_hours;
                let needed = month.need_l_m2_day * garden_m2 / 1000.0 / flow_m3_h;
                needed.min(month.water.pumping_hours) * DAYS_IN_MONTH[usize::from(month.month) - 1]
            })
            .sum();
        let class = market.classes.iter().find(|class| Some(&class.name) == advice.sheet.pump.class.as_ref());
        let class = class.expect("a class of the market's");
        let pump = f(*market.prices.pump.get(&class.name).expect("priced"));
        let expected = pump * hours / class.life_h + 3.0 * 55.0 / 20.0;
        near("a year", f(advice.money.yearly_cost.expect("priced")), expected, 0.01);
    }
    let yearly = |garden_m2| advised(garden_m2, |_| {}).0.money.yearly_cost;
    assert!(yearly(Some(300.0)) < yearly(Some(900.0)), "a small garden wears less");
    assert_eq!(yearly(None), yearly(Some(50_000.0)), "with no garden told, all that it can run");
}

#[test]
fn one_month_of_payback() {
    let (advice, _) = advised(Some(900.0), |_| {});
    let (set, petrol) = (advice.money.cash_flow.expect("priced"), advice.money.petrol_cash_flow.expect("priced"));
    let month = advice.money.payback_months.expect("within the years looked at");
    // By the definition, with the sums of each month written out: before it the set has cost more, from it on never again.
    let paid = |month: u32| {
        let years = Decimal::from(month) / Decimal::from(12);
        (set.paid(years), petrol.paid(years))
    };
    assert!(month == 0 || paid(month - 1).0 > paid(month - 1).1);
    assert!((month..=60).map(paid).all(|(set, petrol)| set <= petrol));
    near("days", advice.money.payback_days.expect("as months"), f64::from(month) * 365.0 / 12.0, 1e-9);
}

#[test]
fn all_parts_has_the_small_ones_and_names_those_without_a_price() {
    let bare = |prices: &mut PriceList| (prices.rope_per_m, prices.float, prices.clamp) = (None, None, None);
    let (all, _) = advised(Some(900.0), |_| {});
    let (without, _) = advised(Some(900.0), bare);
    assert_eq!(without.money.missing, ["rope", "float", "clamp"]);
    // Two ropes of the lift and 5 m, a float, two clamps, at the demo's prices: 16 m x 0.2 + 3 + 2 x 0.8.
    let small = all.money.first_cost.expect("priced") - without.money.first_cost.expect("the rest is");
    assert_eq!(small, d("7.8"));
}

#[test]
fn fuses_that_are_advised_are_in_the_sum() {
    // Four rows of 150 W: three push more than 15 A back into the fourth, so each has its fuse (IEC 62548).
    let of = |change: fn(&mut PriceList)| {
        let mut prices = pricefile::parse(PRICES_TOML, false).expect("the demo prices");
        change(&mut prices);
        let sheet =
            Sheet { lift_m: Some(4.0), pipe_m: Some(40.0), panel_count: Some(4), panel_w: Some(150.0), ..Sheet::default() };
        let sheet = Sheet { pump: Some(class("large")), ..sheet };
        let climate = kito();
        let market = Market { prices, ..Market::default() };
        advise(&sheet.fill(climate.place.lat_deg).expect("whole"), &climate, &market).expect("in range")
    };
    let fused = of(|_| {});
    let amps = fused.wire.string_fuse_a.expect("strings want fuses");
    let unpriced = of(|prices| prices.fuse.clear());
    assert_eq!(unpriced.money.missing, [format!("fuse {amps}")]);
    let fuses = fused.money.first_cost.expect("priced") - unpriced.money.first_cost.expect("the rest is");
    assert!(fuses >= d("12"), "{fuses}");
}
