//! The longest values that sayings can have.

use rust_decimal::Decimal;

use crate::language::Field;
use crate::message::limits::LIMITS;
use crate::message::{FactValue, PumpFact, Span, Trouble, TroubleCode};
use crate::sizing::advice::changes::Change;
use crate::sizing::advice::cure::Cure;
use crate::sizing::money::costs::Money;
use crate::sizing::set::verdict::Verdict;
use crate::talk::{Assumption, Compared, Known, Outcome, PlaceSource, ProposedSet, Safety, Say};
use crate::terms::{StanceKind, Watering};
use crate::units::{Quantity, Unit};

/// A number as long as any that a reply writes.
const LONG: f64 = 99_999.5;

/// A word as long as any that a reply says back.
pub const LONG_WORD: &str = "wwwwwwwwwwwwwwwwwwwwwwww";

/// An amount as long as a whole set costs in a small unit of money.
const LONG_AMOUNT: i64 = 99_999_999;

pub fn took_word() -> Say {
    Say::TookWord(LONG_WORD.to_owned())
}

pub fn only_start_read() -> Say {
    Say::OnlyStartRead
}

pub fn passed_over() -> Say {
    Say::PassedOver(vec![LONG_WORD.to_owned(); 3])
}

/// A sheet with nothing left out.
pub fn told() -> Say {
    let mut known = Known::default();
    let facts = [
        FactValue::LiftM(99.95),
        FactValue::LowM(99.95),
        FactValue::PipeM(1999.95),
        FactValue::BoreMm(199.95),
        FactValue::Panel { count: Some(199), each_w: Some(999.5), total_w: None },
        FactValue::Stance { code: StanceKind::Turned, tilt_deg: Some(89.5) },
        FactValue::Pump(PumpFact {
            label_v: Some(399.5),
            flow_l_h: Some(99_999.0),
            head_m: Some(199.95),
            amps: Some(99.5),
            electronics: Some(false),
            displacement: None,
            count: Some(10),
            class: None,
        }),
        FactValue::SuctionM(9.5),
        FactValue::WellLH(199_999.0),
        FactValue::GardenM2(99_999.0),
        FactValue::Crop("mixed_vegetables".to_owned()),
        FactValue::Soil("sandy_loam".to_owned()),
        FactValue::Month(9),
        FactValue::Watering(Watering::Sprinkler),
        FactValue::WireM(199.95),
        FactValue::WireMm2(49.5),
        FactValue::Place(LONG_WORD.to_owned()),
    ];
    facts.iter().for_each(|fact| known.tell(fact));
    Say::Told(Box::new(known))
}

pub fn assumed() -> Say {
    Say::Assumed(vec![
        Assumption::Pump { label_v: 399.5, flow_l_h: 99_999.0, head_m: 199.5 },
        Assumption::PumpVolts(399.5),
        Assumption::BoreMm(199.5),
        Assumption::Panels { count: 199, watts: 999.5 },
        Assumption::Flat,
        Assumption::Crop("mixed_vegetables"),
        Assumption::Watering("sprinkler"),
        Assumption::Place(LONG_WORD.to_owned()),
    ])
}

pub fn answers() -> Vec<Say> {
    let verdicts = [None, Some(Verdict::Enough), Some(Verdict::Tight), Some(Verdict::Short), Some(Verdict::Unfit)];
    let answers = verdicts.into_iter().flat_map(|verdict| {
        (1..=12).map(move |month| Say::Answer { verdict, water_m3_day: 999.0, area_m2: Some(99_000.0), month })
    });
    let no_need = (1..=12).map(|month| Say::Answer { verdict: None, water_m3_day: 999.0, area_m2: None, month });
    answers.chain(no_need).collect()
}

pub fn no_water() -> Vec<Say> {
    vec![Say::NoWater { lift_m: 99.5 }]
}

/// What is proposed is enough.
pub fn enough() -> Vec<Say> {
    let is_enough = |say: &Say| matches!(say, Say::Answer { verdict: Some(Verdict::Enough), .. });
    answers().into_iter().filter(is_enough).collect()
}

pub fn cautions() -> Vec<Say> {
    Safety::ALL.into_iter().map(Say::Safety).chain([Say::HighVoltage]).collect()
}

/// All four wordings: a town, a spot, a spot at the town's altitude, a spot too far from it.
pub fn climates() -> Vec<Say> {
    let source = |distance_km: f64, alt_assumed: bool, rough: bool| PlaceSource {
        kind: "spot",
        source: None,
        station: Some(LONG_WORD.to_owned()),
        country: None,
        distance_km: Some(distance_km),
        station_alt_m: Some(9999.0),
        alt_m: 9999.0,
        alt_assumed,
        rough,
    };
    [source(0.0, false, false), source(999.0, false, false), source(999.0, true, false), source(9999.0, true, true)]
        .into_iter()
        .map(|source| Say::Climate { source: Box::new(source), is_new: true })
        .collect()
}

pub fn wires() -> Vec<Say> {
    let wire = |breaker_a, string_fuse_a| Say::Wire { wire_m: 199.5, size_mm2: 49.5, breaker_a, string_fuse_a };
    vec![wire(Some(63.0), Some(30.0)), wire(None, Some(30.0)), wire(Some(63.0), None), wire(None, None)]
}

/// A cable that can burn, with the one to take and without.
pub fn burns() -> Vec<Say> {
    [Some(16.0), None].map(|take_mm2| Say::WireBurns { size_mm2: 2.5, take_mm2 }).to_vec()
}

/// Panels joined in each way.
pub fn joins() -> Vec<Say> {
    let joined = |series, parallel| Say::Joined { series, parallel, unused: 19 };
    vec![joined(1, 99), joined(99, 1), joined(19, 19)]
}

