//! Gathering elements into items: fields, commands, and the words that are answers by themselves.

use crate::language::{Command, Field, Gallon, Joiner, Meanings, Measure, Value};
use crate::units::{Quantity as Measured, Unit};

use super::element::{Element, ElementKind};
use super::elements::{Elements, field_of};
use super::grave;
use super::items::{Alone, Head, Item, ItemKind, Items, Lone, Said, Shape};

/// Up to here a number beside watts that stand before a greater one counts panels (practice).
const MOST_PANELS_FEW: f64 = 12.0;
/// The least watts of a panel that are told so (practice).
const LEAST_WATTS: f64 = 20.0;

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
    let numeric = !matches!(asked, None | Some(Field::Crop | Field::Soil | Field::Watering | Field::Place));
    let named =
        |field| items.items.iter().any(|item| matches!(item.kind, ItemKind::Head(Head::Field(named), _) if named == field));
    if let Some(field) = asked.filter(|&field| numeric && !named(field)) {
        super::quiet::answer(&mut items, &elements.list, field);
    }
    items
}

fn says_unit(meanings: &Meanings, unit: Unit) -> bool {
    meanings.measure == Some(Measure::Unit(unit))
}

/// "panels fixed 4x60" says "fixed, panels 4x60": the stance steps out from between a field word and its values, unless
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

