//! Items: the elements of a message gathered into field words, quantities and words that stand for themselves.

use crate::language::{Command, Field, Joiner, Measure, StanceCode, Value};
use crate::units::{Quantity as Measured, Unit};

use super::elements::{Element, ElementKind, Elements, field_of};

/// A number with its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    pub number: f64,
    pub measure: Option<Measure>,
    /// The unit's word may as well carry nothing ("in", "a"), and gives way where it does not fit.
    pub soft: bool,
    /// Letters glued to the number that are no unit known here.
    pub unknown_unit: Option<(usize, usize)>,
}

impl Quantity {
    /// The kind of quantity its unit measures.
    pub fn measured(&self) -> Option<Measured> {
        self.measure.map(Measure::quantity)
    }

    pub fn unit(&self) -> Option<Unit> {
        match self.measure {
            Some(Measure::Unit(unit)) => Some(unit),
            _ => None,
        }
    }
}

/// How the numbers of one value are tied together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    One(Quantity),
    /// A number with a dangling times sign, `5 x`: a count.
    Counted(Quantity),
    Range(Quantity, Quantity),
    Product(Quantity, Quantity),
    Clock(u8, u8),
}

/// One value as it was said, as bytes of the folded text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Said {
    pub shape: Shape,
    pub start: usize,
    pub end: usize,
}

/// What values attach to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Head {
    Field(Field),
    Test,
}

/// A field word that stands alone may be an answer by itself, a question, or nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alone {
    Asks,
    Says(Value),
    /// The field that was asked about, which the message did not name.
    Quiet,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ItemKind {
    Head(Head, Alone),
    /// How the panels stand, with the tilt where it carries a unit.
    Stance(StanceCode, Option<Said>),
    Value {
        said: Said,
        /// This value and the one before, read as one number with a space between its thousands.
        joined: Option<Said>,
    },
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    pub kind: ItemKind,
    pub start: usize,
    pub end: usize,
    /// How much stands between this item and the one before: commas, line breaks, words not understood.
    pub gap: u32,
    /// The unknown word right after a field word.
    pub unknown_after: Option<Lone<usize>>,
}

/// A word that is an answer by itself, as bytes of the folded text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lone<T> {
    pub what: T,
    pub start: usize,
    pub end: usize,
}

/// A message gathered.
#[derive(Debug, Default)]
pub struct Items<'v> {
    pub items: Vec<Item>,
    pub values: Vec<Lone<Value>>,
    pub commands: Vec<Lone<Command>>,
    pub classes: Vec<Lone<&'v str>>,
    pub places: Vec<Lone<()>>,
    /// Places of unknown words among the elements.
    pub unknown: Vec<usize>,
}

/// Gathers the elements; `asked` is the field that the last reply asked about.
pub fn gather<'v>(elements: &Elements<'v>, asked: Option<Field>) -> Items<'v> {
    let mut gatherer =
        Gatherer { list: &elements.list, text: &elements.folded.text, items: Items::default(), gap: 0, spoken_for: 0 };
    gatherer.items.items.reserve(elements.list.len() + 1);
    let mut at = 0;
    while at < elements.list.len() {
        at = gatherer.step(at);
    }
    let mut items = gatherer.items;
    panels_after_stance(&mut items.items);
    let numeric = !matches!(asked, None | Some(Field::Crop | Field::Watering | Field::Place));
    let named =
        |field| items.items.iter().any(|item| matches!(item.kind, ItemKind::Head(Head::Field(named), _) if named == field));
    if let Some(field) = asked.filter(|&field| numeric && !named(field)) {
        let kind = ItemKind::Head(Head::Field(field), Alone::Quiet);
        if let Some(first) = items.items.first_mut() {
            first.gap = 0;
        }
        items.items.insert(0, Item { kind, start: 0, end: 0, gap: 0, unknown_after: None });
    }
    items
}