/// A pump driven too hard: with fewer panels enough, or less, or never well.
pub fn over_driven() -> Vec<Say> {
    let cure = |verdict| Some(Cure { panel_count: 99, verdict: Some(verdict), area_m2: Some(99_000.0) });
    [cure(Verdict::Enough), cure(Verdict::Short), None].map(|cure| Say::OverDriven { cure }).to_vec()
}

pub fn bores() -> Vec<Say> {
    [true, false].map(|is_told| Say::Bore { is_told, pipe_m: 1999.5, bore_mm: 199.5, pipe_loss_m: 99.5 }).to_vec()
}

/// Changes come alone or in pairs.
pub fn fixes(place: usize) -> Vec<Say> {
    let mut changes = vec![
        Change::BoreMm(199.5),
        Change::PanelCount(199),
        Change::Turned,
        Change::PumpCount(19),
        Change::WireMm2(49.5),
        Change::GardenM2(99_999.0),
    ];
    changes.extend(Watering::ALL.map(Change::Watering));
    let amount = Decimal::from(LONG_AMOUNT);
    let costs = [Some(amount), Some(-amount), Some(Decimal::ZERO), None];
    let mut all = Vec::new();
    for (at, first) in changes.iter().enumerate() {
        for second in &changes[at..] {
            let changes = if first == second { vec![*first] } else { vec![*first, *second] };
            all.extend(costs.map(|added_cost| Say::Fix {
                place,
                changes: changes.clone(),
                area_m2: 99_000.0,
                added_cost,
                currency: "XTS".to_owned(),
            }));
        }
    }
    all
}

pub fn proposals() -> Vec<Say> {
    [Some(Decimal::from(LONG_AMOUNT)), None]
        .map(|first_cost| {
            Say::Proposal(Box::new(ProposedSet {
                panel_count: 99,
                panel_w: 450.0,
                pump_count: 4,
                label_v: 110.0,
                flow_l_h: 15_000.0,
                bore_mm: 110.0,
                wire_mm2: 50.0,
                breaker_a: Some(63.0),
                first_cost,
                currency: "XTS".to_owned(),
            }))
        })
        .to_vec()
}

pub fn costs() -> Vec<Say> {
    let amount = Some(Decimal::from(LONG_AMOUNT));
    let money = |first_cost, yearly_cost, payback_days| {
        Say::Cost(Box::new(Money {
            currency: "XTS".to_owned(),
            first_cost,
            yearly_cost,
            petrol_first_cost: amount,
            petrol_yearly_cost: amount,
            payback_days,
            missing: Vec::new(),
            with_interest: None,
            cash_flow: None,
            petrol_cash_flow: None,
        }))
    };
    vec![
        money(amount, amount, Some(9999.0)),
        money(amount, amount, Some(0.0)),
        money(amount, None, None),
        money(None, None, None),
    ]
}

fn trouble(field: Option<Field>, code: TroubleCode) -> Trouble {
    Trouble { at: Span { start: 0, end: 0 }, code, field }
}

pub fn refusals() -> Vec<Trouble> {
    let ranges = LIMITS.iter().map(|limit| {
        let ((low, high), unit) = (limit.possible, limit.unit);
        trouble(limit.field, TroubleCode::OutOfRange { low, high, value: LONG, unit })
    });
    let by_field = Field::ALL.into_iter().flat_map(|field| {
        [
            TroubleCode::WrongUnit { unit: Some(Unit::Watt), wants: Quantity::Length },
            TroubleCode::UnknownUnit,
            TroubleCode::NoNumber,
            TroubleCode::NotWhole { value: LONG },
            TroubleCode::OneNumber,
        ]
        .map(|code| trouble(Some(field), code))
    });
    let others = [
        trouble(Some(Field::Pump), TroubleCode::WhichGallon { gallons_h: LONG }),
        trouble(None, TroubleCode::WhichField { fields: Vec::new(), value: LONG }),
        trouble(None, TroubleCode::TestIncomplete),
    ];
    ranges.chain(by_field).chain(others).collect()
}

pub fn doubts() -> Vec<Trouble> {
    let unusual = LIMITS.iter().map(|limit| {
        let ((low, high), unit) = (limit.usual, limit.unit);
        trouble(limit.field, TroubleCode::Unusual { low, high, value: LONG, unit })
    });
    let below = trouble(Some(Field::Low), TroubleCode::LowBelowLift { lift_m: 99.55, low_m: 99.45 });
    unusual.chain([below]).collect()
}

/// That the figures are the set's own.
pub fn own() -> Vec<Say> {
    vec![Say::OwnNumbers { tests: 12 }]
}

/// A set beside itself with something changed: of a pump a whole label at most.
pub fn changed() -> Vec<Say> {
    let outcome = Outcome { verdict: Some(Verdict::Tight), water_m3_day: 999.0, area_m2: Some(99_500.0) };
    let pump = PumpFact {
        label_v: Some(399.5),
        flow_l_h: Some(99_999.0),
        head_m: Some(199.5),
        amps: Some(99.5),
        ..PumpFact::default()
    };
    [FactValue::Pump(pump), FactValue::Panel { count: Some(199), each_w: Some(999.5), total_w: None }]
        .map(|fact| Say::Compared(Box::new(Compared { changed: vec![fact], now: outcome, then: outcome })))
        .to_vec()
}

/// Good hours in every month.
pub fn hours() -> Vec<Say> {
    (1..=12).map(|month| Say::GoodHours { month, from_h: 10.5, to_h: 17.5 }).collect()
}
