//! Which part of a field each value can be, and how well the values fit it.

use crate::language::Field;
use crate::units::{Quantity as Measured, Unit};

use super::fit_label::{pump, test};
use super::items::{Head, Quantity, Said, Shape};
use super::limits::Kind;
use super::roles::{Fit, MOST, Match, Role, bare, matches, whole};

/// The cost of a value whose unit or shape cannot belong to the field.
pub const WRONG: u32 = 5;
/// Up to here a number beside the word for panels, with no unit, counts panels; above, it is watts (practice).
const MOST_PANELS_BARE: f64 = 12.0;

/// Sizes by which plastic pipe is sold, in mm (nominal sizes of ISO 161-1, from memory).
const PIPE_SIZES: [f64; 9] = [20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 75.0, 90.0, 110.0];

/// How the values fit a head, the first `before` of them standing before its word; None where there are more of them
/// than the field can hold.
pub fn fit(head: Head, values: &[&Said], before: usize) -> Option<Fit> {
    let several_sides = matches!(head, Head::Field(Field::Pipe | Field::Panel | Field::Pump | Field::Wire));
    if values.is_empty() || values.len() > MOST || (before > 0 && before < values.len() && !several_sides) {
        return None;
    }
    let mut fit = Fit { roles: [Role::OneNumber; MOST], cost: 0 };
    let roles = &mut fit.roles;
    match head {
        Head::Field(field) => match field {
            Field::Lift | Field::Low => lift(field, values, roles)?,
            Field::Pipe => pipe_slots(values, roles)?,
            Field::Wire => slots(values, roles, wire)?,
            Field::Panel => panel(values, roles)?,
            Field::Pump => fit.cost += pump(values, before, roles)?,
            Field::Bore => single(values, roles, Kind::Bore, Measured::Length)?,
            Field::Suction => single(values, roles, Kind::Suction, Measured::Length)?,
            Field::Well => single(values, roles, Kind::Well, Measured::Flow)?,
            Field::Stance => single(values, roles, Kind::Tilt, Measured::Angle)?,
            Field::Garden => garden(values, roles)?,
            Field::Month => month(values, roles)?,
            Field::Crop | Field::Soil | Field::Watering | Field::Place => return None,
        },
        Head::Test => test(values, roles)?,
    }
    let wrong = |role: &&Role| matches!(role, Role::WrongUnit(_) | Role::OneNumber);
    fit.cost += WRONG * fit.roles[..values.len()].iter().filter(wrong).count() as u32;
    Some(fit)
}

/// The one field that a value by itself can only belong to, by its unit.
pub fn only_field(said: &Said) -> Option<Field> {
    let by_unit = |quantity: &Quantity| match quantity.measured().filter(|_| !quantity.soft)? {
        Measured::Power => Some(Field::Panel),
        Measured::Area => Some(Field::Garden),
        Measured::Voltage | Measured::Current => Some(Field::Pump),
        Measured::CrossSection => Some(Field::Wire),
        Measured::Angle => Some(Field::Stance),
        Measured::Length | Measured::Flow | Measured::Volume | Measured::Time => None,
    };
    match &said.shape {
        Shape::One(quantity) => by_unit(quantity),
        Shape::Product(first, second) => {
            let long = |quantity: &Quantity| quantity.measured() == Some(Measured::Length);
            match by_unit(first).or(by_unit(second)) {
                None if long(first) || long(second) => Some(Field::Garden),
                field => field,
            }
        }
        Shape::Counted(_) | Shape::Range(..) | Shape::Clock(..) => None,
    }
}

/// The fields that a value by itself could belong to.
pub fn possible_fields(said: &Said) -> Vec<Field> {
    match &said.shape {
        Shape::Product(..) => vec![Field::Panel, Field::Garden],
        Shape::One(quantity) | Shape::Range(quantity, _) => match quantity.measured().filter(|_| !quantity.soft) {
            Some(Measured::Length) => vec![Field::Lift, Field::Low, Field::Pipe, Field::Bore, Field::Wire],
            Some(Measured::Flow) => vec![Field::Pump, Field::Well],
            _ => Vec::new(),
        },
        Shape::Counted(_) => vec![Field::Panel, Field::Pump],
        Shape::Clock(..) => Vec::new(),
    }
}