/// "panels fixed 5x80" says "fixed, panels 5x80": the stance steps out from between a field word and its values, unless
/// what follows could be its tilt.
fn panels_after_stance(items: &mut [Item]) {
    let bare = |item: &Item| matches!(item.kind, ItemKind::Value { said: Said { shape: Shape::One(one), .. }, .. } if one.measure.is_none());
    for at in 1..items.len() {
        let panels = matches!(items[at - 1].kind, ItemKind::Head(Head::Field(Field::Panel), _));
        let tilted = |tilt: Option<Said>| tilt.is_some() || !items.get(at + 1).is_some_and(bare);
        if panels && matches!(items[at].kind, ItemKind::Stance(_, tilt) if tilted(tilt)) {
            items.swap(at - 1, at);
        }
    }
}

struct Gatherer<'e, 'v> {
    list: &'e [Element<'v>],
    text: &'e str,
    items: Items<'v>,
    gap: u32,
    /// The place after the last value gathered: what stands before it is spoken for.
    spoken_for: usize,
}

impl<'e, 'v> Gatherer<'e, 'v> {
    /// Deals with the element at `at` and those that belong to it; gives the place of the next.
    fn step(&mut self, at: usize) -> usize {
        let element = self.list[at];
        self.gap += u32::from(element.parted);
        if let ElementKind::Clock(hour, minute) = element.kind {
            let said = Said { shape: Shape::Clock(hour, minute), start: element.start, end: element.end };
            self.push_value(said, None);
            return at + 1;
        }
        if element.number().is_some() {
            let next = self.value(at);
            self.spoken_for = next;
            return next;
        }
        match element.kind {
            ElementKind::Word(meanings) => {
                if meanings.field == Some(Field::Place) {
                    return self.place(at);
                }
                if let Some(field) = meanings.field {
                    self.field(at, field, meanings.value);
                } else if meanings.command == Some(Command::Test) {
                    self.push(ItemKind::Head(Head::Test, Alone::Asks), element, None);
                } else if let Some(command) = meanings.command {
                    self.items.commands.push(Lone { what: command, start: element.start, end: element.end });
                } else if let Some(Value::Stance(code)) = meanings.value {
                    self.push(ItemKind::Stance(code, None), element, None);
                } else if let Some(value) = meanings.value {
                    self.items.values.push(Lone { what: value, start: element.start, end: element.end });
                } else if let Some(class) = meanings.class.as_deref().filter(|_| self.beside_pump(at)) {
                    self.items.classes.push(Lone { what: class, start: element.start, end: element.end });
                }
            }
            ElementKind::Unknown => {
                self.gap += 1;
                self.items.unknown.push(at);
            }
            ElementKind::Near => self.gap += 1,
            ElementKind::Number(_) | ElementKind::Clock(..) | ElementKind::Nothing => {}
        }
        at + 1
    }

    fn push(&mut self, kind: ItemKind, element: Element, unknown_after: Option<Lone<usize>>) {
        let Element { start, end, .. } = element;
        self.items.items.push(Item { kind, start, end, gap: std::mem::take(&mut self.gap), unknown_after });
    }

    fn push_value(&mut self, said: Said, joined: Option<Said>) {
        let (start, end) = (said.start, said.end);
        if let Shape::One(quantity) = said.shape
            && quantity.measured() == Some(Measured::Angle)
            && let Some(Item { kind: ItemKind::Stance(_, tilt @ None), end: stance_end, .. }) = self.items.items.last_mut()
        {
            *tilt = Some(said);
            *stance_end = end;
            return;
        }
        let kind = ItemKind::Value { said, joined };
        self.items.items.push(Item { kind, start, end, gap: std::mem::take(&mut self.gap), unknown_after: None });
    }

