//! A value that answers the question that was asked, without the word for its field.
//!
//! A number with a unit of the field is its answer whatever stands around it. A number without one is taken where
//! nothing says that it may be of something else:
//!
//! - a word that no language here knows right after it is a unit that is not known, as if it were glued to it: `320 kB`;
//! - of more unknown words than [`MOST_UNKNOWN`] the message is about something else, and the number is asked about.
//!
//! So "its about 1500 i think" answers, and the notice of a photo does not.

use crate::language::Field;

use super::element::{Element, ElementKind};
use super::items::{Alone, Head, Item, ItemKind, Items, Quantity, Shape};

/// Unknown words beside which a number without a unit is still taken for the answer.
const MOST_UNKNOWN: usize = 2;

/// Puts the field that was asked about before the values that may answer it.
pub fn answer(items: &mut Items, list: &[Element], field: Field) {
    let leading = items.items.iter().take_while(|item| matches!(item.kind, ItemKind::Value { .. })).count();
    let mut units = Vec::new();
    for (at, item) in items.items[..leading].iter().enumerate() {
        let is_bare =
            quantity_of(item).is_some_and(|quantity| quantity.measure.is_none() && quantity.unknown_unit.is_none());
        let next = list.partition_point(|element| element.start < item.end);
        let is_unit = |element: &Element| matches!(element.kind, ElementKind::Unknown) && !element.parted;
        if is_bare && list.get(next).is_some_and(is_unit) {
            units.push((at, next));
        }
    }
    let first_is_bare = items.items.first().and_then(quantity_of).is_some_and(|quantity| quantity.measure.is_none());
    if first_is_bare && items.unknown.len().saturating_sub(units.len()) > MOST_UNKNOWN {
        return;
    }
    for (at, unit) in units {
        let Element { start, end, .. } = list[unit];
        let item = &mut items.items[at];
        item.end = end;
        if let ItemKind::Value { said, joined } = &mut item.kind {
            said.end = end;
            *joined = None;
            let (Shape::One(last) | Shape::Counted(last) | Shape::Range(_, last) | Shape::Product(_, last)) =
                &mut said.shape
            else {
                continue;
            };
            last.unknown_unit = u32::try_from(start).ok().zip(u32::try_from(end).ok());
        }
        items.unknown.retain(|&other| other != unit);
    }
    let kind = ItemKind::Head(Head::Field(field), Alone::Quiet);
    if let Some(first) = items.items.first_mut() {
        first.gap = 0;
    }
    items.items.insert(0, Item { kind, start: 0, end: 0, gap: 0, unknown_after: None });
}

/// The last quantity of a value, or the first that has a unit.
fn quantity_of(item: &Item) -> Option<Quantity> {
    let ItemKind::Value { said, .. } = item.kind else { return None };
    match said.shape {
        Shape::One(quantity) | Shape::Counted(quantity) => Some(quantity),
        Shape::Range(first, last) | Shape::Product(first, last) => Some(if first.measure.is_some() { first } else { last }),
        Shape::Clock(..) => None,
    }
}
