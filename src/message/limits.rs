//! What is possible and what is usual, field by field. Outside the possible nothing is taken; outside the usual it is
//! taken and asked back once. All ranges are common practice of small-scale irrigation.

use crate::language::Field;
use crate::units::Unit;

use super::reading::TroubleCode;

/// One kind of number that a message can carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Lift,
    Low,
    Pipe,
    Bore,
    PanelCount,
    PanelEach,
    PanelTotal,
    Tilt,
    PumpVolts,
    PumpFlow,
    PumpHead,
    PumpAmps,
    PumpCount,
    Suction,
    Well,
    Garden,
    Month,
    Wire,
    WireSize,
    TestLitres,
    TestSeconds,
    TestOutlet,
}

/// The ranges of one kind of number, ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    pub kind: Kind,
    /// None for a test, which is no field of the sheet.
    pub field: Option<Field>,
    /// What the ranges are counted in; None for a plain count.
    pub unit: Option<Unit>,
    pub possible: (f64, f64),
    pub usual: (f64, f64),
}

const fn limit(kind: Kind, field: Option<Field>, unit: Option<Unit>, possible: (f64, f64), usual: (f64, f64)) -> Limit {
    Limit { kind, field, unit, possible, usual }
}

/// Every limit, in the order of [`Kind`].
#[rustfmt::skip]
pub const LIMITS: [Limit; 22] = {
    use Field as F;
    use Unit as U;
    [
        limit(Kind::Lift, Some(F::Lift), Some(U::Metre), (0.0, 100.0), (1.0, 15.0)),
        limit(Kind::Low, Some(F::Low), Some(U::Metre), (0.0, 100.0), (1.0, 15.0)),
        limit(Kind::Pipe, Some(F::Pipe), Some(U::Metre), (1.0, 2_000.0), (5.0, 300.0)),
        limit(Kind::Bore, Some(F::Bore), Some(U::Millimetre), (10.0, 200.0), (19.0, 100.0)),
        limit(Kind::PanelCount, Some(F::Panel), None, (1.0, 200.0), (1.0, 200.0)),
        limit(Kind::PanelEach, Some(F::Panel), Some(U::Watt), (5.0, 1_000.0), (5.0, 1_000.0)),
        limit(Kind::PanelTotal, Some(F::Panel), Some(U::Watt), (5.0, 20_000.0), (40.0, 3_000.0)),
        limit(Kind::Tilt, Some(F::Stance), Some(U::Degree), (0.0, 90.0), (0.0, 90.0)),
        limit(Kind::PumpVolts, Some(F::Pump), Some(U::Volt), (6.0, 400.0), (6.0, 400.0)),
        limit(Kind::PumpFlow, Some(F::Pump), Some(U::LitrePerHour), (100.0, 100_000.0), (100.0, 100_000.0)),
        limit(Kind::PumpHead, Some(F::Pump), Some(U::Metre), (1.0, 200.0), (1.0, 200.0)),
        limit(Kind::PumpAmps, Some(F::Pump), Some(U::Ampere), (0.2, 100.0), (0.2, 100.0)),
        limit(Kind::PumpCount, Some(F::Pump), None, (1.0, 10.0), (1.0, 10.0)),
        limit(Kind::Suction, Some(F::Suction), Some(U::Metre), (0.0, 10.0), (0.0, 8.0)),
        limit(Kind::Well, Some(F::Well), Some(U::LitrePerHour), (50.0, 200_000.0), (200.0, 20_000.0)),
        limit(Kind::Garden, Some(F::Garden), Some(U::SquareMetre), (1.0, 100_000.0), (50.0, 20_000.0)),
        limit(Kind::Month, Some(F::Month), None, (1.0, 12.0), (1.0, 12.0)),
        limit(Kind::Wire, Some(F::Wire), Some(U::Metre), (0.5, 200.0), (2.0, 50.0)),
        limit(Kind::WireSize, Some(F::Wire), Some(U::SquareMillimetre), (0.5, 50.0), (0.5, 50.0)),
        limit(Kind::TestLitres, None, Some(U::Litre), (0.1, 10_000.0), (0.1, 10_000.0)),
        limit(Kind::TestSeconds, None, Some(U::Second), (0.5, 36_000.0), (0.5, 36_000.0)),
        limit(Kind::TestOutlet, None, Some(U::Metre), (0.0, 100.0), (0.0, 100.0)),
    ]
};

impl Kind {
    /// The ranges of this kind.
    pub fn limit(self) -> &'static Limit {
        &LIMITS[self as usize]
    }

    /// Whether a value in the limit's unit is possible.
    pub fn possible(self, value: f64) -> bool {
        let (low, high) = self.limit().possible;
        (low..=high).contains(&value)
    }

    /// The trouble with a value, if there is one.
    pub fn trouble(self, value: f64) -> Option<TroubleCode> {
        let Limit { unit, possible, usual, .. } = *self.limit();
        if !self.possible(value) {
            let (low, high) = possible;
            return Some(TroubleCode::OutOfRange { low, high, value, unit });
        }
        let (low, high) = usual;
        (!(low..=high).contains(&value)).then_some(TroubleCode::Unusual { low, high, value, unit })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_stand_in_the_order_of_their_kinds() {
        for (at, limit) in LIMITS.iter().enumerate() {
            assert_eq!(limit.kind as usize, at);
            assert!(limit.possible.0 <= limit.usual.0 && limit.usual.1 <= limit.possible.1, "{limit:?}");
            assert!(limit.usual.0 < limit.usual.1);
        }
    }

    #[test]
    fn a_value_outside_is_refused_and_a_seldom_one_asked() {
        assert_eq!(Kind::Lift.trouble(5.0), None);
        assert_eq!(Kind::Lift.trouble(100.5).map(|code| code.code()), Some("out_of_range"));
        assert_eq!(Kind::Lift.trouble(40.0).map(|code| code.code()), Some("unusual"));
        assert_eq!(Kind::Lift.trouble(f64::INFINITY).map(|code| code.code()), Some("out_of_range"));
    }
}