/// Whether values without a word can only be a pump's label, or panels with their count.
pub fn headless(values: &[&Said]) -> Option<Field> {
    let one = |said: &&Said| match said.shape {
        Shape::One(quantity) => Some(quantity),
        _ => None,
    };
    let electric =
        |quantity: Quantity| !quantity.soft && matches!(quantity.measured(), Some(Measured::Voltage | Measured::Current));
    if values.iter().filter_map(one).any(electric) {
        return Some(Field::Pump);
    }
    match values {
        [first, second] => {
            let count = one(first).is_some_and(|count| bare(&count) && whole(count.number) && count.number <= 200.0);
            let each = one(second).is_some_and(|each| each.measured() == Some(Measured::Power));
            (count && each).then_some(Field::Panel)
        }
        _ => None,
    }
}

fn single(values: &[&Said], roles: &mut [Role], kind: Kind, wants: Measured) -> Option<()> {
    let [said] = values else { return None };
    roles[0] = match &said.shape {
        Shape::One(quantity) if matches(quantity, wants) == Match::Wrong => Role::WrongUnit(wants),
        Shape::One(_) => Role::Take(kind),
        _ => Role::OneNumber,
    };
    Some(())
}

fn lift(field: Field, values: &[&Said], roles: &mut [Role]) -> Option<()> {
    let kind = if field == Field::Lift { Kind::Lift } else { Kind::Low };
    match values {
        [said] => {
            single(values, roles, kind, Measured::Length)?;
            if let Shape::Range(first, second) = &said.shape {
                let wrong = [first, second].iter().any(|end| matches(end, Measured::Length) == Match::Wrong);
                roles[0] = if wrong { Role::WrongUnit(Measured::Length) } else { Role::NowAndLow };
            }
        }
        // 16' 6"
        [feet, inches] => {
            let (Shape::One(feet), Shape::One(inches)) = (&feet.shape, &inches.shape) else { return None };
            let inch = inches.unit() == Some(Unit::Inch) || inches.measure.is_none();
            if feet.unit() != Some(Unit::Foot) || !inch || inches.number >= 12.0 {
                return None;
            }
            roles[0] = Role::Take(kind);
            roles[1] = Role::Inches;
        }
        _ => return None,
    }
    Some(())
}

/// Up to two values, each of another kind.
fn slots(values: &[&Said], roles: &mut [Role], role_of: impl Fn(&Said) -> Role) -> Option<()> {
    if values.len() > 2 {
        return None;
    }
    for (said, role) in values.iter().zip(roles.iter_mut()) {
        *role = role_of(said);
    }
    (values.len() == 1 || (roles[0] != roles[1] && roles[..2].iter().all(|role| *role != Role::LengthAndBore)))
        .then_some(())
}

/// Inches and millimetres measure across a pipe, metres and feet along it; centimetres across up to the widest bore.
pub fn across(quantity: &Quantity) -> bool {
    match quantity.unit() {
        Some(Unit::Inch) => !quantity.soft || quantity.number <= 8.0,
        Some(Unit::Millimetre) => true,
        Some(Unit::Centimetre) => quantity.number <= 20.0,
        _ => false,
    }
}

/// "pipe 40 m of 63": beside a length with its unit, a bare size of pipe as it is sold is the bore.
fn pipe_slots(values: &[&Said], roles: &mut [Role]) -> Option<()> {
    if let [Said { shape: Shape::One(first), .. }, Said { shape: Shape::One(second), .. }] = values {
        let size = |quantity: &Quantity| quantity.measure.is_none() && PIPE_SIZES.contains(&quantity.number);
        let long = |quantity: &Quantity| matches!(quantity.unit(), Some(Unit::Metre | Unit::Foot));
        let (along, bore) = (Role::Take(Kind::Pipe), Role::Take(Kind::Bore));
        if long(first) && size(second) {
            (roles[0], roles[1]) = (along, bore);
            return Some(());
        }
        if size(first) && long(second) {
            (roles[0], roles[1]) = (bore, along);
            return Some(());
        }
    }
    slots(values, roles, pipe)
}