/// Walks the elements from first to last.
pub struct Gatherer<'e, 'v> {
    pub list: &'e [Element<'v>],
    pub text: &'e str,
    pub items: Items<'v>,
    /// What stands between the last item and here.
    pub gap: u32,
    /// The place after the last value gathered: what stands before it is spoken for.
    pub spoken_for: usize,
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
        if self.is_article(at) {
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
                } else if meanings.joiner == Some(Joiner::AboveWater) {
                    self.above_water();
                } else if meanings.command == Some(Command::Test) {
                    self.push(ItemKind::Head(Head::Test, Alone::Asks), element, None);
                } else if let Some(command) = meanings.command.filter(|command| self.is_meant(*command, at)) {
                    self.items.commands.push(Lone { what: command, start: element.start, end: element.end });
                } else if let Some(Value::Stance(code)) = meanings.value {
                    self.push(ItemKind::Stance(code, None), element, None);
                } else if let Some(value) = meanings.value.filter(|value| !meanings.filler || self.stands_for(at, *value)) {
                    self.items.values.push(Lone { what: value, start: element.start, end: element.end });
                } else if let Some(gallon) = Gallon::ALL.into_iter().find(|gallon| says_unit(meanings, gallon.unit())) {
                    // "gallons us" with no number says which gallons.
                    self.items.values.push(Lone { what: Value::Gallon(gallon), start: element.start, end: element.end });
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

    /// "un tuyau", "bomba moja": the word for one beside a field that is not counted is an article.
    fn is_article(&self, at: usize) -> bool {
        let one = self.list[at].meanings().is_some_and(|meanings| meanings.number == Some(1.0));
        let belongs = |element: &Element| {
            let unit = element.meanings().is_some_and(|meanings| meanings.measure.is_some() && !meanings.filler);
            (unit && !self.is_unit_of_next(at + 1)) || element.number().is_some()
        };
        let counted = |element: &Element<'v>| {
            let field = element.meanings()?.field?;
            Some(matches!(field, Field::Panel | Field::Pump | Field::Month))
        };
        let beside = || [self.after(at), self.before(at)].into_iter().flatten().find_map(counted);
        let tied = self.joiner(at + 1).is_some() || self.list.get(at + 1).is_some_and(belongs);
        one && !tied && beside() == Some(false)
    }

    /// "pampu moja volti 12": a unit after a number in words and before one in digits is that one's; so are the watts of
    /// "panels 5 watts 80".
    pub fn is_unit_of_next(&self, at: usize) -> bool {
        let unit = |at: usize| {
            let element = self.list.get(at).filter(|element| !element.parted);
            element.and_then(|element| element.meanings()).is_some_and(|meanings| meanings.measure.is_some())
        };
        let before = at.checked_sub(1).map(|before| &self.list[before]);
        let in_words = before.is_some_and(|before| before.meanings().is_some());
        let next = self.list.get(at + 1).filter(|next| !next.parted && !next.glued);
        // "panels 5 watts 80": nobody has 80 panels of 5 watts.
        let few = before.and_then(Element::number).is_some_and(|number| number.value <= MOST_PANELS_FEW);
        let many = next.and_then(Element::number).is_some_and(|number| number.value >= LEAST_WATTS);
        let power = self.list.get(at).and_then(|element| element.meanings()).and_then(|meanings| meanings.measure);
        let turned = few && many && !self.list[at].glued && power.map(Measure::quantity) == Some(Measured::Power);
        (in_words || turned)
            && unit(at)
            && next.is_some_and(|next| matches!(next.kind, ElementKind::Number(_)))
            && !unit(at + 2)
    }

    /// "pump 3 m above water": the value just said is the pump's suction, and no height of its label.
    fn above_water(&mut self) {
        let is_value = |item: &&Item| matches!(item.kind, ItemKind::Value { .. });
        let items = &mut self.items.items;
        let Some(value) = items.len().checked_sub(1).filter(|&last| is_value(&&items[last])) else { return };
        let Some(head) = items.iter().rposition(|item| !is_value(&item)) else { return };
        if !matches!(items[head].kind, ItemKind::Head(Head::Field(Field::Pump), _)) {
            return;
        }
        let suction = ItemKind::Head(Head::Field(Field::Suction), Alone::Asks);
        if head + 1 == value {
            items[head].kind = suction;
        } else {
            let Item { start, gap, .. } = items[value];
            items[value].gap = 0;
            items.insert(value, Item { kind: suction, start, end: start, gap, unknown_after: None });
        }
    }

    /// Whether a word is the command that it can be; where it is not, it may yet be told of as not understood.
    fn is_meant(&mut self, command: Command, at: usize) -> bool {
        let is_meant = grave::is_meant(command, self.list, at, self.text);
        if !is_meant && !grave::tells_nothing(command) {
            self.items.unknown.push(at);
        }
        is_meant
    }

    pub fn push(&mut self, kind: ItemKind, element: Element, unknown_after: Option<u32>) {
        let Element { start, end, .. } = element;
        self.items.items.push(Item { kind, start, end, gap: std::mem::take(&mut self.gap), unknown_after });
    }

    pub fn push_value(&mut self, said: Said, joined: Option<Said>) {
        let (start, end) = (said.start, said.end);
        if let Shape::One(quantity) = said.shape
            && quantity.measured() == Some(Measured::Angle)
            && let Some(Item { kind: ItemKind::Stance(_, tilt @ None), end: stance_end, .. }) = self.items.items.last_mut()
        {
            *tilt = Some(said);
            *stance_end = end;
            return;
        }
        let joined = joined.and_then(|joined| {
            self.items.joined.push(joined);
            u16::try_from(self.items.joined.len() - 1).ok()
        });
        let kind = ItemKind::Value { said, joined };
        self.items.items.push(Item { kind, start, end, gap: std::mem::take(&mut self.gap), unknown_after: None });
    }

    fn field(&mut self, at: usize, field: Field, value: Option<Value>) {
        let answers = |element: Option<&Element>| {
            let value = element.and_then(|element| element.meanings()).and_then(|meanings| meanings.value);
            value.is_some_and(|value| {
                field_of(value) == field
                    && !matches!(
                        value,
                        Value::Electronics(_)
                            | Value::Displacement(_)
                            | Value::Gallon(_)
                            | Value::Sky(_)
                            | Value::Answer(_)
                    )
            })
        };
        // "crop tomato", "drip watering": the word itself adds nothing.
        if answers(self.after(at)) || answers(self.before(at)) {
            return;
        }
        let unknown = self.list.get(at + 1).is_some_and(|next| matches!(next.kind, ElementKind::Unknown) && !next.parted);
        let unknown_after = u32::try_from(at + 1).ok().filter(|_| unknown);
        let kind_of_pump = |element: Option<&Element>| {
            element.and_then(|element| element.meanings()).is_some_and(|meanings| {
                meanings.class.is_some() || matches!(meanings.value, Some(Value::Electronics(_) | Value::Displacement(_)))
            })
        };
        // The nearest words count here, as a class of pump may be a word that carries nothing elsewhere.
        let beside = [at.checked_sub(1), Some(at + 1)].map(|beside| beside.and_then(|beside| self.list.get(beside)));
        let alone = match value {
            Some(value) => Alone::Says(value),
            None if field == Field::Pump && beside.into_iter().any(kind_of_pump) => Alone::Told,
            None => Alone::Asks,
        };
        self.push(ItemKind::Head(Head::Field(field), alone), self.list[at], unknown_after);
    }

    /// Whether a word that may carry nothing is the value that it can be: right after its field's word, or with nothing
    /// else between two signs that part what is said ("culture mais", and not "900 mais le tuyau est court").
    fn stands_for(&self, at: usize, value: Value) -> bool {
        let field = |element: &Element| element.meanings().and_then(|meanings| meanings.field) == Some(field_of(value));
        let from = (0..=at).rev().find(|&from| from == 0 || self.list[from].parted).unwrap_or(0);
        let to = (at + 1..self.list.len()).find(|&to| self.list[to].parted).unwrap_or(self.list.len());
        at.checked_sub(1).is_some_and(|before| field(&self.list[before]))
            || self.list[from..to].iter().all(Element::is_filler)
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

    pub fn joiner(&self, at: usize) -> Option<Joiner> {
        let element = self.list.get(at).filter(|element| !element.parted)?;
        element.meanings().and_then(|meanings| meanings.joiner)
    }
}
