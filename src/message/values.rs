//! Numbers tied to their units and to each other.

use crate::language::{Gallon, Joiner, Measure, Value};
use crate::units::{Quantity as Measured, Unit};

use super::element::ElementKind;
use super::gather::Gatherer;
use super::items::{ItemKind, Quantity, Said, Shape};

impl Gatherer<'_, '_> {
    /// value := quantity [times [quantity]] | quantity range quantity
    pub fn value(&mut self, at: usize) -> usize {
        let Some((first, next)) = self.quantity(at) else { return at + 1 };
        let start = self.list[at].start;
        let end_of = |next: usize| self.list[next - 1].end;
        match self.joiner(next) {
            Some(Joiner::Times) => match self.second(next + 1) {
                Some((second, after)) => {
                    let shape = Shape::Product(first, second);
                    self.push_value(Said { shape, start, end: end_of(after) }, None);
                    after
                }
                // "by drip", "by hand": a word for times with no number after it is only that word.
                None if self.list[next].is_filler() => self.one(at, first, next),
                None => {
                    self.push_value(Said { shape: Shape::Counted(first), start, end: end_of(next + 1) }, None);
                    next + 1
                }
            },
            Some(Joiner::Range) => match self.second(next + 1) {
                // "5-40-400-1500" is a list, not a range.
                Some((_, after)) if self.in_list(at, after) => self.one(at, first, next),
                // "6 s at 4", where the word for at is also the one for to.
                Some((second, _))
                    if first.measured() == Some(Measured::Time) && second.measured() != Some(Measured::Time) =>
                {
                    self.one(at, first, next)
                }
                Some((second, after)) => {
                    let first = Quantity { measure: first.measure.or(second.measure), ..first };
                    let shape = Shape::Range(first, second);
                    self.push_value(Said { shape, start, end: end_of(after) }, None);
                    after
                }
                None => self.one(at, first, next),
            },
            _ => self.one(at, first, next),
        }
    }

    /// Whether a pair of numbers that ends before `after` and begins at `at` is part of a longer chain of dashes.
    fn in_list(&self, at: usize, after: usize) -> bool {
        let before = at
            .checked_sub(2)
            .is_some_and(|before| self.joiner(before + 1) == Some(Joiner::Range) && self.list[before].number().is_some());
        before || (self.joiner(after) == Some(Joiner::Range) && self.quantity(after + 1).is_some())
    }

    fn one(&mut self, at: usize, quantity: Quantity, next: usize) -> usize {
        let said = Said { shape: Shape::One(quantity), start: self.list[at].start, end: self.list[next - 1].end };
        let joined = self.joined(at, quantity, &said);
        self.push_value(said, joined);
        next
    }

    /// The value read as the last three digits of a number that began with the value before.
    fn joined(&self, at: usize, quantity: Quantity, said: &Said) -> Option<Said> {
        self.list[at].number().filter(|number| number.may_follow && self.gap == 0)?;
        let before = self.list.get(at.checked_sub(1)?)?;
        let lead = before.number().filter(|number| number.may_lead)?;
        let last = self.items.items.last()?;
        let alone = matches!(last.kind, ItemKind::Value { said: Said { shape: Shape::One(one), .. }, .. }
            if one.measure.is_none() && one.unknown_unit.is_none());
        if !alone || last.end != before.end {
            return None;
        }
        let number = lead.value * 1000.0 + quantity.number;
        Some(Said { shape: Shape::One(Quantity { number, ..quantity }), start: last.start, end: said.end })
    }

    /// quantity := measured [and part]. Gives the place after it.
    fn quantity(&self, at: usize) -> Option<(Quantity, usize)> {
        let (quantity, next) = self.measured(at)?;
        let (part, next) = self.part_after(&quantity, next).unwrap_or((0.0, next));
        Some((Quantity { number: quantity.number + part, ..quantity }, next))
    }

