//! Attaching values to the fields they belong to, by least cost over the whole message.
//!
//! Growers write the field before its value, after it, or mixed: `5m lift 40m pipe`, `lift 5, 40 m pipe`. The items are
//! cut into groups, each a field with its values or one of them alone; of all ways to cut, the cheapest is taken.
//!
//! | group | cost |
//! |---|---|
//! | a field, then its values | 0 |
//! | values, then their field | 2 |
//! | values that only one field can take, without its word | 2 |
//! | a field word alone, a value alone | 6 |
//! | a value of the wrong unit or shape in a group | 5 more |
//! | two numbers read as one with a space between its thousands | 1 more |
//! | a comma or an unknown word within a group | 1 more |

use super::fit::{fit, headless, only_field};
use super::items::{Alone, Head, Item, ItemKind, Items, Said, Shape};
use super::roles::{Fit, MOST};
use crate::language::Field;

const AFTER: u32 = 2;
const BY_UNIT: u32 = 2;
const ALONE: u32 = 6;

/// One group of the cheapest cut.
#[derive(Debug, Clone, Copy)]
pub enum Group {
    /// A field with values; `head` is its item, none where the unit alone tells.
    Fitted { what: Head, head: Option<usize>, values: Members, fit: Fit },
    /// A field word alone.
    Head(usize),
    /// A stance, with the item that holds its tilt.
    Stance(usize, Option<usize>),
    /// A value that no field claims.
    Value(usize),
}

/// The values of a group: items, each perhaps read together with the one before it.
#[derive(Debug, Clone, Copy)]
pub struct Members {
    /// Small numbers, as groups are copied a lot: there are fewer items than characters looked at.
    items: [(u16, bool); MOST],
    count: u16,
}

impl Members {
    fn new() -> Members {
        Members { items: [(0, false); MOST], count: 0 }
    }

    fn push(&mut self, at: usize) {
        if let Some(slot) = self.items.get_mut(usize::from(self.count)) {
            *slot = (u16::try_from(at).unwrap_or(u16::MAX), false);
            self.count += 1;
        }
    }

    fn len(&self) -> usize {
        usize::from(self.count)
    }

    fn members(&self) -> impl DoubleEndedIterator<Item = (usize, bool)> {
        self.items[..self.len()].iter().map(|&(at, together)| (usize::from(at), together))
    }

    /// The values as they were said.
    pub fn said<'i>(&self, items: &'i Items) -> Held<'i> {
        let mut held = Held { said: [&BLANK; MOST], count: 0 };
        for (at, together) in self.members() {
            if let Some(ItemKind::Value { said, joined }) = items.items.get(at).map(|item| &item.kind) {
                let joined = joined.filter(|_| together).and_then(|joined| items.joined.get(usize::from(joined)));
                held.said[held.count] = joined.unwrap_or(said);
                held.count += 1;
            }
        }
        held
    }

    /// The same values with the first pair that can be one number read as one number.
    fn joined(&self, items: &Items) -> Option<Members> {
        if items.joined.is_empty() {
            return None;
        }
        let items = &items.items;
        let joins =
            |at: usize| matches!(items.get(at).map(|item| item.kind), Some(ItemKind::Value { joined: Some(_), .. }));
        let pairs = self.members().zip(self.members().skip(1));
        let place = 1 + pairs.map(|((before, _), (at, _))| before + 1 == at && joins(at)).position(|joins| joins)?;
        let mut members = *self;
        members.items.copy_within(place.., place - 1);
        members.items[place - 1].1 = true;
        members.count -= 1;
        Some(members)
    }
}

/// Values gathered for fitting.
pub struct Held<'i> {
    said: [&'i Said; MOST],
    count: usize,
}

impl<'i> Held<'i> {
    pub fn as_slice(&self) -> &[&'i Said] {
        &self.said[..self.count]
    }
}

/// Fills the unused places of [`Held`].
static BLANK: Said = Said { shape: Shape::Clock(0, 0), start: 0, end: 0 };

/// Cuts the items into groups at least cost.
pub fn attach(gathered: &Items) -> Vec<Group> {
    if let Some(groups) = without_cost(gathered) {
        return groups;
    }
    let items = &gathered.items;
    let mut cutter = Cutter { gathered, items, best: vec![(u32::MAX, None); items.len() + 1], from: 0 };
    cutter.best[0].0 = 0;
    for from in 0..items.len() {
        cutter.from = from;
        cutter.groups_here();
    }
    let mut groups = Vec::with_capacity(items.len());
    let mut at = items.len();
    while let Some((from, group)) = cutter.best[at].1 {
        groups.push(group);
        at = from;
    }
    groups.reverse();
    groups
}

/// The cut in which every field stands right before its values and fits them, as in most messages: it costs nothing, and
/// no other cut does, since a value costs nothing only with the field that it follows. None where there is no such cut.
fn without_cost(gathered: &Items) -> Option<Vec<Group>> {
    let items = &gathered.items;
    let mut groups = Vec::with_capacity(items.len());
    let mut at = 0;
    while let Some(item) = items.get(at) {
        match item.kind {
            ItemKind::Value { .. } => return None,
            ItemKind::Stance(_, tilt) => {
                let tilt = Some(at + 1).filter(|&next| tilt.is_none() && items.get(next).is_some_and(is_tilt));
                groups.push(Group::Stance(at, tilt));
                at += 1 + usize::from(tilt.is_some());
            }
            ItemKind::Head(what, alone) => {
                let mut values = Members::new();
                let mut end = at + 1;
                while let Some(Item { kind: ItemKind::Value { .. }, gap: 0, .. }) = items.get(end) {
                    if values.len() == MOST {
                        return None;
                    }
                    values.push(end);
                    end += 1;
                }
                if values.len() == 0 {
                    if alone == Alone::Asks {
                        return None;
                    }
                    groups.push(Group::Head(at));
                } else {
                    let fit = fit(what, values.said(gathered).as_slice(), 0).filter(|fit| fit.cost == 0)?;
                    groups.push(Group::Fitted { what, head: Some(at), values, fit });
                }
                at = end;
            }
        }
    }
    Some(groups)
}

