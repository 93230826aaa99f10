//! From groups to facts and troubles: units converted, limits applied, parts of one thing put together.

use crate::language::{Command, Field, Gallon, Value};
use crate::units::Unit;

use super::attach::Group;
use super::elements::Elements;
use super::fit::possible_fields;
use super::items::{Alone, Head, Item, ItemKind, Items, Quantity, Said, Shape};
use super::limits::Kind;
use super::reading::{Fact, FactValue, PumpFact, Reading, Span, Trouble, TroubleCode};
use super::roles::{Fit, Role};
use crate::terms::{CROPS, SOILS, StanceKind};

/// Writes facts, questions and troubles into a reading.
pub struct Settler<'a> {
    pub elements: &'a Elements<'a>,
    pub reading: &'a mut Reading,
    /// Elements that a field's trouble speaks for already.
    pub explained: Vec<usize>,
}

impl Settler<'_> {
    /// The characters of the original behind bytes of the folded text.
    pub fn span(&self, start: usize, end: usize) -> Span {
        let (start, end) = self.elements.folded.origin(start, end);
        Span { start, end }
    }

    pub fn fact(&mut self, value: FactValue, at: Span) {
        self.reading.facts.push(Fact { value, at });
    }

    pub fn trouble(&mut self, code: TroubleCode, at: Span, field: Option<Field>) {
        self.reading.troubles.push(Trouble { at, code, field });
    }

    pub fn groups(&mut self, groups: &[Group], items: &Items) {
        for group in groups {
            match *group {
                Group::Fitted { what, head, ref values, fit } => {
                    let held = values.said(items);
                    let head = head.and_then(|head| items.items.get(head));
                    self.fitted(what, head, held.as_slice(), &fit);
                }
                Group::Head(at) => self.lone_head(&items.items[at]),
                Group::Stance(at, tilt) => self.stance(&items.items[at], tilt.map(|tilt| &items.items[tilt])),
                Group::Value(at) => self.lone_value(&items.items[at]),
            }
        }
    }

    /// One value of a field whose word was left out.
    pub fn one(&mut self, field: Field, said: &Said, fit: &Fit) {
        self.fitted(Head::Field(field), None, &[said], fit);
    }

    fn lone_head(&mut self, item: &Item) {
        let at = self.span(item.start, item.end);
        match (item.kind, item.unknown_after) {
            (ItemKind::Head(_, Alone::Says(value)), _) => self.value(value, at),
            (ItemKind::Head(Head::Test, _), _) => self.reading.commands.push((Command::Test, at)),
            // The unknown word stands for the answer: the field's trouble, not a riddle of its own.
            (ItemKind::Head(Head::Field(field), Alone::Asks), Some(unknown)) => {
                let unknown = unknown as usize;
                let Some(element) = self.elements.list.get(unknown) else { return };
                let counted = !matches!(field, Field::Crop | Field::Soil | Field::Watering | Field::Stance | Field::Month);
                let code = if counted { TroubleCode::NoNumber } else { TroubleCode::NotUnderstood };
                self.explained.push(unknown);
                self.trouble(code, self.span(element.start, element.end), Some(field));
            }
            (ItemKind::Head(Head::Field(field), Alone::Asks), None) => self.reading.asks.push((field, at)),
            _ => {}
        }
    }

    fn lone_value(&mut self, item: &Item) {
        let ItemKind::Value { said, .. } = &item.kind else { return };
        // "I have one": an article with nothing beside it.
        let is_word = |start: usize| {
            let at = self.elements.list.partition_point(|element| element.start < start);
            self.elements.list.get(at).is_some_and(|element| element.meanings().is_some())
        };
        if matches!(said.shape, Shape::One(one) if one.number == 1.0 && one.measure.is_none()) && is_word(said.start) {
            return;
        }
        let value = match said.shape {
            Shape::One(quantity) | Shape::Counted(quantity) | Shape::Range(quantity, _) | Shape::Product(quantity, _) => {
                quantity.number.min(f64::MAX)
            }
            Shape::Clock(hour, minute) => f64::from(hour) + f64::from(minute) / 60.0,
        };
        let code = TroubleCode::WhichField { fields: possible_fields(said), value };
        self.trouble(code, self.span(said.start, said.end), None);
    }

    fn stance(&mut self, item: &Item, tilt: Option<&Item>) {
        let ItemKind::Stance(code, with_unit) = item.kind else { return };
        let mut tilt_deg = None;
        let mut end = item.end;
        let bare = tilt.and_then(|tilt| match tilt.kind {
            ItemKind::Value { said, .. } => Some(said),
            _ => None,
        });
        if let Some(said) = with_unit.or(bare)
            && let Shape::One(quantity) = said.shape
        {
            tilt_deg = self.number(Kind::Tilt, &quantity, &said);
            end = said.end;
        }
        let at = self.span(item.start, end);
        self.fact(FactValue::Stance { code, tilt_deg }, at);
    }

    /// A word that is an answer by itself.
    pub fn value(&mut self, value: Value, at: Span) {
        let value = match value {
            Value::Stance(code) => FactValue::Stance { code, tilt_deg: None },
            Value::Watering(watering) => FactValue::Watering(watering),
            Value::Crop(crop) => match CROPS.get(usize::from(crop)) {
                Some(&crop) => FactValue::Crop(crop.to_owned()),
                None => return,
            },
            Value::Soil(soil) => match SOILS.get(usize::from(soil)) {
                Some(&soil) => FactValue::Soil(soil.to_owned()),
                None => return,
            },
            Value::Month(month) => FactValue::Month(month),
            Value::Electronics(electronics) => {
                FactValue::Pump(PumpFact { electronics: Some(electronics), ..PumpFact::default() })
            }
            Value::Displacement(displacement) => {
                FactValue::Pump(PumpFact { displacement: Some(displacement), ..PumpFact::default() })
            }
            // The sky belongs to a test, the kind of gallon to a number of them; they say nothing without.
            Value::Sky(_) | Value::Gallon(_) | Value::Answer(_) => return,
        };
        self.fact(value, at);
    }

    fn fitted(&mut self, what: Head, head: Option<&Item>, values: &[&Said], fit: &Fit) {
        let Head::Field(field) = what else { return self.test(head, values, fit) };
        let start = values.iter().map(|said| said.start).min();
        let end = values.iter().map(|said| said.end).max();
        let whole = self.span(start.unwrap_or_default(), end.unwrap_or_default());
        match field {
            Field::Panel => self.panel(values, fit, whole),
            Field::Pump => self.pump(values, fit, whole),
            _ => self.plain(field, values, fit),
        }
    }

    /// Fields whose values are each a fact of their own.
    fn plain(&mut self, field: Field, values: &[&Said], fit: &Fit) {
        for (place, (said, role)) in values.iter().zip(fit.roles).enumerate() {
            let at = self.span(said.start, said.end);
            match (role, &said.shape) {
                (Role::Take(kind), Shape::One(quantity)) => {
                    let mut quantity = *quantity;
                    let mut at = at;
                    if fit.roles.get(place + 1) == Some(&Role::Inches)
                        && let Some(Said { shape: Shape::One(inches), end, .. }) = values.get(place + 1)
                    {
                        quantity.number += inches.number * Unit::Inch.in_base() / Unit::Foot.in_base();
                        at = self.span(said.start, *end);
                    }
                    if kind == Kind::Month && quantity.number.fract() != 0.0 {
                        self.trouble(TroubleCode::NotWhole { value: quantity.number }, at, Some(field));
                    } else if let Some(value) = self.number_at(kind, &quantity, at)
                        && let Some(value) = plain_fact(kind, value)
                    {
                        self.fact(value, at);
                    }
                }
                (Role::NowAndLow, Shape::Range(first, second)) => {
                    let (low, high) = if in_metres(first) <= in_metres(second) { (first, second) } else { (second, first) };
                    if let Some(lift_m) = self.number(Kind::Lift, low, said) {
                        self.fact(FactValue::LiftM(lift_m), at);
                    }
                    if let Some(low_m) = self.number(Kind::Low, high, said) {
                        self.fact(FactValue::LowM(low_m), at);
                    }
                }
                (Role::Area, Shape::Product(first, second)) => self.area(first, second, said),
                (Role::LengthAndBore, Shape::Product(first, second)) => {
                    let bore_first = super::fit::across(first);
                    let (length, bore) = if bore_first { (second, first) } else { (first, second) };
                    if let Some(pipe_m) = self.number(Kind::Pipe, length, said) {
                        self.fact(FactValue::PipeM(pipe_m), at);
                    }
                    if let Some(bore_mm) = self.number(Kind::Bore, bore, said) {
                        self.fact(FactValue::BoreMm(bore_mm), at);
                    }
                }
                (Role::CountTimes(kind), Shape::Product(_, quantity)) => {
                    if let Some(value) = self.number(kind, quantity, said).and_then(|value| plain_fact(kind, value)) {
                        self.fact(value, at);
                    }
                }
                (Role::Inches, _) => {}
                _ => self.wrong(role, said, Some(field)),
            }
        }
    }

    fn area(&mut self, first: &Quantity, second: &Quantity, said: &Said) {
        let at = self.span(said.start, said.end);
        if self.unknown_unit(first, Some(Field::Garden)) || self.unknown_unit(second, Some(Field::Garden)) {
            return;
        }
        // "50 x 30 ft" is feet both ways; "50 x 30 m2" is metres both ways.
        let side = |quantity: &Quantity, other: &Quantity| {
            let unit = match quantity.unit().filter(|_| !quantity.soft).or(other.unit().filter(|_| !other.soft)) {
                Some(Unit::SquareFoot) => Unit::Foot,
                Some(unit) if unit.quantity() == crate::units::Quantity::Length => unit,
                _ => Unit::Metre,
            };
            quantity.number * unit.in_base()
        };
        let area_m2 = side(first, second) * side(second, first);
        if let Some(area_m2) = self.checked(Kind::Garden, area_m2, at) {
            self.fact(FactValue::GardenM2(area_m2), at);
        }
    }

    pub fn wrong(&mut self, role: Role, said: &Said, field: Option<Field>) {
        let at = self.span(said.start, said.end);
        let code = match (role, &said.shape) {
            (Role::WrongUnit(wants), Shape::One(quantity)) => TroubleCode::WrongUnit { unit: quantity.unit(), wants },
            (Role::WrongUnit(wants), Shape::Product(first, second) | Shape::Range(first, second)) => {
                let unit = [first, second].into_iter().find(|side| side.measured().is_some_and(|kind| kind != wants));
                TroubleCode::WrongUnit { unit: unit.and_then(Quantity::unit), wants }
            }
            _ => TroubleCode::OneNumber,
        };
        self.trouble(code, at, field);
    }

    fn unknown_unit(&mut self, quantity: &Quantity, field: Option<Field>) -> bool {
        if let Some((start, end)) = quantity.unknown_unit {
            self.trouble(TroubleCode::UnknownUnit, self.span(start as usize, end as usize), field);
        }
        quantity.unknown_unit.is_some()
    }

    /// A number in the unit of its limit; None, with the trouble told, where it cannot be taken.
    pub fn number(&mut self, kind: Kind, quantity: &Quantity, said: &Said) -> Option<f64> {
        self.number_at(kind, quantity, self.span(said.start, said.end))
    }

    fn number_at(&mut self, kind: Kind, quantity: &Quantity, at: Span) -> Option<f64> {
        let limit = kind.limit();
        if self.unknown_unit(quantity, limit.field) {
            return None;
        }
        if quantity.unit() == Some(Unit::GallonPerHour) {
            let gallons_h = quantity.number.min(f64::MAX);
            let either = Gallon::ALL.map(|gallon| gallons_h * gallon.unit().in_base());
            if !either.into_iter().any(|flow_l_h| kind.possible(flow_l_h)) {
                return self.checked(kind, either[0], at);
            }
            self.trouble(TroubleCode::WhichGallon { gallons_h }, at, limit.field);
            return None;
        }
        self.checked(kind, in_unit_of(kind, quantity), at)
    }

    pub fn count(&mut self, kind: Kind, quantity: &Quantity, said: &Said) -> Option<u32> {
        let at = self.span(said.start, said.end);
        if self.unknown_unit(quantity, kind.limit().field) {
            return None;
        }
        if quantity.number.fract() != 0.0 {
            self.trouble(TroubleCode::NotWhole { value: quantity.number }, at, kind.limit().field);
            return None;
        }
        self.checked(kind, quantity.number, at).map(|value| value as u32)
    }

    pub fn checked(&mut self, kind: Kind, value: f64, at: Span) -> Option<f64> {
        let value = value.min(f64::MAX);
        if let Some(code) = kind.trouble(value) {
            self.trouble(code, at, kind.limit().field);
        }
        kind.possible(value).then_some(value)
    }
}