    fn field(&mut self, at: usize, field: Field, value: Option<Value>) {
        let answers = |element: Option<&Element>| {
            let value = element.and_then(|element| element.meanings()).and_then(|meanings| meanings.value);
            value.is_some_and(|value| field_of(value) == field && !matches!(value, Value::Electronics(_) | Value::Sky(_)))
        };
        // "crop tomato", "drip watering": the word itself adds nothing.
        if answers(self.after(at)) || answers(self.before(at)) {
            return;
        }
        let unknown_after = self
            .list
            .get(at + 1)
            .filter(|next| matches!(next.kind, ElementKind::Unknown) && !next.parted)
            .map(|next| Lone { what: at + 1, start: next.start, end: next.end });
        let alone = value.map_or(Alone::Asks, Alone::Says);
        self.push(ItemKind::Head(Head::Field(field), alone), self.list[at], unknown_after);
    }

    fn after(&self, at: usize) -> Option<&'e Element<'v>> {
        self.list[at + 1..].iter().find(|element| !element.is_filler())
    }

    fn before(&self, at: usize) -> Option<&'e Element<'v>> {
        self.list[..at].iter().rev().find(|element| !element.is_filler())
    }

    fn beside_pump(&self, at: usize) -> bool {
        let pump = |element: Option<&Element>| {
            element.and_then(|element| element.meanings()).is_some_and(|meanings| meanings.field == Some(Field::Pump))
        };
        pump(self.after(at)) || pump(self.before(at))
    }

    fn joiner(&self, at: usize) -> Option<Joiner> {
        let element = self.list.get(at).filter(|element| !element.parted)?;
        element.meanings().and_then(|meanings| meanings.joiner)
    }

    /// value := quantity [times [quantity]] | quantity range quantity
    fn value(&mut self, at: usize) -> usize {
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

    /// quantity := number [unit]; a unit may be spelt out as `litres per hour`. Gives the place after it.
    fn quantity(&self, at: usize) -> Option<(Quantity, usize)> {
        let number = self.list.get(at).filter(|element| !element.parted || at == 0 || self.starts_value(at))?.number()?;
        let mut quantity = Quantity { number: number.value, measure: None, soft: false, unknown_unit: None };
        let next = at + 1;
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
            quantity.unknown_unit = Some((element.start, element.end));
            return Some((quantity, next + 1));
        }
        let Some(meanings) = element.meanings().filter(|meanings| meanings.measure.is_some()) else {
            return Some((quantity, next));
        };
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
        Some((quantity, next + 1))
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

    /// place := the word, then coordinates, or words up to a number, a comma, or a word that says something else.
    fn place(&mut self, at: usize) -> usize {
        let mut first = at + 1;
        while self.list.get(first).is_some_and(|element| element.is_filler() && !element.parted) {
            first += 1;
        }
        let mut end = first;
        let coordinates = self.coordinates(first);
        if coordinates > first {
            end = coordinates;
        } else {
            while let Some(element) = self.list.get(end) {
                let says = element.meanings().is_some_and(|meanings| {
                    meanings.field.is_some() || (end > first && (meanings.value.is_some() || meanings.command.is_some()))
                });
                if element.parted || says || element.number().is_some() || matches!(element.kind, ElementKind::Clock(..)) {
                    break;
                }
                end += 1;
            }
            while end > first && (self.list[end - 1].is_filler() || matches!(self.list[end - 1].kind, ElementKind::Nothing))
            {
                end -= 1;
            }
        }
        if end == first {
            self.push(ItemKind::Head(Head::Field(Field::Place), Alone::Asks), self.list[at], None);
            return at + 1;
        }
        // A minus sign before the first coordinate belongs to it.
        let start = self.list[first].start;
        self.items.places.push(Lone { what: (), start, end: self.list[end - 1].end });
        self.gap += 1;
        end
    }

    /// The place after up to two numbers, each with a sign.
    fn coordinates(&self, first: usize) -> usize {
        let mut end = first;
        for _ in 0..2 {
            let signed = self.list.get(end).is_some_and(|element| &self.text[element.start..element.end] == "-");
            let number = end + usize::from(signed);
            match self.list.get(number).map(|element| element.kind) {
                Some(ElementKind::Number(_)) => end = number + 1,
                _ => break,
            }
        }
        end
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