/// A head with the values before and after it, on the way to a group.
#[derive(Clone, Copy)]
struct Candidate {
    what: Head,
    head: Option<usize>,
    values: Members,
    /// How many of the values stand before the head.
    before: usize,
    cost: u32,
}

/// The cheapest cut of the items up to each place: its cost, where its last group begins, and that group.
struct Cutter<'i> {
    gathered: &'i Items<'i>,
    items: &'i [Item],
    best: Vec<(u32, Option<(usize, Group)>)>,
    from: usize,
}

impl Cutter<'_> {
    fn offer(&mut self, to: usize, cost: u32, group: Group) {
        let total = self.best[self.from].0.saturating_add(cost);
        if total < self.best[to].0 {
            self.best[to] = (total, Some((self.from, group)));
        }
    }

    fn groups_here(&mut self) {
        let from = self.from;
        match self.items[from].kind {
            ItemKind::Head(what, alone) => {
                let cost = if alone == Alone::Asks { ALONE } else { 0 };
                self.offer(from + 1, cost, Group::Head(from));
                self.values_after(Candidate { what, head: Some(from), values: Members::new(), before: 0, cost: 0 });
            }
            ItemKind::Stance(_, tilt) => {
                self.offer(from + 1, 0, Group::Stance(from, None));
                if tilt.is_none() && self.items.get(from + 1).is_some_and(is_tilt) {
                    self.offer(from + 2, 0, Group::Stance(from, Some(from + 1)));
                }
            }
            ItemKind::Value { said, .. } => {
                self.offer(from + 1, ALONE, Group::Value(from));
                if let Some(field) = only_field(&said) {
                    let mut values = Members::new();
                    values.push(from);
                    self.by_unit(field, values, BY_UNIT, from + 1);
                }
                self.values_first();
            }
        }
    }

    /// Groups that begin with values: those with a head after them, and those that need none.
    fn values_first(&mut self) {
        let mut values = Members::new();
        let mut gaps = 0;
        for at in self.from..self.items.len() {
            let item = &self.items[at];
            if at > self.from {
                gaps += item.gap;
            }
            match item.kind {
                ItemKind::Value { .. } if values.len() < MOST => values.push(at),
                ItemKind::Head(what, alone) if alone != Alone::Quiet => {
                    let before = values.len();
                    let candidate = Candidate { what, head: Some(at), values, before, cost: AFTER + gaps };
                    self.fitted(candidate, at + 1);
                    self.values_after(candidate);
                    return;
                }
                _ => return,
            }
            if at == self.from {
                continue;
            }
            if let Some(field) = headless(values.said(self.gathered).as_slice()) {
                self.by_unit(field, values, BY_UNIT + gaps, at + 1);
            }
            if values.len() == 2
                && let Some(joined) = values.joined(self.gathered)
                && let Some(field) = joined.said(self.gathered).as_slice().first().and_then(|said| only_field(said))
            {
                self.by_unit(field, joined, BY_UNIT + 1 + gaps, at + 1);
            }
        }
    }

    /// Groups of a head and the values after it.
    fn values_after(&mut self, mut candidate: Candidate) {
        let Some(head) = candidate.head else { return };
        for at in head + 1..self.items.len() {
            let item = &self.items[at];
            if !matches!(item.kind, ItemKind::Value { .. }) || candidate.values.len() >= MOST {
                return;
            }
            candidate.cost += item.gap;
            candidate.values.push(at);
            self.fitted(candidate, at + 1);
        }
    }

    fn by_unit(&mut self, field: Field, values: Members, cost: u32, to: usize) {
        self.fitted(Candidate { what: Head::Field(field), head: None, values, before: 0, cost }, to);
    }

    /// Offers a candidate whose values fit its head, with a pair of them read as one number where that fits better.
    fn fitted(&mut self, candidate: Candidate, to: usize) {
        let Candidate { what, head, values, before, cost } = candidate;
        // A fit only adds to the cost: what is dearer already need not be fitted.
        let wins = |cost: u32| self.best[self.from].0.saturating_add(cost) < self.best[to].0;
        if wins(cost)
            && let Some(fit) = fit(what, values.said(self.gathered).as_slice(), before)
        {
            self.offer(to, cost + fit.cost, Group::Fitted { what, head, values, fit });
        }
        let wins = self.best[self.from].0.saturating_add(cost + 1) < self.best[to].0;
        let Some(values) = values.joined(self.gathered).filter(|_| wins) else { return };
        if let Some(fit) = fit(what, values.said(self.gathered).as_slice(), before.min(values.len())) {
            self.offer(to, cost + 1 + fit.cost, Group::Fitted { what, head, values, fit });
        }
    }
}

/// A tilt with no unit stands right after its stance.
fn is_tilt(item: &Item) -> bool {
    match item.kind {
        ItemKind::Value { said: Said { shape: Shape::One(quantity), .. }, .. } => {
            quantity.measure.is_none() && item.gap == 0
        }
        _ => false,
    }
}