    /// measured := number [unit]; a unit may be spelt out as `litres per hour`.
    fn measured(&self, at: usize) -> Option<(Quantity, usize)> {
        self.list.get(at).filter(|element| !element.parted || at == 0 || self.starts_value(at))?;
        let (number, next) = self.spoken(at)?;
        let mut quantity = Quantity { number, measure: None, soft: false, unknown_unit: None };
        if let Some(measure) = self.unit_before(at) {
            quantity.measure = Some(measure);
            if let Some((unit, after)) = self.flow_around(measure, next) {
                quantity.measure = Some(Measure::Unit(unit));
                return Some((quantity, after));
            }
            // "mita 5 m": said twice.
            let again = self.list.get(next).filter(|element| !element.parted && element.glued);
            let again = again.and_then(|element| element.meanings()).and_then(|meanings| meanings.measure) == Some(measure);
            return Some((quantity, next + usize::from(again)));
        }
        let Some(element) = self.list.get(next).filter(|element| !element.parted) else {
            return Some((quantity, next));
        };
        if let ElementKind::Unknown | ElementKind::Near = element.kind
            && element.glued
        {
            quantity.unknown_unit = u32::try_from(element.start).ok().zip(u32::try_from(element.end).ok());
            return Some((quantity, next + 1));
        }
        // "2000 us" to the question which gallons these are.
        if let Some(gallon) = self.gallon(next) {
            quantity.measure = Some(Measure::Unit(gallon.unit()));
            return Some((quantity, next + 1));
        }
        let Some(meanings) = element.meanings().filter(|meanings| meanings.measure.is_some()) else {
            return Some((quantity, next));
        };
        if self.is_unit_of_next(next) {
            return Some((quantity, next));
        }
        let ties = matches!(meanings.joiner, Some(Joiner::Times | Joiner::Range));
        if ties && !element.glued && self.list.get(next + 1).is_some_and(|after| after.number().is_some()) {
            return Some((quantity, next));
        }
        quantity.soft = !element.glued && (meanings.filler || meanings.joiner.is_some());
        quantity.measure = meanings.measure;
        if let Some((unit, after)) = self.spelt_out_flow(next) {
            quantity.measure = Some(Measure::Unit(unit));
            quantity.soft = false;
            return Some((quantity, after));
        }
        if let (Some(Measure::Unit(Unit::GallonPerHour)), Some(gallon)) = (quantity.measure, self.gallon(next + 1)) {
            quantity.measure = Some(Measure::Unit(gallon.unit()));
            return Some((quantity, next + 2));
        }
        Some((quantity, next + 1))
    }

    /// The kind of gallon that a word right here says.
    fn gallon(&self, at: usize) -> Option<Gallon> {
        let element = self.list.get(at).filter(|element| !element.parted)?;
        match element.meanings()?.value? {
            Value::Gallon(gallon) => Some(gallon),
            _ => None,
        }
    }

    /// The quantity after a joiner, whose unit may stand before it.
    fn second(&self, at: usize) -> Option<(Quantity, usize)> {
        let unit_first =
            self.list.get(at + 1).is_some_and(|number| number.number().is_some()) && self.unit_before(at + 1).is_some();
        self.quantity(if unit_first { at + 1 } else { at })
    }

    /// Only the first quantity of a value may come after a comma.
    fn starts_value(&self, at: usize) -> bool {
        at.checked_sub(1).is_none_or(|before| self.joiner(before).is_none())
    }

    /// A unit said before its number ("litres 2000"), where no number before it has it and no other meaning pulls.
    fn unit_before(&self, at: usize) -> Option<Measure> {
        let element = &self.list[at];
        let before = at.checked_sub(1).filter(|&before| before >= self.spoken_for)?;
        if element.parted || element.glued {
            return None;
        }
        let meanings = self.list[before].meanings()?;
        let only_a_unit = meanings.field.is_none() && !meanings.filler && meanings.joiner.is_none();
        meanings.measure.filter(|_| only_a_unit)
    }

    /// "litres 2000 per hour": the rest of a flow whose litres stood before the number.
    fn flow_around(&self, measure: Measure, at: usize) -> Option<(Unit, usize)> {
        if measure != Measure::Unit(Unit::Litre) {
            return None;
        }
        let tied = usize::from(matches!(self.joiner(at), Some(Joiner::Per | Joiner::Times)));
        let time = self.list.get(at + tied).filter(|element| !element.parted)?;
        // "litres 20 seconds 6": the seconds belong to the six.
        let next_has_it = tied == 0 && self.list.get(at + 1).is_some_and(|after| after.number().is_some());
        Some((flow_unit(time.meanings()?.measure?)?, at + tied + 1)).filter(|_| !next_has_it)
    }

    /// litres per hour, litres a minute, litres / second
    fn spelt_out_flow(&self, at: usize) -> Option<(Unit, usize)> {
        let measure = |at: usize| {
            let element = self.list.get(at).filter(|element| !element.parted)?;
            element.meanings().and_then(|meanings| meanings.measure)
        };
        if measure(at)? != Measure::Unit(Unit::Litre) || self.joiner(at + 1)? != Joiner::Per {
            return None;
        }
        Some((flow_unit(measure(at + 2)?)?, at + 3))
    }
}

/// Litres in this time.
fn flow_unit(time: Measure) -> Option<Unit> {
    match time {
        Measure::Unit(Unit::Hour) => Some(Unit::LitrePerHour),
        Measure::Unit(Unit::Minute) => Some(Unit::LitrePerMinute),
        Measure::Unit(Unit::Second) => Some(Unit::LitrePerSecond),
        _ => None,
    }
}