fn pipe(said: &Said) -> Role {
    match &said.shape {
        Shape::One(quantity) => match matches(quantity, Measured::Length) {
            Match::Wrong => Role::WrongUnit(Measured::Length),
            _ if across(quantity) => Role::Take(Kind::Bore),
            _ => Role::Take(Kind::Pipe),
        },
        Shape::Product(first, second) if across(first) != across(second) => Role::LengthAndBore,
        _ => Role::OneNumber,
    }
}

/// Cable is sold by the square millimetre and called by the plain millimetre (practice).
fn across_wire(quantity: &Quantity) -> bool {
    matches!(quantity.unit(), Some(Unit::SquareMillimetre | Unit::Millimetre))
}

fn wire(said: &Said) -> Role {
    match &said.shape {
        Shape::One(quantity) if across_wire(quantity) => Role::Take(Kind::WireSize),
        Shape::One(quantity) if matches(quantity, Measured::Length) == Match::Wrong => Role::WrongUnit(Measured::Length),
        Shape::One(_) => Role::Take(Kind::Wire),
        Shape::Product(cores, size) if bare(cores) && across_wire(size) => Role::CountTimes(Kind::WireSize),
        _ => Role::OneNumber,
    }
}

fn panel(values: &[&Said], roles: &mut [Role]) -> Option<()> {
    let countable = |quantity: &Quantity| bare(quantity) && whole(quantity.number) && quantity.number <= 200.0;
    let power = |quantity: &Quantity| matches(quantity, Measured::Power);
    match values {
        [said] => {
            roles[0] = match &said.shape {
                Shape::One(quantity) => match power(quantity) {
                    Match::Wrong => Role::WrongUnit(Measured::Power),
                    Match::Bare if countable(quantity) && quantity.number <= MOST_PANELS_BARE => {
                        Role::Take(Kind::PanelCount)
                    }
                    _ => Role::Take(Kind::PanelTotal),
                },
                Shape::Counted(_) => Role::Take(Kind::PanelCount),
                Shape::Product(first, second) => match (power(first), power(second)) {
                    (Match::Wrong, _) | (_, Match::Wrong) => Role::WrongUnit(Measured::Power),
                    (Match::Right, Match::Right) => Role::OneNumber,
                    _ => Role::CountTimes(Kind::PanelEach),
                },
                Shape::Range(..) | Shape::Clock(..) => Role::OneNumber,
            };
        }
        [first, second] => {
            let count = |said: &Said| match &said.shape {
                Shape::One(quantity) => countable(quantity),
                Shape::Counted(_) => true,
                _ => false,
            };
            let each = |said: &Said| match &said.shape {
                Shape::One(quantity) => power(quantity),
                _ => Match::Wrong,
            };
            let (in_order, turned) = (Role::Take(Kind::PanelCount), Role::Take(Kind::PanelEach));
            let small = |said: &Said| matches!(&said.shape, Shape::One(one) if one.number <= MOST_PANELS_BARE);
            (roles[0], roles[1]) = match (each(first), each(second)) {
                (_, Match::Right) if count(first) => (in_order, turned),
                (Match::Right, _) if count(second) => (turned, in_order),
                (Match::Bare, Match::Bare) if count(first) && small(first) && !small(second) => (in_order, turned),
                _ => return None,
            };
        }
        _ => return None,
    }
    Some(())
}

fn garden(values: &[&Said], roles: &mut [Role]) -> Option<()> {
    let [said] = values else { return None };
    single(values, roles, Kind::Garden, Measured::Area)?;
    if let Shape::Product(first, second) = &said.shape {
        let long = |quantity: &Quantity| matches(quantity, Measured::Length) != Match::Wrong;
        // "50 x 30 m2" means the area of a garden of 50 m by 30 m.
        let metres = matches!(second.unit(), Some(Unit::SquareMetre | Unit::SquareFoot));
        roles[0] = if long(first) && (long(second) || metres) { Role::Area } else { Role::WrongUnit(Measured::Length) };
    }
    Some(())
}

fn month(values: &[&Said], roles: &mut [Role]) -> Option<()> {
    match values {
        [Said { shape: Shape::One(quantity), .. }] if bare(quantity) => roles[0] = Role::Take(Kind::Month),
        _ => return None,
    }
    Some(())
}