/// A quantity in the unit that its kind's limit is counted in; a bare number is in that unit already.
fn in_unit_of(kind: Kind, quantity: &Quantity) -> f64 {
    let (Some(measure), Some(unit)) = (quantity.measure, kind.limit().unit) else { return quantity.number };
    if quantity.unit() == Some(unit) || measure.quantity() != unit.quantity() {
        return quantity.number;
    }
    let factor = match unit.in_base() {
        base if base < 1.0 => measure.in_base() * base.recip(),
        base => measure.in_base() / base,
    };
    quantity.number * factor
}

fn in_metres(quantity: &Quantity) -> f64 {
    in_unit_of(Kind::Lift, quantity)
}

fn plain_fact(kind: Kind, value: f64) -> Option<FactValue> {
    Some(match kind {
        Kind::Lift => FactValue::LiftM(value),
        Kind::Low => FactValue::LowM(value),
        Kind::Pipe => FactValue::PipeM(value),
        Kind::Bore => FactValue::BoreMm(value),
        Kind::Tilt => FactValue::Stance { code: StanceKind::Fixed, tilt_deg: Some(value) },
        Kind::Suction => FactValue::SuctionM(value),
        Kind::Well => FactValue::WellLH(value),
        Kind::Garden => FactValue::GardenM2(value),
        Kind::Month => FactValue::Month(value as u8),
        Kind::Wire => FactValue::WireM(value),
        Kind::WireSize => FactValue::WireMm2(value),
        _ => return None,
    })
}
