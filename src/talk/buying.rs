//! What is said of changes and of money.

use super::answer::safety_of;
use super::say::Say;
use super::state::Talk;
use crate::language::Command;
use crate::sizing::Advice;
use crate::sizing::set::verdict::Verdict;

/// The cheapest fix in full and what else would do, or that nothing is to be changed.
pub fn say_changes(talk: &Talk, advice: &Advice) -> Vec<Say> {
    let mut says = Vec::new();
    if advice.sheet.garden_m2.is_none() {
        says.push(Say::Ask { field: crate::language::Field::Garden, beside_answer: false });
        return says;
    }
    if advice.fixes.is_empty() {
        says.push(if advice.verdict == Some(Verdict::Enough) { Say::NothingToChange } else { Say::NoChangeHelps });
    }
    for (place, fix) in advice.fixes.iter().enumerate() {
        says.push(Say::Fix {
            place: place + 1,
            changes: fix.changes.clone(),
            area_m2: fix.area_m2,
            added_cost: fix.added_cost,
            currency: advice.money.currency.clone(),
        });
    }
    says.push(safety_of(talk, advice));
    if advice.fixes.iter().any(|fix| fix.added_cost.is_some_and(|cost| !cost.is_zero())) {
        says.push(Say::NextWord(Command::Cost));
    }
    says
}

/// First cost, yearly cost and payback, with what has no price.
pub fn say_cost(talk: &Talk, advice: &Advice) -> Vec<Say> {
    let money = &advice.money;
    let mut says = vec![Say::Cost(Box::new(money.clone()))];
    if !money.missing.is_empty() {
        says.push(Say::NoPrice(money.missing.clone()));
    }
    says.push(safety_of(talk, advice));
    says.push(Say::NextWord(if advice.verdict == Some(Verdict::Enough) { Command::More } else { Command::Change }));
    says
}
