//! What the numbers of a pump's label and of a bucket test can be.

use crate::units::Quantity as Measured;

use super::items::{Quantity, Said, Shape};
use super::limits::Kind;
use super::roles::{Match, Role, bare, matches, whole};

/// The cost of a number without a unit on a label whose other numbers have theirs.
const BARE_BESIDE_UNITS: u32 = 2;
/// Up to here a number right after the word for the pump, before values with units, counts pumps: "pump 2 12v".
const MOST_PUMPS_FIRST: f64 = 4.0;
/// Voltages printed on pump labels (practice); a number without a unit is taken as volts only when it is one of them.
const LABEL_VOLTS: [f64; 10] = [6.0, 12.0, 18.0, 24.0, 36.0, 48.0, 60.0, 72.0, 96.0, 110.0];

pub fn pump(values: &[&Said], before: usize, roles: &mut [Role]) -> Option<u32> {
    let mut taken = [false; 5];
    let slot = |kind: Kind| match kind {
        Kind::PumpVolts => 0,
        Kind::PumpFlow => 1,
        Kind::PumpHead => 2,
        Kind::PumpAmps => 3,
        _ => 4,
    };
    let mut take = |kind: Kind| !std::mem::replace(&mut taken[slot(kind)], true);
    let by_unit = |quantity: &Quantity| match quantity.measured()? {
        Measured::Voltage => Some(Kind::PumpVolts),
        Measured::Flow => Some(Kind::PumpFlow),
        Measured::Length => Some(Kind::PumpHead),
        Measured::Current => Some(Kind::PumpAmps),
        _ => None,
    };
    let with_units = values.iter().any(|said| !matches!(said.shape, Shape::One(quantity) if quantity.measure.is_none()));
    let mut cost = 0;
    // Numbers without units follow the order of the label: volts, flow, head, amps.
    let mut latest = 0;
    for (said, role) in values.iter().zip(roles.iter_mut()) {
        *role = match &said.shape {
            Shape::One(quantity) if quantity.measure.is_none() => continue,
            Shape::One(quantity) => match by_unit(quantity) {
                Some(kind) if take(kind) => Role::Take(kind),
                Some(_) => return None,
                None => Role::WrongUnit(Measured::Flow),
            },
            Shape::Counted(_) if take(Kind::PumpCount) => Role::Take(Kind::PumpCount),
            Shape::Product(count, quantity) if bare(count) => match by_unit(quantity) {
                Some(kind) if take(kind) && take(Kind::PumpCount) => Role::CountTimes(kind),
                _ => Role::OneNumber,
            },
            _ => Role::OneNumber,
        };
    }
    for (at, (said, role)) in values.iter().zip(roles.iter_mut()).enumerate() {
        let Shape::One(quantity) = &said.shape else { continue };
        if quantity.measure.is_some() {
            continue;
        }
        let number = quantity.number;
        let counts = (at < before && number <= 10.0) || (at == 0 && number <= MOST_PUMPS_FIRST && with_units);
        *role = if counts && whole(number) && take(Kind::PumpCount) {
            Role::Take(Kind::PumpCount)
        } else if LABEL_VOLTS.contains(&number) && take(Kind::PumpVolts) {
            Role::Take(Kind::PumpVolts)
        } else {
            let rest = [Kind::PumpFlow, Kind::PumpHead, Kind::PumpAmps].into_iter().enumerate().skip(latest);
            let next = rest.filter(|(_, kind)| kind.possible(number)).find(|(_, kind)| take(*kind));
            match next {
                Some((place, kind)) => {
                    latest = place + 1;
                    cost += BARE_BESIDE_UNITS * u32::from(with_units);
                    Role::Take(kind)
                }
                None if values.len() == 1 => Role::Take(Kind::PumpFlow),
                None => return None,
            }
        };
    }
    Some(cost)
}

/// The hour and minute of a number with a point between them, as many write a time: 12.30.
pub fn clock_of(number: f64) -> Option<(u8, u8)> {
    let minute = (number.fract() * 100.0).round();
    ((0.0..24.0).contains(&number) && minute < 60.0).then_some((number as u8, minute as u8))
}

/// Litres, seconds, then the outlet's height; a clock time anywhere, with a point in it after these.
pub fn test(values: &[&Said], roles: &mut [Role]) -> Option<()> {
    let kinds =
        [(Kind::TestLitres, Measured::Volume), (Kind::TestSeconds, Measured::Time), (Kind::TestOutlet, Measured::Length)];
    let mut taken = [false; 4];
    for (said, role) in values.iter().zip(roles.iter_mut()) {
        *role = match &said.shape {
            Shape::Clock(..) if !std::mem::replace(&mut taken[3], true) => Role::Clock,
            Shape::One(quantity) => {
                let fits = |at: &usize| match matches(quantity, kinds[*at].1) {
                    Match::Right => true,
                    Match::Bare => !taken[*at],
                    Match::Wrong => false,
                };
                match (0..kinds.len()).find(fits) {
                    Some(at) if !std::mem::replace(&mut taken[at], true) => Role::Take(kinds[at].0),
                    Some(_) => return None,
                    None if quantity.measure.is_some() => Role::WrongUnit(Measured::Volume),
                    None if clock_of(quantity.number).is_some() && !std::mem::replace(&mut taken[3], true) => Role::Clock,
                    None => return None,
                }
            }
            Shape::Clock(..) => return None,
            _ => Role::OneNumber,
        };
    }
    Some(())
}
