//! Numbers in several words, and parts of one said after its unit.

use crate::units::Unit;

use super::element::{Element, ElementKind};
use super::gather::Gatherer;
use super::items::Quantity;

impl Gatherer<'_, '_> {
    /// A number, with the smaller ones in words that go on with it: "two hundred and fifty", "ishirini na tano". Gives the
    /// place after it.
    pub fn spoken(&self, at: usize) -> Option<(f64, usize)> {
        let mut value = self.list.get(at)?.number()?.value;
        let mut next = at + 1;
        if !in_words(&self.list[at]) {
            return Some((value, next));
        }
        while let Some((part, after)) = self.tied(next).filter(|(part, _)| goes_on(value, *part)) {
            value += part;
            next = after;
        }
        Some((value, next))
    }

    /// The half of "7 metres and a half" and the 50 of "7 metres 50", with the place after it.
    pub fn part_after(&self, quantity: &Quantity, next: usize) -> Option<(f64, usize)> {
        let tied = self.tied(next).filter(|(part, after)| *part < 1.0 && *after > next + 1 && !self.is_unit(*after));
        tied.or_else(|| self.centimetres(quantity, next))
    }

    /// A number in words right here, or after one word that carries nothing; with the place after it.
    fn tied(&self, at: usize) -> Option<(f64, usize)> {
        let ties = |element: &Element| {
            element
                .meanings()
                .is_some_and(|meanings| meanings.filler && meanings.joiner.is_none() && meanings.number.is_none())
        };
        let at = at + usize::from(self.list.get(at).is_some_and(|element| !element.parted && ties(element)));
        let element = self.list.get(at).filter(|element| !element.parted && in_words(element))?;
        Some((element.number()?.value, at + 1))
    }

    /// Two digits after metres are centimetres, unless they belong to what follows.
    fn centimetres(&self, quantity: &Quantity, at: usize) -> Option<(f64, usize)> {
        let digits = self.list.get(at).filter(|element| !element.parted && element.end - element.start == 2)?;
        let ElementKind::Number(number) = digits.kind else { return None };
        let spelt = at.checked_sub(1).is_some_and(|unit| self.list[unit].end - self.list[unit].start > 1);
        let metres = quantity.unit() == Some(Unit::Metre) && quantity.number.fract() == 0.0;
        let whole = number.value.fract() == 0.0 && number.value < 100.0;
        (metres && whole && (digits.glued || spelt) && self.ends_here(at + 1)).then_some((number.value / 100.0, at + 1))
    }

    /// Whether what stands here has no use for the number before it: nothing, a sign that parts, a word that carries
    /// nothing, or a field with a number of its own.
    fn ends_here(&self, at: usize) -> bool {
        let Some(element) = self.list.get(at).filter(|element| !element.parted) else { return true };
        let Some(meanings) = element.meanings() else { return false };
        let own = || self.list[at + 1..].iter().find(|next| !next.is_filler()).is_some_and(|next| next.number().is_some());
        let plain = meanings.measure.is_none() && meanings.joiner.is_none() && meanings.number.is_none();
        plain && (meanings.filler || (meanings.field.is_some() && own()))
    }

    fn is_unit(&self, at: usize) -> bool {
        let element = self.list.get(at).filter(|element| !element.parted);
        element.and_then(|element| element.meanings()).is_some_and(|meanings| meanings.measure.is_some())
    }
}

fn in_words(element: &Element) -> bool {
    matches!(element.kind, ElementKind::Word(_))
}

/// Whether a smaller number goes on with a round one.
fn goes_on(value: f64, part: f64) -> bool {
    let round = |unit: f64| value >= unit && value % unit == 0.0 && part < unit;
    let tens = (20.0..100.0).contains(&value) && round(10.0);
    part >= 1.0 && part.fract() == 0.0 && (tens || round(100.0) || round(1000.0))
}
