//! A set beside itself with something changed, in words.

use super::numbers::about;
use super::wording::{Words, readable, verdict_code};
use crate::language::{Length, ReplyTrouble};
use crate::message::{Fact, Span, print_short};
use crate::talk::{Compared, Outcome};

/// Where a fact stands that is in no text.
const NOWHERE: Span = Span { start: 0, end: 0 };

impl Words<'_> {
    /// The set as it is, and as it would be.
    pub fn compared(&self, compared: &Compared) -> Result<Vec<String>, ReplyTrouble> {
        let facts: Vec<Fact> =
            compared.changed.iter().map(|value| readable(Fact { value: value.clone(), at: NOWHERE })).collect();
        let [now, then] = [&compared.now, &compared.then].map(|outcome| self.outcome(outcome));
        let values = [("change", print_short(&facts, self.language).into()), ("now", now?.into()), ("then", then?.into())];
        self.wordings("compared", &values)
    }

    fn outcome(&self, outcome: &Outcome) -> Result<String, ReplyTrouble> {
        let verdict = verdict_code(outcome.verdict);
        let water = ("water", self.text(about(outcome.water_m3_day)));
        match outcome.area_m2 {
            Some(area) => {
                let values = [("verdict", verdict.into()), water, ("area", self.text(about(area)))];
                self.language.replies.format("outcome", Length::Long, &values)
            }
            None => self.language.replies.format("outcome-no-need", Length::Long, &[water]),
        }
    }
}
